"""How a crew works through its tasks, hour by hour, on one day after another.

Installers take the first task that is ready and stay with it; helpers take the first of the tasks
that a helper may do; where installers have nothing of their own they lend a hand. Laying stops
after a whole row. Work is counted in hundredths of a man-hour, time in hours from the midnight
before the first day, both exactly.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.domain.checks import require_choice
from jobs.domain.days.critical_path import in_working_order
from jobs.domain.tasks import Task

HUNDREDTHS = 100


@dataclass(slots=True)
class TaskProgress:
    """How far one task is: hundredths of man-hours left, and when it was done."""

    task: Task
    left: Fraction
    done_at: Fraction | None = None
    rows_noted: int = 0

    @property
    def row_ends(self) -> tuple[int, ...]:
        """After how many hundredths each row is down: even shares, whole and summing exactly."""
        count, total = self.task.row_count, int(self.task.hours * HUNDREDTHS)
        return tuple(total * row // count for row in range(1, count + 1))

    @property
    def done(self) -> Fraction:
        """Hundredths of man-hours done."""
        return int(self.task.hours * HUNDREDTHS) - self.left

    @property
    def rows_down(self) -> int:
        """Rows that are down."""
        return bisect_right(self.row_ends, self.done) if self.done else 0

    def can_do(self, most: Fraction, whole_day: Fraction) -> Fraction:
        """Return the hundredths to do of at most `most`; whole rows, unless a day is too short."""
        if not self.task.row_count:
            return min(self.left, most)
        ends = self.row_ends
        reached = bisect_right(ends, self.done + most)
        if reached and ends[reached - 1] > self.done:
            return ends[reached - 1] - self.done
        start = ends[reached - 1] if reached else 0
        return most if ends[reached] - start > whole_day else Fraction(0)


class TaskBoard:
    """All tasks of a job in working order, and who is at what."""

    def __init__(self, tasks: Sequence[Task], *, people: int, helpers: int) -> None:
        """Put every task on the board, nothing done."""
        by_key = {task.key: task for task in tasks}
        order = in_working_order({task.key: task.after for task in tasks})
        self.progress = {
            key: TaskProgress(task=by_key[key], left=Fraction(by_key[key].hours) * HUNDREDTHS)
            for key in order
        }
        self.people = people
        self.helpers = helpers
        self.not_before: dict[str, Fraction] = {}

    def hold_back(self, key: str, moment: Fraction) -> None:
        """Let a task not begin before `moment`; raises BadValueError for an unknown task."""
        require_choice("not before", key, self.progress)
        self.not_before[key] = moment

    @property
    def finished(self) -> bool:
        """Whether everything is done."""
        return all(entry.done_at is not None for entry in self.progress.values())

    def ready_at(self, entry: TaskProgress) -> Fraction | None:
        """Return when a task may begin, waits included; None while something before is undone."""
        moment = self.not_before.get(entry.task.key, Fraction(0))
        for key in entry.task.after:
            before = self.progress[key]
            if before.done_at is None:
                return None
            moment = max(moment, before.done_at + Fraction(before.task.wait_hours_after))
        return moment

    def work_a_day(self, opens: Fraction, closes: Fraction) -> dict[str, int]:
        """Work from `opens` to `closes`; return hundredths done by task, in order of beginning."""
        begun: dict[str, Fraction] = {}
        now, at = opens, None
        self._settle()
        while now < closes:
            hands = self._hands(now, opens, closes, at)
            following = self._next_ready(now, closes)
            if not hands:
                if following is None:
                    break
                now = following
                continue
            at = hands[0][0]
            ends = [closes, *([] if following is None else [following])]
            ends += [now + amount / (workers * HUNDREDTHS) for _, workers, amount in hands]
            step = min(ends) - now
            now += step
            for entry, workers, _ in hands:
                begun.setdefault(entry.task.key, entry.left)
                entry.left -= step * workers * HUNDREDTHS
                entry.done_at = None if entry.left else now
            self._settle()
        return self._whole_hundredths(begun)

    def _hands(
        self, now: Fraction, opens: Fraction, closes: Fraction, at: TaskProgress | None
    ) -> list[tuple[TaskProgress, int, Fraction]]:
        """Who works at what: task, workers, hundredths that they may do before they look up."""
        ready = [entry for entry in self.progress.values() if self._is_ready(entry, now)]
        helping = next((entry for entry in ready if entry.task.helper), None)
        most = (closes - now) * self.people * HUNDREDTHS
        whole_day = (closes - opens) * self.people * HUNDREDTHS
        for_installers = [entry for entry in ready if not entry.task.helper]
        for_installers.sort(key=lambda entry: entry is not at)
        laying = next((entry for entry in for_installers if entry.can_do(most, whole_day)), None)
        hands: list[tuple[TaskProgress, int, Fraction]] = []
        if laying is not None:
            hands.append((laying, self.people, laying.can_do(most, whole_day)))
        if helping is not None:
            workers = self.helpers + (self.people if laying is None else 0)
            if workers:
                hands.append((helping, workers, helping.left))
        return hands

    def _is_ready(self, entry: TaskProgress, now: Fraction) -> bool:
        if entry.done_at is not None:
            return False
        moment = self.ready_at(entry)
        return moment is not None and moment <= now

    def _next_ready(self, now: Fraction, closes: Fraction) -> Fraction | None:
        moments = [
            moment
            for entry in self.progress.values()
            if entry.done_at is None
            and (moment := self.ready_at(entry)) is not None
            and now < moment < closes
        ]
        return min(moments, default=None)

    def _settle(self) -> None:
        """Tasks without hours of ours are done as soon as what they wait for is."""
        for entry in self.progress.values():
            if entry.done_at is None and not entry.left:
                entry.done_at = self.ready_at(entry)

    def _whole_hundredths(self, begun: Mapping[str, Fraction]) -> dict[str, int]:
        """Round the day's work of unfinished tasks down; what is cut off stays to be done."""
        done: dict[str, int] = {}
        for key, left in begun.items():
            entry = self.progress[key]
            done[key] = int(left - entry.left)
            entry.left = left - done[key]
        return {key: amount for key, amount in done.items() if amount}
