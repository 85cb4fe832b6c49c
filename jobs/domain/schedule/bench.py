"""One day, half hour by half hour: who takes which step, and how far it comes.

Whoever is at a step stays with it until it is done. Somebody free takes the first step in the order
of the trade that is ready, has room for one more and that they may do; a step for two begins when
two are free, and keeps both.
"""

from bisect import bisect_right
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field

from jobs.domain.schedule.halves import QUARTERS_A_HALF
from jobs.domain.schedule.people import CrewPerson
from jobs.domain.schedule.step import Step, StepNeed
from jobs.domain.schedule.trade import phase_of


@dataclass(slots=True)
class StepProgress:
    """How far a step is: halves done, when each of its stops was reached, when it was done.

    `met_at` is when all that it waits for is met, kept once that is known; `looked` how much was
    done on the bench when it was not yet.
    """

    done: int = 0
    stops_at: tuple[int, ...] = ()
    done_at: int | None = None
    met_at: int | None = None
    looked: int = -1


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkSpell:
    """Half hours that one person works at a step without a break; moments are quarters."""

    person: int
    key: str
    begins: int
    ends: int


@dataclass(frozen=True, kw_only=True, slots=True)
class DayRules:
    """What bounds one day: its opening, halves by person, rooms that may be opened, caps by step.

    `first` are steps that are taken before all others, in their order, then those that are `begun`.
    """

    opens: int
    halves: Sequence[int]
    rooms: Collection[str]
    caps: Mapping[str, int] = field(default_factory=dict)
    first: Collection[str] = ()
    begun: Collection[str] = ()


def pours(steps: Sequence[Step]) -> frozenset[str]:
    """Return leveler and what makes its rooms ready for it: so it is poured the same evening."""
    rooms = {
        (step.task.zone, room)
        for step in steps
        if step.task.code == "level"
        for room in step.rooms or ("",)
    }
    return frozenset(
        step.key
        for step in steps
        if step.task.code in ("undercut", "prep", "level")
        if any((step.task.zone, room) in rooms for room in step.rooms or ("",))
    )


