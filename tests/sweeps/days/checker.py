"""Holds the days of a job against the rules of the trade; imports nothing of what laid them out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from math import ceil

from tests.sweeps.days.alone import may_be_whole_in_time
from tests.sweeps.days.habits import bad_habits
from tests.sweeps.days.held import Day, Facts, Laid, RoomOf
from tests.sweeps.days.laid_days import A_DAY, PAIRED, LaidDays, TimeSpan
from tests.sweeps.days.order import BEFORE


class Checker(LaidDays):
    """The days of one job, and what is wrong with them."""

    def faults(self) -> list[str]:
        """Return every fault in words; none where the days are as they must be."""
        checks = (
            self._people, self._hours, self._order, self._waits,
            self._together, self._furniture, self._hauled, self._short_days, self._lived_in,
            self._nights, self._stairs, self._habits,
        )  # fmt: skip
        lost = [*self._calendar(), *self._rows()]
        return lost or [fault for check in checks for fault in check()]

    def _calendar(self) -> Iterator[str]:
        dates = [day.date for day in self.laid.days]
        if dates != sorted(set(dates)) or dates[0] < self.facts.first:
            yield f"calendar: {dates} do not follow each other from {self.facts.first}"
        yield from (f"calendar: {day} is not worked" for day in dates if not self.clock.works(day))

    def _people(self) -> Iterator[str]:
        """Half hours, nobody at two things at once, nobody before or after their day."""
        leg = ceil(self.facts.drive / len(self.facts.crew) / 2 * 4) * 15
        hours = {worker.name: worker.hours for worker in self.facts.crew}
        for day in self.laid.days:
            busy: dict[str, int] = {}
            for stroke in sorted(day.strokes, key=lambda s: s.begins):
                opens = self.facts.starts * 60
                closes = opens + hours[stroke.person] * 60 - leg
                if stroke.begins < opens + leg or stroke.ends > closes:
                    yield f"capacity: {stroke} on {day.date} is beyond the day"
                if (stroke.ends - stroke.begins) % 30 or (stroke.begins - opens - leg) % 30:
                    yield f"half hour: {stroke} on {day.date}"
                if stroke.begins < busy.get(stroke.person, 0):
                    yield f"capacity: {stroke.person} is at two things on {day.date}"
                busy[stroke.person] = stroke.ends

    def _hours(self) -> Iterator[str]:
        exact: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
        booked: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
        for line in self._lines():
            exact[line.work, line.floor] += line.hours
            booked[line.work, line.floor] += line.booked
            if line.booked * 2 % 1:
                yield f"half hour: {line}"
        for key, hours in self.facts.hours.items():
            if key[0] == "travel":
                continue
            if exact[key] != hours:
                yield f"hours: {key} has {exact[key]}, its work {hours}"
            if booked[key] != Decimal(ceil(hours * 2)) / 2:
                yield f"hours: {key} is booked {booked[key]} for {hours}"
        yield from self._on_the_clock(booked)

    def _on_the_clock(self, booked: dict[tuple[str, str], Decimal]) -> Iterator[str]:
        """What is booked is worked; who goes along takes half hours of the same people."""
        for (work, floor), there in booked.items():
            more = self._spent(work, floor) - there
            if work not in PAIRED and not 0 <= more <= Decimal(self._small(work, floor)) / 2:
                yield f"hours: {work} of {floor} does not take {there} on the clock"
        for main, along in (("lay", "underlay"), ("tear_out", "dispose")):
            for floor in {zone for _, zone in booked}:
                there = booked[main, floor] + booked[along, floor]
                if self._spent(main, floor) + self._spent(along, floor) != there:
                    yield f"hours: {main} of {floor} does not take {there} on the clock"

    def _small(self, work: str, floor: str) -> int:
        """Rooms whose own half hour may be booked with another's: under one, beside such rooms.

        Rooms lived in are opened on days of their own and leveler does not wait for the room beside
        it, so nothing in them is done along with others.
        """
        rooms = [r for r in self.facts.rooms if r.floor == floor and work in r.hours]
        small = sum(room.hours[work] < Decimal("0.5") for room in rooms)
        return small if any(room.use or "level" in room.hours for room in rooms) else 0

    def _rows(self) -> Iterator[str]:
        for floor, last in self.facts.rows.items():
            rows = [
                row
                for line in self._lines()
                if line.work == "lay" and line.floor == floor and line.rows
                for row in range(line.rows[0], line.rows[1] + 1)
            ]
            if rows != list(range(1, last + 1)):
                yield f"rows: {floor} has {rows}, not 1 to {last}"

    def _order(self) -> Iterator[str]:
        for room in self.facts.rooms:
            _, at_latest = self._lay_begins(room)
            down = self._lay_ends(room)
            for name, befores in BEFORE.items():
                for other in befores:
                    if name == "lay":
                        late = [s for s in self._in_room(other, room) if s.ends > at_latest]
                    elif other == "lay":
                        late = [s for s in self._in_room(name, room) if s.begins < down]
                    else:
                        late = self._late(name, other, room)
                    yield from (
                        f"order: {name} in {room.name} against {other}, {spell}" for spell in late
                    )

    def _late(self, name: str, other: str, room: RoomOf) -> list[TimeSpan]:
        begins = [s.begins for s in self._in_room(name, room)]
        return [s for s in self._in_room(other, room) if begins and s.ends > min(begins)]

    def _waits(self) -> Iterator[str]:
        for room in self.facts.rooms:
            _, at_latest = self._lay_begins(room)
            for name, hours in (("level", self.facts.cure), ("paint", self.facts.dry)):
                for spell in self._in_room(name, room):
                    if spell.ends + hours * 60 > at_latest:
                        yield f"wait: {room.name} is laid {hours} h after {name} at the earliest"
            poured = max((s.ends for s in self._in_room("level", room)), default=-A_DAY)
            for spell in self._in_room("paint", room):
                if spell.begins < poured + self.facts.bears * 60:
                    yield f"wait: {room.name} is painted before its leveler bears steps, {spell}"
        for floor, hours in self.facts.acclimate.items():
            carried = max((s.ends for s in self.by_kind["carry"]), default=0)
            begun = min(s.begins for s in self.by_kind["lay"] if s.stroke.floor == floor)
            if carried + hours * 60 > begun:
                yield f"wait: cartons of {floor} lie for less than {hours} h"

    def _together(self) -> Iterator[str]:
        """Furniture and stairs are never one person's where there are two."""
        if len(self.facts.crew) < 2:
            return
        for name in ("out", "back", "stairs"):
            for spell in self.by_kind[name]:
                beside = [
                    s
                    for s in self.by_kind[name]
                    if (s.begins, s.ends) == (spell.begins, spell.ends)
                    and s.stroke.room == spell.stroke.room
                ]
                if len(beside) != 2:
                    yield f"two people: {len(beside)} at {name}, {spell}"

    def _furniture(self) -> Iterator[str]:
        for (work, floor), hours in self.facts.hours.items():
            if work == "furniture" and hours:
                for part in ("out", "back"):
                    if not any(s.stroke.floor == floor for s in self.by_kind[part]):
                        yield f"furniture: nobody moves it {part} on {floor}"

    def _hauled(self) -> Iterator[str]:
        """What is torn out leaves the house the same day."""
        for floor in self.facts.rows:
            torn = hauled = Decimal(0)
            all_torn = self.facts.hours.get(("tear_out", floor), Decimal(0))
            all_hauled = self.facts.hours.get(("dispose", floor), Decimal(0))
            if not all_torn or not all_hauled:
                continue
            for day in self.laid.days:
                of_day = [ln for ln in day.lines if ln.floor == floor]
                torn += sum(ln.hours for ln in of_day if ln.work == "tear_out")
                hauled += sum(ln.hours for ln in of_day if ln.work == "dispose")
                if torn / all_torn - hauled / all_hauled > Decimal("0.5") / all_hauled:
                    yield f"haul away: {floor} has old floor in the house after {day.date}"
        yield from self._driven_off()

    def _driven_off(self) -> Iterator[str]:
        """Old floor goes to the dump on the day it comes out, after the last of it."""
        runs, torn_out = self.by_kind["dump_run"], self.by_kind["tear_out"]
        last = {s.ends // A_DAY: s.ends for s in sorted(torn_out, key=lambda s: s.ends)}
        for day, ends in last.items() if runs else ():
            if not any(s.begins // A_DAY == day and s.begins >= ends for s in runs):
                date = self.facts.first + timedelta(days=day)
                yield f"haul away: what comes out on {date} is not driven off on that day"

    def _pending(self, day: Day) -> bool:
        """Whether something waits by the clock when a day ends."""
        ends = max(self._at(day.date, s.ends) for s in day.strokes)
        waits = [
            (s, hours)
            for name, hours in (("level", self.facts.cure), ("paint", self.facts.dry))
            for s in self.by_kind[name]
        ]
        lying = max(self.facts.acclimate.values(), default=0)
        waits += [(s, lying) for s in self.by_kind["carry"]]
        if self.facts.passes == 2:
            waits += [(s, 12) for s in self.by_kind["stairs"] if s.stroke.part == "odd"]
        return any(s.ends <= ends < s.ends + hours * 60 for s, hours in waits)

    def _short_days(self) -> Iterator[str]:
        days = self.laid.days
        for place, day in enumerate(days):
            begins = min(s.begins for s in day.strokes)
            on_site = max(s.ends for s in day.strokes) - begins
            beside = self._pending(day) or (place > 0 and self._pending(days[place - 1]))
            if on_site < 120 and len(days) > 1 and not beside:
                yield f"two hours: {on_site} min on {day.date}, day {place + 1} of {len(days)}"

    def _lived_in(self) -> Iterator[str]:
        """No such room is opened before the day that lays it, nor left so over days off.

        Nights that were agreed to let it be opened sooner; over days off only where that was said.
        """
        for room in self.facts.rooms:
            opened = self._opened(room)
            if not room.use or opened is None:
                continue
            laid = self._row_day(room, room.rows[0]).date
            agreed = room.name in self.facts.agreed or room.cures
            if opened != laid and not agreed and self._fits_a_day(room):
                yield f"lived in: {room.use} {room.name} is opened {opened}, laid {laid}"
            closed = self._closed(room)
            off = [d for d in self._between(opened, closed) if not self.clock.works(d)]
            said = self.facts.days_off and room.name in self.facts.agreed
            if off and not said and may_be_whole_in_time(self.facts, room, opened):
                yield f"lived in: {room.use} {room.name} is open over {off[0]}"

    def _fits_a_day(self, room: RoomOf) -> bool:
        """Whether what is before the first row leaves room for that row on one day."""
        before = self._halves_in(
            room, "out", "fixtures_off", "base_off", "doors_off", "tear_out", "undercut", "prep"
        )
        runs = sum(s.ends - s.begins for s in self.by_kind["dump_run"]) // 30
        return before + runs + 4 <= self.clock.halves * len(self.facts.crew) * 2 / 3

    def _nights(self) -> Iterator[str]:
        for room in self.facts.rooms:
            opened = self._opened(room)
            if not room.use or opened is None:
                continue
            nights = (self._closed(room) - opened).days
            if nights != self.laid.nights.get(room.name, 0):
                yield f"nights: {room.name} has {nights}, {self.laid.nights.get(room.name, 0)} said"

    def _habits(self) -> Iterator[str]:
        yield from bad_habits(self)

    def _stairs(self) -> Iterator[str]:
        odd = [s for s in self.by_kind["stairs"] if s.stroke.part == "odd"]
        even = [s for s in self.by_kind["stairs"] if s.stroke.part == "even"]
        if self.facts.passes == 2 and not (odd and even):
            yield "stairs: not in two passes"
        for first in odd:
            if any(
                first.stroke.floor == s.stroke.floor and s.begins < first.ends + 720 for s in even
            ):
                yield "stairs: the second pass begins before the first has set"


def faults_of(laid: Laid) -> list[str]:
    """Return what is wrong with the days of a job."""
    return Checker(laid).faults()


def facts_in_words(facts: Facts) -> str:
    """Return a job in short."""
    uses = ", ".join(room.use or "room" for room in facts.rooms)
    return f"{len(facts.crew)} people, {uses}, {sum(facts.hours.values())} h"
