"""Days: the tasks of a scope laid onto the working days of a crew, by its schedule.

Exact hours of the days sum to the tasks', half hours are these rounded up by task; the rows of the
days are the plan's rows, each once and in order; no day holds more than the crew's hours, and the
same input gives the same days. A task under a hold point is planned but marked blocked until every
one of its holds is cleared.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.days.crew import CrewDay, DayEntry, DaysError, Lane, OpenNights, PlannedDay
from jobs.domain.schedule.halves import QUARTERS_A_DAY, halves_of, in_hours, said_clock
from jobs.domain.schedule.made import (
    Night,
    ScheduledDay,
    ScheduledPart,
    make_schedule,
)
from jobs.domain.schedule.people import Team, named_people
from jobs.domain.schedule.planning import NoDayError, Setting
from jobs.domain.schedule.splits import NOTHING_SPLIT, SplitWork, split_steps
from jobs.domain.schedule.steps import steps_of
from jobs.domain.tasks import Task

YEAR = 366
WAITS = {"level": "stay off it, wait until", "paint": "touch nothing, wait until"}
"""How what must dry is said to who is on site; other things just wait."""


def plan_days(
    tasks: Sequence[Task],
    crew: CrewDay,
    start: date,
    working: Callable[[date], bool],
    *,
    today: date,
    not_before: Mapping[str, date] | None = None,
    cleared: Collection[str] = (),
    agreed: Mapping[str, bool] | None = None,
    split: SplitWork = NOTHING_SPLIT,
    quick: bool = False,
) -> tuple[PlannedDay, ...]:
    """Return the working days of a job, numbered from 1; days on which nobody can work are skipped.

    `not_before` gives the first day of a task by its key (a delivery, a painter). `cleared` are
    the hold points that no longer block; `agreed` rooms whose nights the homeowner agreed to, and
    whether those over days off too; `split` what goes on on another date or by another crew. Days
    made `quick` are the best of a few orders of the work, and no better one is searched for.

    Raises DaysError for a start before `today`, no working day within a year, a drive that eats up
    the day and rows without hours.
    """
    _check(tasks, crew, start, today)
    team = _team(crew, split, _drive(tasks))
    setting = Setting(
        steps=split_steps(steps_of(tasks), split.tasks, start),
        team=team,
        start=start,
        working=working,
        not_before=not_before or {},
        agreed=agreed or {},
        short=split.short,
        quick=quick,
    )
    try:
        schedule = make_schedule(setting)
    except NoDayError as none:
        raise _nothing_for_a_year(none.args[0], working) from None
    bridge = _Bridge(tasks, team, setting, frozenset(cleared), schedule.nights)
    return tuple(bridge.planned(day) for day in schedule.days)


def _team(crew: CrewDay, split: SplitWork, drive: Decimal) -> Team:
    """Return the crew, and as many more places as other crews take on their dates."""
    largest = max((crew, *split.crews.values()), key=lambda one: one.hands)
    more = named_people(replace(largest, hours_per_day=crew.hours_per_day, leaving=()))
    people = (*named_people(crew), *more[crew.hands :])
    others = {day: (one.hands, one.hours_per_day) for day, one in split.crews.items()}
    return Team(people=people, starts=crew.starts, drive=drive, size=crew.hands, others=others)


def _drive(tasks: Sequence[Task]) -> Decimal:
    return sum((task.per_day for task in tasks), ZERO)


def _check(tasks: Sequence[Task], crew: CrewDay, start: date, today: date) -> None:
    if start < today:
        raise DaysError(field="start", value=start, accepted=f"{today} or later")
    road = _drive(tasks)
    team = Team(people=named_people(crew), starts=crew.starts, drive=road)
    if road >= crew.capacity or not any(team.halves(start)):
        accepted = f"less than the crew's {crew.capacity} h a day"
        raise DaysError(field="travel a day", value=f"{road} h", accepted=accepted)
    for task in tasks:
        if task.row_count and not task.hours:
            field = f"task {task.key}.hours"
            raise DaysError(field=field, value=task.hours, accepted="more than 0 for its rows")


def _nothing_for_a_year(since: date, working: Callable[[date], bool]) -> DaysError:
    year = (since + timedelta(days=number) for number in range(1, YEAR))
    if any(working(day) for day in year):
        accepted = "tasks that can begin within a year"
        return DaysError(field="tasks", value=f"waiting since {since}", accepted=accepted)
    accepted = f"a working day within a year of {since}"
    return DaysError(field="working days", value="none", accepted=accepted)


@dataclass(frozen=True, slots=True)
class _Bridge:
    """Days of a schedule as those who read planned days know them."""

    tasks: Sequence[Task]
    team: Team
    setting: Setting
    cleared: frozenset[str]
    nights: Sequence[Night]

    def planned(self, day: ScheduledDay) -> PlannedDay:
        """Return a day with its drive, its entries and what to mind."""
        driven = [self._driven(task, day.number) for task in self.tasks if task.per_day]
        entries = (*driven, *(self._entry(part) for part in day.parts))
        return PlannedDay(
            number=day.number,
            date=day.date,
            entries=entries,
            crew_hours=sum((entry.hours for entry in entries), ZERO),
            booked=sum((entry.booked for entry in entries), ZERO),
            notes=tuple(self._notes(day, entries)),
            lanes=tuple(self._lanes(day)),
            nights=tuple(
                OpenNights(room=night.room, use=night.use, nights=night.nights)
                for night in self.nights
                if night.after == day.date
            ),
        )

    def _driven(self, task: Task, number: int) -> DayEntry:
        """The road of one day: what it takes, half hours so that those of all days are its own."""
        now, before = halves_of(task.per_day * number), halves_of(task.per_day * (number - 1))
        return self._entry_of(task, task.per_day, in_hours(now - before))

    def _entry(self, part: ScheduledPart) -> DayEntry:
        entry = self._entry_of(part.task, part.hours, part.booked)
        first, last = part.rows or (None, None)
        return replace(
            entry,
            row_from=first,
            row_to=last,
            finishes=part.finishes,
            rooms=part.rooms,
            part=part.part,
        )

    def _entry_of(self, task: Task, hours: Decimal, booked: Decimal) -> DayEntry:
        return DayEntry(
            task_code=task.code,
            zone=task.zone,
            label=task.label,
            hours=hours,
            booked=booked,
            helper=task.helper,
            hold_points=task.hold_points,
            blocked=any(hold not in self.cleared for hold in task.hold_points),
        )

    def _notes(self, day: ScheduledDay, entries: Sequence[DayEntry]) -> list[str]:
        notes = [
            f"{_named(entry.label, entry.zone)} is blocked until cleared: {', '.join(held)}."
            for entry in entries
            if (held := [hold for hold in entry.hold_points if hold not in self.cleared])
        ]
        for task, until in day.waits:
            words = WAITS.get(task.code, "wait until")
            notes.append(f"{_named(task.label, task.zone)}: {words} {self._said(until)}.")
        for task, row in day.open_rows:
            notes.append(f"{_named('Protect and ramp the open edge', task.zone)} after row {row}.")
        return notes

    def _lanes(self, day: ScheduledDay) -> list[Lane]:
        steps = {step.key: step for step in self.setting.steps}
        return [
            Lane(
                person=self.team.people[spell.person].name,
                task=steps[spell.key].task.key,
                room=steps[spell.key].room,
                part=steps[spell.key].part,
                begins=said_clock(spell.begins),
                ends=said_clock(spell.ends),
                also=steps[spell.key].also,
            )
            for spell in day.spells
        ]

    def _said(self, moment: int) -> str:
        """A moment as day and clock."""
        day = self.setting.start + timedelta(days=moment // QUARTERS_A_DAY)
        return f"{day.isoformat()} {said_clock(moment)}"


def _named(label: str, zone: str) -> str:
    return f"{label} ({zone})" if zone else label
