"""How soon a job could end at best: a day before which no days that keep the rules end.

The largest of these, each reckoned from the facts and the rules, none from days laid out:

- the critical path: order by room, what must dry, lie or set, on the days that are worked;
- the same with the waits that lived-in rooms force: such a room is not opened before the day that
  lays it, nor so late in a week that it can't be whole before days off, unless that was agreed;
- the crew's hours: for work that can't begin before a moment, and that something must follow, all
  its half hours shared by the whole crew from that moment on, and then what must follow.
"""

from __future__ import annotations

from datetime import date, timedelta
from math import ceil

from tests.sweeps.days.alone import may_be_whole_in_time, most_halves
from tests.sweeps.days.held import Facts, RoomOf
from tests.sweeps.days.network import LAY, JobNetwork, WorkSpot, network_of
from tests.sweeps.days.order import Clock

OPENING = ("out", "fixtures_off", "tear_out")
BEFORE_ROWS = (
    "out", "fixtures_off", "base_off", "doors_off", "tear_out", "undercut", "prep",
)  # fmt: skip
DRYING = ("level", "paint")
CLOSING = ("back", "fixtures_on", "doors_on")


def soonest(facts: Facts) -> date:
    """Return the day before which no days that keep the rules end."""
    return _Soonest(facts).ends_on()