class WorkBench:
    """All steps of a job, how far each is, and the people who work on them."""

    def __init__(
        self,
        steps: Sequence[Step],
        people: Sequence[CrewPerson],
        *,
        not_before: Mapping[str, int],
        guarded: Mapping[str, str],
    ) -> None:
        """Put every step on the bench; `guarded` are steps that open a room, by that room."""
        self.steps = {step.key: step for step in steps}
        self.order = [step.key for step in steps]
        self.people = people
        self.not_before = not_before
        self.guarded = guarded
        self.progress = {step.key: StepProgress() for step in steps}
        self.waits_only = tuple(step.key for step in steps if not step.halves)
        self.pours = pours(steps)
        self.before_pours = frozenset(key for one in self.pours for key in self.steps[one].waits_for)
        self.changes = 0

    def copy(self) -> "WorkBench":
        """Return a bench as far as this one."""
        other = WorkBench((), self.people, not_before=self.not_before, guarded=self.guarded)
        other.steps, other.order, other.waits_only = self.steps, self.order, self.waits_only
        other.changes, other.pours = self.changes, self.pours
        other.before_pours = self.before_pours
        other.progress = {
            key: StepProgress(
                done=it.done,
                stops_at=it.stops_at,
                done_at=it.done_at,
                met_at=it.met_at,
                looked=it.looked,
            )
            for key, it in self.progress.items()
        }
        return other

    @property
    def finished(self) -> bool:
        """Whether everything is done."""
        return all(it.done_at is not None for it in self.progress.values())

    def able(self, person: int, step: Step) -> bool:
        """Whether one of the people may do a step."""
        task, along = step.task, step.along
        for_helpers = task.helper and (along is None or along.helper)
        return self.people[person].may_do(task.code, for_helpers=for_helpers)

    def whole_day(self, step: Step, halves: Sequence[int]) -> int:
        """Return the halves of a step that a day holds which has nothing else."""
        each = [most for person, most in enumerate(halves) if self.able(person, step)]
        return sum(sorted(each)[-step.most :])

    def stop_of(self, key: str) -> int:
        """Return how many stops of a step are behind it."""
        return len(self.progress[key].stops_at)

    def met_at(self, needs: Sequence[StepNeed], step: Step) -> int | None:
        """Return when these needs are met, waits included; None while one is not."""
        moment = self.not_before.get(step.task.key, 0)
        for need in needs:
            if not need.key:
                moment = max(moment, need.since)
                continue
            before = self.progress[need.key]
            wait = self.steps[need.key].wait if need.dry else need.least
            if need.stop and len(before.stops_at) >= need.stop:
                moment = max(moment, before.stops_at[need.stop - 1] + wait)
            elif before.done_at is not None:
                moment = max(moment, before.done_at + wait)
            else:
                return None
        return moment

    def ready_at(self, key: str) -> int | None:
        """Return when a step may begin, or go on past its next gate; None while nobody knows."""
        step, it = self.steps[key], self.progress[key]
        if it.met_at is None:
            if it.looked == self.changes:
                return None
            it.looked, it.met_at = self.changes, self.met_at(step.needs, step)
        moment, reached = it.met_at, len(it.stops_at) + 1
        for stop, needs in step.gates.items():
            if moment is None or stop > reached:
                break
            met = self.met_at(needs, step)
            moment = None if met is None else max(moment, met)
        return moment

    def room_for(self, key: str, now: int, cap: int | None) -> int:
        """Return the halves of a step that may be done now, up to its next closed gate."""
        step, it = self.steps[key], self.progress[key]
        most = step.halves if cap is None else min(cap, step.halves)
        for stop, needs in step.gates.items():
            met = self.met_at(needs, step)
            if met is None or met > now:
                most = min(most, step.stops[stop - 2].halves if stop > 1 else 0)
                break
        return most - it.done

    def settle(self, now: int) -> None:
        """Let steps without hours of ours be done as soon as what they wait for is."""
        again = True
        while again:
            again = False
            for key in self.waits_only:
                it = self.progress[key]
                if it.done_at is None and (moment := self.ready_at(key)) is not None:
                    it.done_at, again = moment, True
                    self.changes += 1

    def work(self, rules: DayRules) -> list[WorkSpell]:
        """Work one day by these rules; return who was at what, in order of beginning."""
        day = _Day(self, rules)
        for half in range(max(rules.halves, default=0)):
            day.half(half)
        return day.spells()

    def advance(self, key: str, halves: int, now: int) -> None:
        """Take so many halves of a step as done at a moment."""
        step, it = self.steps[key], self.progress[key]
        it.done += halves
        if step.stops:
            behind = bisect_right(step.stops, it.done, key=lambda stop: stop.halves)
            it.stops_at += (now,) * (behind - len(it.stops_at))
            self.changes += 1
        if it.done >= step.halves:
            it.done_at = now
            self.changes += 1


