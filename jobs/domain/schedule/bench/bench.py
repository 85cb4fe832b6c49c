"""All steps of a job, how far each is, and when each may begin."""

from bisect import bisect_right
from collections.abc import Mapping, Sequence

from jobs.domain.schedule.bench.loads import Truck
from jobs.domain.schedule.bench.values import StepProgress
from jobs.domain.schedule.people import CrewPerson
from jobs.domain.schedule.step import Step, StepNeed
from jobs.domain.schedule.trade import OUT


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


def followers(steps: Sequence[Step]) -> dict[str, list[str]]:
    """Return by step those that wait for it, or for a part of it."""
    by_step: dict[str, list[str]] = {step.key: [] for step in steps}
    for step in steps:
        for key in step.waits_for:
            by_step.setdefault(key, []).append(step.key)
    return by_step


class WorkBench:
    """All steps of a job, how far each is, and the people who work on them."""

    def __init__(
        self,
        steps: Sequence[Step],
        people: Sequence[CrewPerson],
        *,
        not_before: Mapping[str, int],
        guarded: Mapping[str, str],
        held: Mapping[str, int],
    ) -> None:
        """Put every step on the bench; `guarded` are steps that open a room, by that room.

        `held` are moments before which steps are not begun, by their keys.
        """
        self.held = held
        self.steps = {step.key: step for step in steps}
        self.order = [step.key for step in steps]
        self.people = people
        self.not_before = not_before
        self.guarded = guarded
        self.progress = {step.key: StepProgress() for step in steps}
        self.waits_only = tuple(step.key for step in steps if not step.halves)
        self.pours = pours(steps)
        self.before_pours = frozenset(
            key for one in self.pours for key in self.steps[one].waits_for
        )
        outs = (s for s in steps if s.part == OUT or s.task.code == "doors_off")
        self.outs = tuple(step.key for step in outs if step.halves)
        self.rows = tuple(step.key for step in steps if step.task.code == "lay")
        self.followers = followers(steps)
        self.looked: dict[str, int | None] = {}
        """By step when it may begin, where nothing changed since that was looked at."""
        self.truck = Truck(steps)

    def copy(self) -> "WorkBench":
        """Return a bench as far as this one."""
        other = WorkBench(
            (),
            self.people,
            not_before=self.not_before,
            guarded=self.guarded,
            held=self.held,
        )
        other.steps, other.order, other.waits_only = self.steps, self.order, self.waits_only
        other.followers, other.pours = self.followers, self.pours
        other.outs, other.rows = self.outs, self.rows
        other.looked = dict(self.looked)
        other.before_pours, other.truck = self.before_pours, self.truck.copy()
        other.progress = {
            key: StepProgress(
                done=it.done,
                stops_at=it.stops_at,
                done_at=it.done_at,
                met_at=it.met_at,
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

    def met_at(self, needs: Sequence[StepNeed], step: Step) -> int | None:
        """Return when these needs are met, waits included; None while one is not."""
        moment = self.held.get(step.key, 0)
        if self.not_before:
            moment = max(moment, self.not_before.get(step.task.key, 0))
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
        step = self.steps[key]
        if 0 < step.load < step.task.passes:
            return self._load_at(step)
        if key not in self.looked:
            self.looked[key] = self._ready_at(step)
        return self.looked[key]

    def _ready_at(self, step: Step) -> int | None:
        it = self.progress[step.key]
        if it.met_at is None:
            it.met_at = self.met_at(step.needs, step)
        moment, reached = it.met_at, len(it.stops_at) + 1
        for stop, needs in step.gates.items():
            if moment is None or stop > reached:
                break
            met = self.met_at(needs, step)
            moment = None if met is None else max(moment, met)
        return moment

    def _load_at(self, step: Step) -> int | None:
        """Return when a run before the last one may leave: once old floor is on the truck."""
        met = self.met_at(step.needs, step)
        all_out = all(self.progress[key].done_at is not None for key in self.truck.old_floor)
        begun = self.progress[step.key].done > 0
        if met is None or not (self.truck.loaded or all_out or begun):
            return None
        return max(met, self.truck.out_at)

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
                    self._changed(key)

    def advance(self, key: str, halves: int, now: int) -> None:
        """Take so many halves of a step as done at a moment."""
        step, it = self.steps[key], self.progress[key]
        self.truck.advance(key, halves, now, begins=not it.done)
        it.done += halves
        if step.stops:
            behind = bisect_right(step.stops, it.done, key=lambda stop: stop.halves)
            it.stops_at += (now,) * (behind - len(it.stops_at))
        if it.done >= step.halves:
            it.done_at = now
        if step.stops or it.done_at is not None:
            self._changed(key)

    def _changed(self, key: str) -> None:
        """Forget when a step, and what waits for it, may begin."""
        self.looked.pop(key, None)
        for other in self.followers.get(key, ()):
            self.looked.pop(other, None)
