"""Whether a product may lie where it is to be laid: faults that stop it, notes on what isn't known.

What the maker's sheet says of a place is held against what the visit found. A place that the
sheet rules out is a fault; what it does not say, or what nobody looked at, is a note. Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.domain.floors.rule_sources import RULES
from jobs.domain.site.moisture import METHODS, Method, Reading

DRY, DAMP, WET = "dry", "damp", "wet"
WETNESS: Mapping[str, int] = {DRY: 0, DAMP: 1, WET: 2}
WET_WORDS: Mapping[str, str] = {DRY: "dry", DAMP: "damp at times", WET: "wet"}

GROUNDS: Mapping[str, str] = {
    "slab": "a concrete slab",
    "wood subfloor": "a wood subfloor",
    "resilient": "sheet or tile, resilient",
    "tile": "ceramic or stone tile",
    "wood floor": "a wood floor",
    "laminate": "floating plank",
    "carpet": "carpet",
}
"""What a floor may lie on, as the product's field names it, and how it is called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """What a product asks of the place it lies in. Empty or None: its sheet doesn't say.

    ``sources``: where each rule comes from, by the name of the product's field.
    """

    product: str
    laid_over: tuple[str, ...] = ()
    wettest: str = ""
    heated_floor: str = ""
    separate_pad: str = ""
    attached_pad: bool = False
    limits: Mapping[str, Decimal | None] = field(default_factory=dict)
    sources: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteConditions:
    """What is known of the place: ``ground`` of `GROUNDS`, empty where not known yet.

    ``rooms``: how wet each room gets, by its name; ``heated`` is None where nobody looked.
    """

    ground: str = ""
    heated: bool | None = None
    pad: bool = False
    rooms: Mapping[str, str] = field(default_factory=dict)
    readings: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """Why a product may not lie somewhere: the rule, what was found, what is accepted, whence."""

    rule: str
    text: str
    accepted: str
    source: str

    @property
    def sentence(self) -> str:
        """The fault as it stands on a page."""
        return f"{self.text}; accepted: {self.accepted} ({self.source})."


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitness:
    """What stops a product here, and what is not known."""

    faults: tuple[Misfit, ...]
    notes: tuple[str, ...]


def fitness(demands: Demands, place: SiteConditions) -> Fitness:
    """Return the faults of a product in a place, and notes on what can't be told yet."""
    checks = (_ground, _rooms, _heated, _pad, _moisture)
    remarks = [each for check in checks for each in check(demands, place)]
    unsaid = _unsaid(demands, place)
    return Fitness(
        faults=tuple(each for each in remarks if isinstance(each, Misfit)),
        notes=(*unsaid, *(each for each in remarks if isinstance(each, str))),
    )


def _fault(demands: Demands, rule: str, text: str, accepted: str) -> Misfit:
    source = demands.sources.get(rule, "source not noted")
    return Misfit(rule=rule, text=text, accepted=accepted, source=source)


def _ground(demands: Demands, place: SiteConditions) -> Iterator[Misfit | str]:
    """What lies below: the subfloor, or the old floor that stays."""
    if demands.laid_over and not place.ground:
        yield "Not known yet: what the floor is laid over."
    elif demands.laid_over and place.ground not in demands.laid_over:
        below = GROUNDS.get(place.ground, place.ground)
        allowed = _either([GROUNDS.get(each, each) for each in demands.laid_over])
        text = f"{demands.product} would lie over {below}"
        yield _fault(demands, "laid_over", text, f"over {allowed}")


def _rooms(demands: Demands, place: SiteConditions) -> Iterator[Misfit]:
    """Rooms that get wetter than the product may stand in."""
    if demands.wettest not in WETNESS:
        return
    most = WET_WORDS[demands.wettest]
    for name, moisture in place.rooms.items():
        if WETNESS.get(moisture, 0) > WETNESS[demands.wettest]:
            text = f"{name} is {WET_WORDS[moisture]}"
            accepted = "dry rooms" if demands.wettest == DRY else f"rooms up to {most}"
            yield _fault(demands, "wettest", text, f"{accepted} for {demands.product}")


def _heated(demands: Demands, place: SiteConditions) -> Iterator[Misfit]:
    """A heated floor under a product that can't stand it."""
    if place.heated and demands.heated_floor == "no":
        text = f"The floor is heated and {demands.product} is not laid over a heated floor"
        yield _fault(demands, "heated_floor", text, "a floor that is not heated")


def _pad(demands: Demands, place: SiteConditions) -> Iterator[Misfit]:
    """A separate pad under an attached one, or where none is allowed."""
    if not place.pad:
        return
    if demands.attached_pad:
        text = f"A separate pad is to lie under {demands.product}, which has its pad attached"
        yield _fault(demands, "separate_pad", text, "no separate pad under it")
    elif demands.separate_pad == "no":
        text = f"A separate pad is to lie under {demands.product}"
        yield _fault(demands, "separate_pad", text, "no separate pad")


def _moisture(demands: Demands, place: SiteConditions) -> Iterator[Misfit | str]:
    """Readings over the product's limit for their method; at the limit is within it."""
    for reading in place.readings:
        method = METHODS[reading.method]
        limit = demands.limits.get(method.limit_field)
        where = f" ({reading.where})" if reading.where else ""
        if limit is None:
            yield f"{method.label}{where} was read; the sheet of {demands.product} names no limit."
        elif reading.value > limit:
            text = f"{method.label}{where} is {_with_unit(reading.value, method)}"
            yield _fault(demands, method.limit_field, text, f"up to {_with_unit(limit, method)}")
    if not place.readings and any(limit is not None for limit in demands.limits.values()):
        yield "No moisture reading is noted yet; the product has a limit."


def _with_unit(value: Decimal, method: Method) -> str:
    return f"{value.normalize():f}{'' if method.unit == '%' else ' '}{method.unit}"


def _unsaid(demands: Demands, place: SiteConditions) -> list[str]:
    """Return the note of what the sheet doesn't say though it matters here; empty if nothing."""
    missing = [
        rule
        for rule, matters in (
            ("laid_over", not demands.laid_over),
            ("wettest", not demands.wettest),
            ("heated_floor", bool(place.heated) and not demands.heated_floor),
            ("separate_pad", place.pad and not demands.attached_pad and not demands.separate_pad),
        )
        if matters
    ]
    if not missing:
        return []
    named = ", ".join(RULES[rule][:1].lower() + RULES[rule][1:] for rule in missing)
    return [f"The sheet of {demands.product} doesn't say: {named}."]


def _either(words: list[str]) -> str:
    """Return words with "or" before the last."""
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))