class _Soonest:
    """The earliest moments of all work of a job, in hours from the first midnight."""

    def __init__(self, facts: Facts) -> None:
        self.facts, self.clock = facts, Clock(facts)
        # Old floor comes out until the truck leaves with it at the latest, back before all go home.
        runs = sum(hours for (work, _), hours in facts.hours.items() if work == "dump_run")
        self.until_the_run = Clock(facts, less=int(runs * 2 / facts.runs))
        self.net: JobNetwork = network_of(facts)
        self.hands = len(facts.crew)
        self.of_task: dict[tuple[str, str], list[WorkSpot]] = {}
        for spot in self.net.halves:
            self.of_task.setdefault(_task(spot), []).append(spot)
        self.before = {spot: self.net.all_before(spot) for spot in self.net.halves}
        self.opens_at: dict[str, int] = {}
        """By lived-in room the day, counted from the first, before which it can't be opened."""
        self.rooms = [
            room
            for room in facts.rooms
            if room.use and any(self.net.halves[s] for s in self.net.of_room(room, *OPENING))
        ]

    def ends_on(self) -> date:
        """The last day of the job at the soonest."""
        while self._put_off():
            pass
        begins, ends = self._forward(self.opens_at)
        last = max(max(ends.values()), self._of_the_crew(begins))
        return self._date(_day_of(last))

    def _date(self, day: int) -> date:
        return self.facts.first + timedelta(days=day)

    def _forward(
        self, opens_at: dict[str, int]
    ) -> tuple[dict[WorkSpot, float], dict[WorkSpot, float]]:
        """Return when each piece of work begins and ends by the order, waits and clock alone."""
        begins: dict[WorkSpot, float] = {}
        ends: dict[WorkSpot, float] = {}

        def done(spot: WorkSpot) -> float:
            if spot not in ends:
                at = [done(other) + wait for other, wait in self.net.before.get(spot, ())]
                if spot.kind in OPENING and spot.room in opens_at:
                    at.append(opens_at[spot.room] * 24.0)
                at += [self._when_all_is_dry(spot, begins, kind) for kind in DRYING]
                begins[spot] = max(at, default=0.0)
                clock = self.until_the_run if spot.kind == "tear_out" else self.clock
                alone = clock.ends(begins[spot], self.net.on_clock(spot))
                ends[spot] = max(alone, self._with_all_before(spot, begins))
            return ends[spot]

        for spot in self.net.halves:
            done(spot)
        return begins, ends

    def _with_all_before(self, spot: WorkSpot, begins: dict[WorkSpot, float]) -> float:
        """When the crew is through with a piece of work and all that must be done before it."""
        if spot.kind not in (*DRYING, LAY, "carry"):
            return 0.0
        inside = [*self.before[spot], spot]
        return max(
            self.clock.ends(
                begun,
                ceil(self._halves([s for s in inside if begins[s] >= begun]) / self.hands),
            )
            for begun in {begins[s] for s in inside}
        )

    def _when_all_is_dry(self, spot: WorkSpot, begins: dict[WorkSpot, float], kind: str) -> float:
        """When rows may begin after all that dries before them: the crew must be through with it.

        Whichever is poured last, all that is before any of it is done by then, and then it dries.
        """
        wet = [s for s in self.before[spot] if s.kind == kind]
        if spot.kind != LAY or not wet:
            return 0.0
        first = {other for s in wet for other in (s, *self.before[s])}
        through = max(
            self.clock.ends(
                begun,
                ceil(self._halves([s for s in first if begins[s] >= begun]) / self.hands),
            )
            for begun in {begins[s] for s in first}
        )
        return through + {"level": self.facts.cure, "paint": self.facts.dry}[kind]

    def _put_off(self) -> bool:
        """Put the opening of lived-in rooms off as far as the rules force; whether any was."""
        was = dict(self.opens_at)
        for room in self.rooms:
            begins, _ = self._forward(self.opens_at)
            opened = min(begins[s] for s in self._opening(room))
            day = _day_begun(self.clock, opened)
            if self._is_laid_the_same_day(room):
                day = max(day, _day_begun(self.clock, begins[self.net.begins_with[room.name]]))
            while not self._may_be_opened(room, day):
                day += 1
            self.opens_at[room.name] = day
        return self.opens_at != was

    def _opening(self, room: RoomOf) -> list[WorkSpot]:
        return [s for s in self.net.of_room(room, *OPENING) if self.net.halves[s]]

    def _is_laid_the_same_day(self, room: RoomOf) -> bool:
        """Whether it may only be opened on the day that lays it: one day surely holds both."""
        if room.name in self.facts.agreed or room.cures:
            return False
        runs = [hours for (work, _), hours in self.facts.hours.items() if work == "dump_run"]
        before = sum(most_halves(self.facts, room, kind) for kind in BEFORE_ROWS) + sum(
            ceil(h * 2) for h in runs
        )
        return before + 4 <= self.clock.halves * len(self.facts.crew) * 2 / 3

    def _may_be_opened(self, room: RoomOf, day: int) -> bool:
        """Whether a room opened on this day can be whole before days off, or need not be."""
        opened = self._date(day)
        if not self.clock.works(opened):
            return False
        if self.facts.days_off and room.name in self.facts.agreed:
            return True
        if not may_be_whole_in_time(self.facts, room, opened):
            return True
        closed = self._closed(room, day)
        return all(self.clock.works(self._date(later)) for later in range(day, closed))

    def _closed(self, room: RoomOf, day: int) -> int:
        """Return the day on which a room can be lived in again, opened on this day."""
        _, ends = self._forward({**self.opens_at, room.name: day})
        closing = [*self.net.of_room(room, *CLOSING), self.net.ends_with[room.name]]
        rows = self.facts.by_row[room.floor][room.rows[0] - 1 : room.rows[1]]
        inside = self.net.of_room(room, *OPENING)
        if "tear_out" in room.hours:
            inside += self.net.of_room(room, "undercut", "prep", *DRYING)
        inside += self.net.of_room(room, *CLOSING)
        halves = sum(self.net.halves[s] for s in inside) + int(sum(rows) * 2)
        shared = self.clock.ends(day * 24.0, ceil(halves / len(self.facts.crew)))
        return _day_of(max(shared, *(ends[s] for s in closing)))

    def _of_the_crew(self, begins: dict[WorkSpot, float]) -> float:
        """When the whole crew is through with what can't begin sooner, and what follows is done."""
        along = {"dispose": "tear_out", "dump_run": "tear_out", "underlay": LAY}
        heads = dict(begins)
        for spot in self.net.halves:
            first = [at for other, at in begins.items() if other.kind == along.get(spot.kind)]
            heads[spot] = min(first, default=begins[spot])
        tails = self._tails()
        return max(
            self._through(begun, tail, heads, tails)
            for begun in set(heads.values())
            for tail in set(tails.values())
        )

    def _through(
        self, begun: float, tail: int, heads: dict[WorkSpot, float], tails: dict[WorkSpot, int]
    ) -> float:
        inside = [s for s in heads if heads[s] >= begun and tails[s] >= tail]
        halves = self._halves(inside)
        through = self.clock.ends(begun, ceil(halves / len(self.facts.crew)))
        return self.clock.ends(through, tail) if inside else 0.0

    def _halves(self, spots: list[WorkSpot]) -> int:
        """Half hours of these: of a whole task what it is booked with, of a part what is sure."""
        total, there = 0, set(spots)
        for task in {_task(spot) for spot in spots}:
            all_of_it = self.of_task[task]
            if there.issuperset(all_of_it):
                there_at_least = sum(self.net.halves[spot] for spot in all_of_it)
                total += max(ceil(self.facts.hours[task] * 2), there_at_least)
            else:
                total += sum(self.net.halves[spot] for spot in all_of_it if spot in there)
        return total

    def _tails(self) -> dict[WorkSpot, int]:
        """Half hours on the clock that must follow each piece of work, without waits."""
        after: dict[WorkSpot, list[WorkSpot]] = {spot: [] for spot in self.net.halves}
        for spot, befores in self.net.before.items():
            for other, _ in befores:
                after[other].append(spot)
        tails: dict[WorkSpot, int] = {}

        def tail(spot: WorkSpot) -> int:
            if spot not in tails:
                rest = (self.net.on_clock(other) + tail(other) for other in after[spot])
                tails[spot] = max(rest, default=0)
            return tails[spot]

        for spot in after:
            tail(spot)
        return tails


def _task(spot: WorkSpot) -> tuple[str, str]:
    return ("furniture" if spot.kind in ("out", "back") else spot.kind), spot.floor


def _day_of(moment: float) -> int:
    """The day on which something ends."""
    return int((moment - 0.01) // 24)


def _day_begun(clock: Clock, moment: float) -> int:
    """The day on which something is begun that can begin at this moment."""
    return int((clock.ends(moment, 1) - 0.01) // 24)
