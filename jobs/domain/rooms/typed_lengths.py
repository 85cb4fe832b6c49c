"""Lengths as they were typed in a room, and what is wrong with them. Pure.

One walk may hold lengths of both systems where each names its unit. A bare number is in the job's
unit, so beside lengths of the other system nobody can tell what was meant: it is refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jobs.domain.lengths import core_length_words
from jobs.domain.rooms.typed import TypedWall
from layout.values.errors import InputError
from layout.values.units import IMPERIAL, Unit, parse_length, unit_named

_WORDS = {
    Unit.INCH: "inches",
    Unit.FOOT: "feet",
    Unit.MILLIMETER: "millimeters",
    Unit.CENTIMETER: "centimeters",
    Unit.METER: "meters",
}
CLOSES_IN = 200  # a walk may miss by one part in so many; common practice, no source
CLOSES_WITHIN = {"in": 0.5, "mm": 13.0}  # and by this much at any rate
_MINUS = ("-", "\u2212")


class MeasureError(ValueError):
    """What was typed makes no room: at which row, which field, and why, in a sentence.

    ``part`` is "wall", "hole", "diagonal" or "bow", or "room" for the outline as a whole; ``row``
    counts from 0.
    """

    def __init__(self, sentence: str, *, part: str = "room", row: int = 0, field: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.part = part
        self.row = row
        self.field = field


def length_of(text: str, unit: str, *, part: str, row: int, field: str) -> float:
    """Return typed text as a length in the job's unit; a minus in front makes it less than zero.

    Raises MeasureError naming the row.
    """
    sign, size = (-1, text[1:]) if text[:1] in _MINUS else (1, text)
    if size.strip() == "0":
        return 0.0
    try:
        length = parse_length(size, bare=Unit(unit))
    except InputError as bad:
        raise MeasureError(f"“{text}” is no length.", part=part, row=row, field=field) from bad
    return sign * float(length.mm if unit == "mm" else length.inches)


def unit_notes(walls: Sequence[TypedWall], unit: str) -> list[str]:
    """Return a sentence for every wall typed in the other system than the job's.

    Raises MeasureError at a bare number among such walls.
    """
    named = [unit_named(wall.length) for wall in walls]
    others = [n for n, each in enumerate(named) if each and _other(each, unit)]
    if not others:
        return []
    other = _WORDS[named[others[0]] or Unit.METER]
    for row, each in enumerate(named):
        if each is None:
            text, usual = walls[row].length, _WORDS[Unit(unit)]
            raise MeasureError(
                f"“{text}” names no unit, and wall {others[0] + 1} was typed in {other}; accepted: "
                f"{text} {unit} where it is in {usual}, or the unit it was read in.",
                part="wall",
                row=row,
                field="length",
            )
    return list(_notes(walls, named, unit))


def _notes(walls: Sequence[TypedWall], named: Sequence[Unit | None], unit: str) -> Iterator[str]:
    for row, each in enumerate(named):
        if each and _other(each, unit):
            text = walls[row].length
            length = length_of(text, unit, part="wall", row=row, field="length")
            read = core_length_words(length, unit)
            yield f"Wall {row + 1} was typed in {_WORDS[each]}: {text} is read as {read}."


def _other(named: Unit, unit: str) -> bool:
    return (named in IMPERIAL) != (Unit(unit) in IMPERIAL)
