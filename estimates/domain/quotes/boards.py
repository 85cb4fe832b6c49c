"""Another plank as a choice of a quote: what it is called, and what follows from it. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.quotes.plain_words import STRIPS, called_all, in_letters
from estimates.domain.quotes.sold import SoldFloor
from estimates.domain.quotes.wording import CORES
from jobs.domain.figures import length
from jobs.domain.site.facts import LevelChange

LONGEST_NAME = 60
_SIZES = (
    ("thickness_in", "Thicker plank", "Thinner plank", "thick"),
    ("width_in", "Wider plank", "Narrower plank", "wide"),
    ("length_in", "Longer plank", "Shorter plank", "long"),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class BoardWords:
    """What another plank is called beside the one as priced, what that one is, what follows."""

    name: str
    against: str
    text: str


def board_words(
    now: SoldFloor, then: SoldFloor, *, rise_in: Decimal, floors: Sequence[str], system: str
) -> BoardWords:
    """Return the words of a plank in place of another.

    ``rise_in``: by how much the floor stands higher with it; ``floors``: where it lies, empty for
    everywhere.
    """
    name, against = _names(now, then)
    on = f" in {called_all(floors)}" if floors else ""
    if len(name + on) > LONGEST_NAME:
        on = ""
    sentences = [_size(now, then, system), _rise(rise_in, system)]
    return BoardWords(
        name=f"{name[:LONGEST_NAME]}{on}",
        against=against[:LONGEST_NAME],
        text=" ".join(filter(None, sentences)),
    )


def _names(now: SoldFloor, then: SoldFloor) -> tuple[str, str]:
    for field, more, less, _ in _SIZES:
        one, other = getattr(now, field), getattr(then, field)
        if other != one:
            return (more, less) if other > one else (less, more)
    cores = CORES.get(then.core, then.product), CORES.get(now.core, now.product)
    return cores if cores[0] != cores[1] else (then.product, now.product)


def _size(now: SoldFloor, then: SoldFloor, system: str) -> str:
    """Return the first size that differs, both in words."""
    for field, _, _, word in _SIZES:
        one, other = getattr(now, field), getattr(then, field)
        if one != other:
            mine, theirs = (_length(each, system) for each in (other, one))
            return f"The plank is {mine} {word} in place of {theirs}."
    return ""


def _rise(rise_in: Decimal, system: str) -> str:
    if not rise_in:
        return ""
    word = "higher" if rise_in > 0 else "lower"
    return f"The floor stands {_length(abs(rise_in), system)} {word}."


def plank_words(floors: Sequence[SoldFloor], system: str) -> str:
    """Return what planks are laid, as a consequence of a choice: rigid vinyl plank, ¼ in thick."""
    each = [
        f"{CORES.get(floor.core, 'plank').lower()}, {_length(floor.thickness_in, system)} thick, "
        f"{_length(floor.width_in, system)} wide"
        for floor in floors
    ]
    return "; ".join(dict.fromkeys(each))


def step_words(steps: Sequence[LevelChange]) -> str:
    """Return what changes in level at the doors: the tile ⅜ in higher, a sloped strip."""
    return "; ".join(dict.fromkeys(map(_step, steps))) or "level"


def _step(step: LevelChange) -> str:
    strip = STRIPS.get(step.strip, ("", ""))[0]
    said = f"{step.beyond or 'the floor beyond'} stands {in_letters(step.said)}"
    return f"{said}, {strip}" if strip else said


def _length(inches: Decimal, system: str) -> str:
    return in_letters(length(inches, system))
