"""The days of a job, one after another: each the best that the rules of the trade allow.

A day is tried with ever more lived-in rooms opened, and kept where each of them is laid the same
day, and those that were open before are still whole in time.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import DayRules
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.halves import QUARTERS_A_DAY, QUARTERS_A_HALF
from jobs.domain.schedule.leaving import best_with_runs, day_by, stands_overnight
from jobs.domain.schedule.lived_in import LivedIn, guards, kept_on, lived_in
from jobs.domain.schedule.people import Team
from jobs.domain.schedule.step import Step
from jobs.domain.schedule.trade import KEPT_AT, LAY

YEAR = 366
FORTNIGHT = 14
LEAST_HALVES = 4
"""No day of less than two hours on site, unless it stands beside a wait."""
STANDS_EMPTY = 2 * QUARTERS_A_DAY
"""A room that is ready for its rows does not stand so for more than these quarters of an hour."""

_Tried = tuple[int, date, frozenset[str], tuple[str, ...]]


class NoDayError(Exception):
    """Nothing can be worked for a year since the last day."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Setting:
    """What the days are planned for: steps, people, first day, days that are worked, agreements.

    `agreed` are rooms whose nights the homeowner agreed to: they may be opened before the day that
    lays them. Whether also over days off stands with each. `short` are half hours on site of days
    that end early. `carried_first`: flooring leaves the truck before all else. `long` are rooms
    that are open over days off though they waited for the longest stretch: where they need all of
    it they don't wait. `patient`: nothing is torn out on a day for little. `held` are moments
    before which steps are not begun. Rooms `at_leisure` may be open over days off: they are emptied
    on the day their work begins. Not `kindly`: emptied and torn out as ends the job soonest.
    `pours_last`: leveler waits for the day's tear-out. `quick`: the best of fixed orders will do.
    """

    steps: tuple[Step, ...]
    team: Team
    start: date
    working: Callable[[date], bool]
    not_before: Mapping[str, date] = field(default_factory=dict)
    agreed: Mapping[str, bool] = field(default_factory=dict)
    short: Mapping[date, int] = field(default_factory=dict)
    carried_first: bool = True
    long: frozenset[str] = frozenset()
    patient: bool = False
    held: Mapping[str, int] = field(default_factory=dict)
    at_leisure: frozenset[str] = frozenset()
    kindly: bool = True
    pours_last: bool = False
    quick: bool = False