class _Day:
    """A day in the making: who is at which step, and what was done so far."""

    def __init__(self, bench: WorkBench, rules: DayRules) -> None:
        self.bench, self.rules = bench, rules
        self.at: dict[int, str] = {}
        self.story: dict[int, str] = {}
        self.made: list[tuple[int, str, int]] = []
        first = {key: place for place, key in enumerate((*rules.first, *rules.begun))}
        undone = [key for key in bench.order if bench.progress[key].done_at is None]
        self.order = sorted(undone, key=lambda key: first.get(key, len(first)))
        self.pressing = [key for key in self.order if key in rules.first]
        self.pours = [key for key in undone if key in bench.pours]

    def half(self, number: int) -> None:
        """Work one half hour."""
        now = self.rules.opens + number * QUARTERS_A_HALF
        self.bench.settle(now)
        here = [person for person, most in enumerate(self.rules.halves) if number < most]
        teams = self._stay(here, now)
        free = [person for person in here if person not in self.at]
        if self.pressing:
            free = self._called_away(free, teams, now, self.pressing)
        if self.pours:
            free = self._called_away(free, teams, now, self.pours)
        if free:
            self._join(free, teams, now)
        then = now + QUARTERS_A_HALF
        for key, team in teams.items():
            left = self._left(key, now)
            self.bench.advance(key, min(len(team), left), then)
            self.made += [(person, key, now) for person in team]
            self.story |= dict.fromkeys(team, self.bench.steps[key].task.zone)
        self.bench.settle(then)

    def _left(self, key: str, now: int) -> int:
        return self.bench.room_for(key, now, self.rules.caps.get(key))

    def _stay(self, here: Sequence[int], now: int) -> dict[str, list[int]]:
        """Return by step those who stay with what they were at."""
        teams: dict[str, list[int]] = {}
        for person, key in list(self.at.items()):
            left = self._left(key, now) if person in here else 0
            together = self.bench.steps[key].people > 1
            taken = len(teams.get(key, ()))
            if left > taken or (left > 0 and together):
                teams.setdefault(key, []).append(person)
            else:
                del self.at[person]
        return teams

    def _called_away(
        self, free: Sequence[int], teams: dict[str, list[int]], now: int, keys: Sequence[str]
    ) -> list[int]:
        """Let people leave what can wait for what can't; return who is still free.

        Who carries something with another stays, and who tears out does so for leveler elsewhere.
        """
        steps = self.bench.steps
        was = {
            person: key
            for person, key in self.at.items()
            if key not in self.pressing and steps[key].people == 1
            if keys is self.pressing or phase_of(steps[key].task.code, steps[key].part)
        }
        pool = sorted((*free, *was))
        self._take(pool, teams, now, self.bench.able, keys)
        for person, key in was.items():
            if person not in pool:
                teams[key].remove(person)
                if not teams[key]:
                    del teams[key]
        return [person for person in pool if person not in was]

    def _join(self, free: list[int], teams: dict[str, list[int]], now: int) -> None:
        """Put everybody who is free to the first step that takes them.

        Beside helpers installers leave helpers' tasks alone while they have something of their own.
        """
        people = self.bench.people
        if any(person.helper for person in people):
            helpers = {number for number, person in enumerate(people) if person.helper}
            own = lambda one, step: (one in helpers) == step.task.helper  # noqa: E731
            self._take(free, teams, now, own, self.order)
        self._take(free, teams, now, self.bench.able, self.order)

    def _take(
        self,
        free: list[int],
        teams: dict[str, list[int]],
        now: int,
        takes: Callable[[int, Step], bool],
        keys: Sequence[str],
    ) -> None:
        for key in keys:
            if not free:
                return
            if self.bench.progress[key].done_at is not None or not self._may_begin(key, now):
                continue
            step, left = self.bench.steps[key], self._left(key, now)
            able = [one for one in free if takes(one, step) and self.bench.able(one, step)]
            if keys is self.order:
                able = [one for one in able if not self._has_nearer(one, step, teams, now)]
            team = teams.get(key, [])
            at_once = min(step.people, self._hands(step))
            if left <= 0 or not able or (not team and len(able) < at_once):
                continue
            most = max(min(step.most, left), at_once) - len(team)
            if step.task.helper:  # the lead stays with what is the lead's
                able.reverse()
            for person in able[: max(0, most)]:
                teams.setdefault(key, []).append(person)
                self.at[person] = key
                free.remove(person)

    def _has_nearer(
        self, person: int, step: Step, teams: Mapping[str, Sequence[int]], now: int
    ) -> bool:
        """Whether somebody finds work of the same phase on the story where they are."""
        story = self.story.get(person)
        if not story or not step.task.zone or story == step.task.zone:
            return False
        phase = phase_of(step.task.code, step.part)
        for key in self.order:
            other = self.bench.steps[key]
            if other.task.zone != story or phase_of(other.task.code, other.part) != phase:
                continue
            if other.people > 1 or not self.bench.able(person, other):
                continue
            if self.bench.progress[key].done_at is None and self._may_begin(key, now):
                room = min(other.most, self._left(key, now)) - len(teams.get(key, ()))
                if room > 0:
                    return True
        return False

    def _hands(self, step: Step) -> int:
        """How many of the crew who are here today may do it at all."""
        here = [person for person, most in enumerate(self.rules.halves) if most]
        return max(1, sum(self.bench.able(person, step) for person in here))

    def _may_begin(self, key: str, now: int) -> bool:
        room = self.bench.guarded.get(key)
        if room is not None and room not in self.rules.rooms:
            return False
        moment = self.bench.ready_at(key)
        return moment is not None and moment <= now

    def spells(self) -> list[WorkSpell]:
        """Return the day's half hours, those of one person at one step put together."""
        spells: list[WorkSpell] = []
        last: dict[int, int] = {}
        for person, key, now in self.made:
            place = last.get(person)
            before = spells[place] if place is not None else None
            if before is not None and before.key == key and before.ends == now:
                spells[place or 0] = WorkSpell(
                    person=person, key=key, begins=before.begins, ends=now + QUARTERS_A_HALF
                )
                continue
            last[person] = len(spells)
            spells.append(WorkSpell(person=person, key=key, begins=now, ends=now + QUARTERS_A_HALF))
        return spells
