"""How a plank floor is cared for: what its maker says, then what is common practice. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.documents import stored

PRACTICE = "Common practice, no source"
_WET = {
    "dry": "For rooms that stay dry: wipe up water at once.",
    "damp": "For rooms that are damp at times: wipe up water the same day.",
    "wet": "For wet rooms too.",
}
_HEATED = {
    "yes": "May lie on a heated floor.",
    "no": "Not for a heated floor.",
}
_EVERY_FLOOR = (
    "Sweep it, or vacuum without a turning brush. Sand scratches.",
    "Mop it damp, not wet. No steam mop, no wax, no oil soap.",
    "Felt under chair and table legs; look at the felt twice a year.",
    "The floor moves a little as a whole: fix nothing through it, no doorstop and no cabinet.",
    "Leave the gap at the walls free: no caulk under the base.",
)
_BY_CORE: Mapping[str, Sequence[str]] = {
    "rigid": (
        "No rubber-backed mats: rubber stains vinyl.",
        "Draw the blinds where the sun lies on it for hours: vinyl grows when it is hot.",
    ),
    "laminate": ("Never leave water standing: the edges swell and stay swollen.",),
    "wood": (
        "Keep the air of the room at 35 to 55% relative humidity: wood shrinks and swells.",
        "Sunlight changes the color of wood: move rugs now and then.",
    ),
}


@stored("text source")
@dataclass(frozen=True, kw_only=True, slots=True)
class CareLine:
    """One thing to know of a floor, and who says so."""

    text: str
    source: str


def care_of(
    core: str, *, wettest: str, heated: str, sources: Mapping[str, str]
) -> tuple[CareLine, ...]:
    """Return how a floor with this core is cared for, the maker's words first.

    ``wettest`` and ``heated`` are what its sheet says, empty where it says nothing; ``sources``
    tells by the name of the fact where that stands.
    """
    said = [
        CareLine(text=words[value], source=sources.get(fact, ""))
        for fact, words, value in (("wettest", _WET, wettest), ("heated_floor", _HEATED, heated))
        if value in words
    ]
    practice = (*_EVERY_FLOOR, *_BY_CORE.get(core, ()))
    return (*said, *(CareLine(text=text, source=PRACTICE) for text in practice))