class DayPlan:
    """Days in the making."""

    def __init__(
        self, setting: Setting, shut: Mapping[date, int], held: Mapping[str, int] | None = None
    ) -> None:
        self.setting, self.shut = setting, shut
        rooms = lived_in(setting.steps, setting.team.size or len(setting.team.people))
        self.rooms = {room.name: room for room in rooms}
        since = setting.start
        not_before = {k: (d - since).days * QUARTERS_A_DAY for k, d in setting.not_before.items()}
        self.bench = WorkBench(
            setting.steps,
            setting.team.people,
            not_before=not_before,
            guarded=guards(tuple(self.rooms.values())),
            held={**setting.held, **(held or {})},
        )
        self.tried: dict[_Tried, tuple[WorkBench, WorkedDay | None]] = {}
        """Days that were tried before, by their bench, date and rooms; each holds its bench."""
        kept = KEPT_AT if setting.kindly else (LAY,)
        self.kept_at = tuple(s.key for s in setting.steps if s.task.code in kept)
        first = (s.key for s in setting.steps if s.task.code == "carry" and setting.carried_first)
        self.trucked = (*first, *self.bench.truck.runs)

    def days(self, instead: WorkedDay | None = None, until: date | None = None) -> list[WorkedDay]:
        """Return all days until everything is done, from the start or `instead` of this day on.

        Days that go on after `until` are left there, unfinished.
        """
        days: list[WorkedDay] = []
        day, idle = self.setting.start, 0
        if instead is not None:
            day, self.bench = instead.date, instead.before
        self.bench.settle(0)
        while not self.bench.finished:
            made = self._best(day) if self.setting.working(day) else None
            if made is not None:
                days.append(made)
                self.bench, idle = made.after, -1
                if until is not None and day > until:
                    return days
            idle += 1
            day += timedelta(days=1)
            if idle > YEAR:
                raise NoDayError(days[-1].date if days else self.setting.start)
        return days

    def _best(self, day: date) -> WorkedDay | None:
        """Return the day with as many rooms opened as may be; None where nothing can be done."""
        opened = [name for name, room in self.rooms.items() if room.is_opened(self.bench)]
        best = self._tried(self.bench, day, opened)
        allowed = list(opened)
        whole = [
            name
            for name in opened
            if best is not None
            and not self.rooms[name].is_closed(self.bench)
            and self._closes_in_time(self.rooms[name], best)
        ]
        for names in self._together(opened):
            more = [name for name in names if name not in allowed]
            # Where nights were agreed a room waits for its turn: what must dry goes first.
            pressing = not all(self.setting.agreed.get(name) for name in more)
            for first in ((), more) if pressing else ((),):
                tried = self._tried(self.bench, day, [*allowed, *more], first)
                fresh = [*allowed[len(opened) :], *more]
                if (
                    tried is not None
                    and all(self._may_open(self.rooms[n], tried) for n in fresh)
                    and all(self._closes_in_time(self.rooms[n], tried) for n in whole)
                ):
                    best = tried
                    allowed += more
                    whole += [n for n in more if self._closes_in_time(self.rooms[n], tried)]
                    break
        if best is None and not self._waits_now(day):
            best = self._forced(day, opened)
        return None if best is not None and self._is_in_vain(best) else best

    def _is_in_vain(self, made: WorkedDay) -> bool:
        """Whether nobody would drive out for it: under two hours, and more can be done later.

        That is where it begins late, after a wait, or where something waits when it ends. Work that
        something then waits for is never in vain.
        """
        after = made.after
        late = min(spell.begins for spell in made.spells) > made.opens
        if made.on_site >= LEAST_HALVES or after.finished or not (late or made.waits):
            return False
        return not any(
            after.steps[key].wait
            and it.done_at is not None
            and made.before.progress[key].done_at is None
            for key, it in after.progress.items()
        )

    def _waits_now(self, day: date) -> bool:
        """Whether the clock alone will bring something to do after this day."""
        closes = ((day - self.setting.start).days + 1) * QUARTERS_A_DAY
        moments = (
            self.bench.ready_at(key)
            for key, it in self.bench.progress.items()
            if it.done_at is None
        )
        lying = (
            it.done_at + self.bench.steps[key].wait
            for key, it in self.bench.progress.items()
            if it.done_at is not None
        )
        opens = closes - QUARTERS_A_DAY + self.setting.team.opens
        return any(m is not None and m > opens for m in moments) or any(m > opens for m in lying)

    def _together(self, opened: Collection[str]) -> list[list[str]]:
        """Return what may be opened at once: each room, or all whose rows run on in each other."""
        alone = [name for name in self.rooms if name not in opened]
        made = [[name] for name in alone]
        for name in alone:
            inside = [name]
            for one in inside:
                inside += [
                    n for n in alone if n not in inside and self.rooms[n].shares(self.rooms[one])
                ]
            if len(inside) > 1 and set(inside) not in [set(names) for names in made]:
                made.append(inside)
        return made

    def _forced(self, day: date, opened: Sequence[str]) -> WorkedDay | None:
        """Open the next room where no day would ever lay it at once: its nights are counted."""
        for name in [one for one in self.rooms if one not in opened]:
            tried = self._tried(self.bench, day, [*opened, name], (name,))
            if tried is None or not self.rooms[name].is_opened(tried.after):
                continue
            room = self.rooms[name]
            if self._closes_in_time(room, tried) or self._no_later_day_is_better(room, day):
                return tried
        return None

    def _may_open(self, room: LivedIn, tried: WorkedDay) -> bool:
        """Whether a room may be opened on this day: laid from the same day, and whole in time."""
        if not room.is_opened(tried.after):
            return False
        if room.name not in self.setting.agreed:
            if not self._begins_in_time(room, tried):
                return False
        elif self._is_for_nobody(room, tried):
            return False
        elif self.setting.agreed[room.name]:
            return True
        return self._closes_in_time(room, tried) or self._no_later_day_is_better(room, tried.date)

    def _is_for_nobody(self, room: LivedIn, tried: WorkedDay) -> bool:
        """Whether the room would stand open on a day nobody comes, for next to nothing.

        Something must dry in it, or two hours be worked in it before days off.
        """
        if room.is_closed(tried.after):
            return False
        day = tried.date + timedelta(days=1)
        if not self.setting.working(day):
            spent = sum(s.ends - s.begins for s in tried.spells if s.key in room.steps)
            return spent < LEAST_HALVES * QUARTERS_A_HALF
        opened = [name for name, one in self.rooms.items() if one.is_opened(tried.after)]
        following = self._tried(tried.after, day, opened)
        return not room.waits and (following is None or self._is_in_vain(following))

    def _no_later_day_is_better(self, room: LivedIn, day: date) -> bool:
        """Whether the room would be open over days off whenever it were opened; this day is first.

        Nights are then to be agreed with the homeowner.
        """
        days = room.days(self._shortest(day))
        soon = (day + timedelta(days=later) for later in range(FORTNIGHT))
        longest = max(self._run(start) for start in soon)
        if days == longest and room.name in self.setting.long:
            return True
        return days > longest or (not self._works_before(day) and self._run(day) >= longest)

    def _shortest(self, day: date) -> int:
        """Return the half hours of whoever has the shortest day among those who are there."""
        return min((halves for halves in self.setting.team.halves(day) if halves), default=1)

    def _run(self, day: date) -> int:
        """Return how many days from this one on are worked without a day off between."""
        length = 0
        while length < FORTNIGHT and self.setting.working(day + timedelta(days=length)):
            length += 1
        return length

    def _begins_in_time(self, room: LivedIn, tried: WorkedDay) -> bool:
        """Whether its first row goes down the same day, or once it is dry, or as soon as may be.

        A room that must dry, or whose floor comes out for longer than a day, has nights anyhow.
        """
        halves = self._shortest(tried.date)
        long = room.before > halves or bool(room.waits)
        day, bench = tried.date, tried.after
        while not room.is_begun(bench):
            ready = room.ready_at(bench)
            closes = ((day - self.setting.start).days + 1) * QUARTERS_A_DAY
            if ready is None and not long:
                return False
            if ready is not None and ready + STANDS_EMPTY < closes:
                return False
            if ready is not None and day == tried.date and not long:
                return False
            following = self._next(bench, day)
            if following is None:
                return False
            day, bench = following
        return True

    def _closes_in_time(self, room: LivedIn, tried: WorkedDay) -> bool:
        """Whether the room can be lived in again before days on which nobody works."""
        day, bench = tried.date, tried.after
        while not room.is_closed(bench):
            if self._gap_after(day) > 1:
                return False
            following = self._next(bench, day)
            if following is None:
                return False
            day, bench = following
        return True

    def _next(self, bench: WorkBench, day: date) -> tuple[date, WorkBench] | None:
        """Return the next worked day with nothing more opened, and the bench after it."""
        day += timedelta(days=self._gap_after(day))
        opened = [name for name, one in self.rooms.items() if one.is_opened(bench)]
        following = self._tried(bench, day, opened)
        if following is None and (day - self.setting.start).days > YEAR:
            return None
        return day, bench if following is None else following.after

    def _gap_after(self, day: date) -> int:
        """Return the days until the next one that is worked."""
        for later in range(1, YEAR):
            if self.setting.working(day + timedelta(days=later)):
                return later
        return YEAR

    def _works_before(self, day: date) -> bool:
        """Whether the day before is worked; if not, this is as early in a week as can be."""
        before = day - timedelta(days=1)
        return before >= self.setting.start and self.setting.working(before)

    def _tried(
        self, bench: WorkBench, day: date, rooms: Collection[str], first: Collection[str] = ()
    ) -> WorkedDay | None:
        """Return the day with these rooms open, ending at stops that may be left; None: no work."""
        place = id(bench), day, frozenset(rooms), tuple(first)
        if place not in self.tried:
            rules = self._rules(bench, day, rooms, first)
            made = day_by(rules, bench, day)
            if made is not None and stands_overnight(made):
                made = best_with_runs(made, rules, day, patient=self.setting.patient)
            self.tried[place] = bench, made
        return self.tried[place][1]

    def _rules(
        self, bench: WorkBench, day: date, rooms: Collection[str], first: Collection[str]
    ) -> DayRules:
        team, most = self.setting.team, self.shut.get(day, QUARTERS_A_DAY)
        going_on = [
            name
            for name in self.rooms
            if name in rooms
            if self.rooms[name].is_opened(bench) and not self.rooms[name].is_closed(bench)
            if not self.setting.agreed.get(name)
        ]
        # The bath is whole again before any other room, and a room whose rows are begun.
        begins = {n: (r.use != "bath", not r.is_begun(bench)) for n, r in self.rooms.items()}
        going_on.sort(key=begins.__getitem__)
        begun = [key for key in self.kept_at if bench.progress[key].done]
        named = [self.rooms[name] for name in (*going_on, *first)]
        worked_after = self.setting.working(day + timedelta(days=1))
        kept = self.rooms if self.setting.kindly else ()
        return DayRules(
            opens=(day - self.setting.start).days * QUARTERS_A_DAY + team.opens,
            halves=tuple(min(most, halves) for halves in team.halves(day)),
            rooms=rooms,
            first=(*self.trucked, *(key for room in named for key in room.first_steps())),
            begun=begun,
            kept=kept_on(kept, self.setting.at_leisure, worked_after=worked_after),
            pours_last=self.setting.pours_last,
        )
