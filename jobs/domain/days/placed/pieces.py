"""Pieces of work as they stand on days: spells of people, put together by task, room and day."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise
from typing import Any

from jobs.domain.checks import BadValueError
from jobs.domain.numerals import whole_number

QUARTERS_A_DAY = 96
Moment = tuple[date, int]
"""A day, and quarters of an hour since its midnight."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedSpell:
    """What one person is at on a day without a break; `begins` and `ends` are quarters.

    `also` are further rooms that the same half hours do.
    """

    day: date
    person: str
    task: str
    room: str
    part: str
    begins: int
    ends: int
    also: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What the piece of work that it is of is called: task, room, part and day."""
        return "/".join((self.task, self.room, self.part, self.day.isoformat()))


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedPiece:
    """What is done of one task in one room on one day, from its first stroke to its last."""

    key: str
    day: date
    task: str
    room: str
    part: str
    begins: int
    ends: int
    people: tuple[str, ...]
    also: tuple[str, ...] = ()

    @property
    def rooms(self) -> tuple[str, ...]:
        """The rooms that it is in; none where it is the floor's or the house's."""
        return (self.room, *self.also) if self.room else ()

    @property
    def start(self) -> Moment:
        """When it begins."""
        return self.day, self.begins

    @property
    def end(self) -> Moment:
        """When it ends."""
        return self.day, self.ends


def quarter_of(clock: str) -> int:
    """Return the quarters since midnight of a time of day: 8:15. Raises BadValueError."""
    hour, minute = (whole_number(part) for part in clock.partition(":")[::2])
    if hour is None or minute is None:
        raise BadValueError(field="clock", value=clock, accepted="a time of day as 8:15")
    return hour * 4 + minute // 15


def clock_of(quarters: int) -> str:
    """Return quarters since midnight as people say them: 8:15, 1:30."""
    hour, quarter = divmod(quarters % QUARTERS_A_DAY, 4)
    return f"{(hour - 1) % 12 + 1}:{quarter * 15:02d}"


def spells_of(day: date, lanes: Iterable[Mapping[str, Any]]) -> list[PlacedSpell]:
    """Return the lanes of a day as they are stored, as spells."""
    return [
        PlacedSpell(
            day=day,
            person=lane["person"],
            task=lane["task"],
            room=lane["room"],
            part=lane["part"],
            begins=quarter_of(lane["begins"]),
            ends=quarter_of(lane["ends"]),
            also=tuple(lane.get("also", ())),
        )
        for lane in lanes
    ]


def pieces_of(spells: Iterable[PlacedSpell]) -> list[PlacedPiece]:
    """Return the pieces that these spells are of, in the order in which they begin."""
    by_key: dict[str, list[PlacedSpell]] = {}
    for spell in spells:
        by_key.setdefault(spell.key, []).append(spell)
    pieces = [_piece(key, same) for key, same in by_key.items()]
    return sorted(pieces, key=lambda piece: (piece.start, piece.end))


def strokes_of(spells: Iterable[PlacedSpell], cuts: Collection[Moment] = ()) -> list[PlacedPiece]:
    """Return each spell as a piece of one person; rows are cut at these moments."""
    strokes = []
    for spell in spells:
        marks = [spell.begins, spell.ends]
        if spell.task.startswith("lay"):
            inside = {at for day, at in cuts if day == spell.day}
            marks = sorted({*marks, *(at for at in inside if spell.begins < at < spell.ends)})
        for begins, ends in pairwise(marks):
            key = f"{spell.key}/{spell.person}/{begins}"
            strokes.append(_piece(key, [replace(spell, begins=begins, ends=ends)]))
    return sorted(strokes, key=lambda stroke: (stroke.start, stroke.end))


def _piece(key: str, spells: Sequence[PlacedSpell]) -> PlacedPiece:
    first = spells[0]
    return PlacedPiece(
        key=key,
        day=first.day,
        task=first.task,
        room=first.room,
        part=first.part,
        begins=min(spell.begins for spell in spells),
        ends=max(spell.ends for spell in spells),
        people=tuple(dict.fromkeys(spell.person for spell in spells)),
        also=tuple(dict.fromkeys(room for spell in spells for room in spell.also)),
    )


def later(moment: Moment, hours: Decimal) -> Moment:
    """Return the moment so many hours of the clock later, a begun quarter counted whole."""
    quarters = moment[1] - int(-hours * 4 // 1)
    return moment[0] + timedelta(days=quarters // QUARTERS_A_DAY), quarters % QUARTERS_A_DAY


@dataclass(frozen=True, kw_only=True, slots=True)
class SiteClock:
    """Hours that a crew could be at work between moments: the dates that are worked, from-to."""

    dates: tuple[date, ...]
    opens: int
    closes: int

    def at(self, moment: Moment) -> Decimal:
        """Return the hours that could be worked before this moment."""
        day, quarter = moment
        whole = sum(one < day for one in self.dates) * (self.closes - self.opens)
        part = min(max(quarter, self.opens), self.closes) - self.opens if day in self.dates else 0
        return Decimal(whole + part) / 4
