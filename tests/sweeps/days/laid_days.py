"""The days of one job as a checker reads them: strokes on one clock, rooms and their rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from math import ceil

from tests.sweeps.days.held import Day, DayLine, Laid, RoomOf, TimeOn
from tests.sweeps.days.order import Clock, kind

A_DAY = 1440
PAIRED = (
    "travel", "underlay", "dispose", "lay", "tear_out",
    "furniture", "fixtures_off", "fixtures_on", "stairs", "carry",
)  # fmt: skip
"""Work that goes along with other work, or that two people are at for an odd half hour."""
FLOOR_WIDE = ("pick_up", "load", "setup", "carry", "clean")


@dataclass(frozen=True)
class TimeSpan:
    """A stroke in minutes from the first midnight."""

    stroke: TimeOn
    begins: int
    ends: int


def _is_in(stroke: TimeOn, room: RoomOf) -> bool:
    """Whether a stroke is in a room, or of the floor as a whole."""
    return not stroke.rooms or room.name in stroke.rooms


class LaidDays:
    """The days of one job on one clock, in minutes from the first midnight."""

    def __init__(self, laid: Laid) -> None:
        self.laid, self.facts = laid, laid.facts
        self.clock = Clock(laid.facts)
        self.spells = [
            TimeSpan(stroke, self._at(day.date, stroke.begins), self._at(day.date, stroke.ends))
            for day in laid.days
            for stroke in day.strokes
        ]
        self.by_kind: dict[str, list[TimeSpan]] = defaultdict(list)
        for spell in self.spells:
            self.by_kind[kind(spell.stroke.work, spell.stroke.part)].append(spell)

    def _at(self, day: date, minutes: int) -> int:
        return (day - self.facts.first).days * A_DAY + minutes

    def _lines(self) -> Iterator[DayLine]:
        for day in self.laid.days:
            yield from day.lines

    def _row_day(self, room: RoomOf, row: int) -> Day:
        """The day on which a row of the room's floor goes down."""
        for day in self.laid.days:
            for line in day.lines:
                here = line.work == "lay" and line.floor == room.floor
                if here and line.rows and line.rows[0] <= row <= line.rows[1]:
                    return day
        raise AssertionError(f"row {row} of {room.floor} is never laid")

    def _laying(self, day: Day, floor: str) -> tuple[int, int]:
        """First and last minute of laying on a floor on a day."""
        there = [s for s in day.strokes if (s.work, s.floor) == ("lay", floor)]
        begins = min(s.begins for s in there)
        return self._at(day.date, begins), self._at(day.date, max(s.ends for s in there))

    def _lay_begins(self, room: RoomOf) -> tuple[int, int]:
        """Moments between which the first row of the room is begun."""
        day = self._row_day(room, room.rows[0])
        begins, ends = self._laying(day, room.floor)
        first = next(
            ln.rows[0] for ln in day.lines if ln.rows and (ln.work, ln.floor) == ("lay", room.floor)
        )
        return begins, begins if first == room.rows[0] else ends

    def _lay_ends(self, room: RoomOf) -> int:
        """The first moment at which the last row of the room may be down."""
        day = self._row_day(room, room.rows[1])
        begins, ends = self._laying(day, room.floor)
        last = next(
            ln.rows[1] for ln in day.lines if ln.rows and (ln.work, ln.floor) == ("lay", room.floor)
        )
        return ends if last == room.rows[1] else begins

    def _in_room(self, name: str, room: RoomOf) -> list[TimeSpan]:
        return [
            spell
            for spell in self.by_kind[name]
            if (spell.stroke.floor == room.floor and _is_in(spell.stroke, room))
            or name in FLOOR_WIDE
        ]

    def _between(self, first: date, last: date) -> list[date]:
        return [first + timedelta(days=n) for n in range((last - first).days)]

    def _halves_in(self, room: RoomOf, *works: str) -> int:
        spent = [
            s.ends - s.begins
            for s in self.spells
            if room.name in s.stroke.rooms and kind(s.stroke.work, s.stroke.part) in works
        ]
        return sum(spent) // 30

    def _laying_halves(self, room: RoomOf) -> int:
        rows = room.rows[1] - room.rows[0] + 1
        spent = self._spent("lay", room.floor) * 2
        return ceil(spent * rows / self.facts.rows[room.floor])

    def _run(self, day: date) -> int:
        length = 0
        while self.clock.works(day + timedelta(days=length)) and length < 14:
            length += 1
        return length

    def _spent(self, work: str, floor: str) -> Decimal:
        there = [s for s in self.spells if (s.stroke.work, s.stroke.floor) == (work, floor)]
        return Decimal(sum(s.ends - s.begins for s in there)) / 60

    def _opened(self, room: RoomOf) -> date | None:
        spells = [
            s
            for name in ("out", "fixtures_off", "tear_out")
            for s in self.by_kind[name]
            if room.name in s.stroke.rooms
        ]
        if not spells:
            return None
        return self.facts.first + timedelta(days=min(s.begins for s in spells) // A_DAY)

    def _closed(self, room: RoomOf) -> date:
        back = [
            s
            for name in ("back", "fixtures_on", "doors_on")
            for s in self.by_kind[name]
            if room.name in s.stroke.rooms
        ]
        last = self._row_day(room, room.rows[1]).date
        days = [self.facts.first + timedelta(days=s.ends // A_DAY) for s in back]
        return max([last, *days])
