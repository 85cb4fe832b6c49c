"""Days as they were laid out before they knew half hours, rooms and the order of the trade.

A job that was agreed on by such days goes on by them, so that its trips are no change of it.

Hours of the days sum to the tasks' hours exactly, the rows of the days are the plan's rows, each
once and in order, no day holds more than the crew's hours, and the same input gives the same days.
A task under a hold point is planned but marked blocked until every one of its holds is cleared.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

from jobs.domain.checks import ZERO
from jobs.domain.days.crew import CrewDay, DayEntry, DaysError, PlannedDay
from jobs.domain.days.older_board import HUNDREDTHS, TaskBoard, TaskProgress
from jobs.domain.tasks import Task

YEAR = 366


def plan_older_days(
    tasks: Sequence[Task],
    crew: CrewDay,
    start: date,
    working: Callable[[date], bool],
    *,
    today: date,
    not_before: Mapping[str, date] | None = None,
    cleared: Collection[str] = (),
) -> tuple[PlannedDay, ...]:
    """Return the working days of a job, numbered from 1; days on which nobody can work are skipped.

    `not_before` gives the first day of a task by its key (a delivery, a painter). `cleared` are
    the hold points that no longer block.

    Raises DaysError for a start before `today`, no working day within a year, travel that eats up
    the day and rows without hours.
    """
    _check(tasks, crew, start, today)
    site = _Site(tasks=tasks, crew=crew, start=start, working=working, cleared=cleared)
    site.hold_back(not_before or {})
    idle, day = 0, start
    while not site.board.finished:
        if working(day) and site.work(day):
            idle = 0
        idle += 1
        day += timedelta(days=1)
        if idle > YEAR:
            raise _nothing_for_a_year(site.days, start, working)
    site.finish_the_road(day)
    return tuple(site.days)


def _check(tasks: Sequence[Task], crew: CrewDay, start: date, today: date) -> None:
    if start < today:
        raise DaysError(field="start", value=start, accepted=f"{today} or later")
    road = sum((task.per_day for task in tasks), ZERO)
    if road >= crew.capacity:
        accepted = f"less than the crew's {crew.capacity} h a day"
        raise DaysError(field="travel a day", value=f"{road} h", accepted=accepted)
    for task in tasks:
        if task.row_count and not task.hours:
            field = f"task {task.key}.hours"
            raise DaysError(field=field, value=task.hours, accepted="more than 0 for its rows")


def _nothing_for_a_year(
    days: Sequence[PlannedDay], start: date, working: Callable[[date], bool]
) -> DaysError:
    since = days[-1].date if days else start
    year = (since + timedelta(days=number) for number in range(1, YEAR))
    if any(working(day) for day in year):
        accepted = "tasks that can begin within a year"
        return DaysError(field="tasks", value=f"waiting since {since}", accepted=accepted)
    accepted = f"a working day within a year of {since}"
    return DaysError(field="working days", value="none", accepted=accepted)


class _Site:
    """The days that have been made so far, the work on the board, and the road not yet driven."""

    def __init__(
        self,
        *,
        tasks: Sequence[Task],
        crew: CrewDay,
        start: date,
        working: Callable[[date], bool],
        cleared: Collection[str],
    ) -> None:
        self.crew, self.start, self.working, self.cleared = crew, start, working, cleared
        self.daily = [task for task in tasks if task.per_day]
        self.road = {task.key: task.hours for task in self.daily}
        on_site = [task for task in tasks if not task.per_day]
        self.board = TaskBoard(on_site, people=crew.people, helpers=crew.helpers)
        self.days: list[PlannedDay] = []

    def hold_back(self, not_before: Mapping[str, date]) -> None:
        """Let no task of these begin before its day."""
        for key, day in not_before.items():
            self.board.hold_back(key, Fraction((day - self.start).days * 24))

    def work(self, day: date) -> bool:
        """Whether there was anything to do on this day, which is then worked."""
        driven = {task.key: min(task.per_day, self.road[task.key]) for task in self.daily}
        road = Fraction(sum(driven.values(), ZERO)) / self.crew.hands
        opens = (day - self.start).days * 24 + Fraction(self.crew.starts)
        undone = [key for key, entry in self.board.progress.items() if entry.done_at is None]
        done = self.board.work_a_day(opens + road, opens + Fraction(self.crew.hours_per_day))
        if not done:
            return False
        entries = [self._driven(task, driven[task.key]) for task in self.daily]
        entries += [self._entry(self.board.progress[key], part) for key, part in done.items()]
        self._add(day, entries, self._notes(done, undone, entries))
        return True

    def finish_the_road(self, day: date) -> None:
        """Put what the scope has for the road beyond the days worked where there is room for it."""
        for place in reversed(range(len(self.days))):
            self._drive_more(place)
        idle = 0
        while any(self.road.values()):
            if self.working(day):
                idle = 0
                self._add(day, [], [])
                self._drive_more(len(self.days) - 1)
            idle += 1
            day += timedelta(days=1)
            if idle > YEAR:
                raise _nothing_for_a_year(self.days, self.start, self.working)

    def _drive_more(self, place: int) -> None:
        made = self.days[place]
        for task in self.daily:
            more = min(self.road[task.key], self.crew.capacity - made.crew_hours)
            if more > 0:
                driven = sum((e.hours for e in made.entries if e.task_code == task.code), ZERO)
                others = [entry for entry in made.entries if entry.task_code != task.code]
                note = f"{more} h of {task.label.lower()} in the scope beyond the days worked."
                self.road[task.key] -= more
                made = replace(
                    made,
                    entries=(self._entry_of(task, driven + more), *others),
                    crew_hours=made.crew_hours + more,
                    notes=(*made.notes, note),
                )
        self.days[place] = made

    def _driven(self, task: Task, hours: Decimal) -> DayEntry:
        self.road[task.key] -= hours
        return self._entry_of(task, hours)

    def _entry(self, progress: TaskProgress, hundredths: int) -> DayEntry:
        entry = self._entry_of(progress.task, Decimal(hundredths) / HUNDREDTHS)
        noted, down = progress.rows_noted, progress.rows_down
        progress.rows_noted = down
        before = progress.task.rows_before
        return replace(
            entry,
            row_from=before + noted + 1 if down > noted else None,
            row_to=before + down if down > noted else None,
            finishes=progress.done_at is not None,
        )

    def _entry_of(self, task: Task, hours: Decimal) -> DayEntry:
        return DayEntry(
            task_code=task.code,
            zone=task.zone,
            label=task.label,
            hours=hours,
            helper=task.helper,
            hold_points=task.hold_points,
            blocked=any(hold not in self.cleared for hold in task.hold_points),
        )

    def _add(self, day: date, entries: Sequence[DayEntry], notes: Sequence[str]) -> None:
        made = tuple(entry for entry in entries if entry.hours)
        self.days.append(
            PlannedDay(
                number=len(self.days) + 1,
                date=day,
                entries=made,
                crew_hours=sum((entry.hours for entry in made), ZERO),
                notes=tuple(notes),
            )
        )

    def _notes(
        self, done: Mapping[str, int], undone: Collection[str], entries: Sequence[DayEntry]
    ) -> list[str]:
        notes = [
            f"{_named(entry.label, entry.zone)} is blocked until cleared: {', '.join(held)}."
            for entry in entries
            if (held := [hold for hold in entry.hold_points if hold not in self.cleared])
        ]
        for key in undone:
            progress = self.board.progress[key]
            if progress.done_at is not None and progress.task.wait_hours_after:
                until = progress.done_at + Fraction(progress.task.wait_hours_after)
                where = _named(progress.task.label, progress.task.zone)
                notes.append(f"{where}: wait until {self._said(until)}.")
        for key in done:
            progress = self.board.progress[key]
            if progress.rows_noted and progress.done_at is None:
                row = progress.task.rows_before + progress.rows_noted
                zone = progress.task.zone
                notes.append(f"{_named('Protect and ramp the open edge', zone)} after row {row}.")
        return notes

    def _said(self, moment: Fraction) -> str:
        """A moment as day and clock, up to the next quarter of an hour."""
        quarters = ceil(moment * 4)
        day = self.start + timedelta(days=quarters // 96)
        return f"{day.isoformat()} {quarters % 96 // 4}:{quarters % 4 * 15:02d}"


def _named(label: str, zone: str) -> str:
    return f"{label} ({zone})" if zone else label
