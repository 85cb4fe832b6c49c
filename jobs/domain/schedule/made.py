"""The schedule as values: by day what is done of each task, who is at it, which rooms are open."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.values import StepProgress, WorkSpell
from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.choosing import worked_days
from jobs.domain.schedule.halves import QUARTERS_A_DAY, in_hours
from jobs.domain.schedule.lived_in import lived_in
from jobs.domain.schedule.planning import Setting
from jobs.domain.schedule.step import Step
from jobs.domain.tasks import Task


@dataclass(frozen=True, kw_only=True, slots=True)
class ScheduledPart:
    """What is done of one task on one day: exact hours, half hours, rooms, rows that are finished.

    `part` says out or back of furniture, odd or even of treads, both where both; else empty.
    """

    task: Task
    hours: Decimal
    booked: Decimal
    rooms: tuple[str, ...]
    part: str
    rows: tuple[int, int] | None
    finishes: bool
    begins: int


@dataclass(frozen=True, kw_only=True, slots=True)
class ScheduledDay:
    """One day: its parts in the order they begin, who is at what, what waits when it ends.

    `waits` are task and moment (quarters from the midnight before the first day) until which what
    follows it waits. `open_rows` are the last rows of floors that are left begun.
    """

    number: int
    date: date
    parts: tuple[ScheduledPart, ...]
    spells: tuple[WorkSpell, ...]
    opens: int
    waits: tuple[tuple[Task, int], ...]
    open_rows: tuple[tuple[Task, int], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Night:
    """A room that can't be lived in for some nights, from the one after this day on."""

    room: str
    use: str
    after: date
    nights: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Schedule:
    """The days of a job, the steps they were made of, and the nights that rooms are open."""

    days: tuple[ScheduledDay, ...]
    steps: tuple[Step, ...]
    nights: tuple[Night, ...]


def make_schedule(setting: Setting) -> Schedule:
    """Return the days of these steps. Raises NoDayError where nothing can be worked for a year."""
    worked = worked_days(setting)
    days = (_day(number, day) for number, day in enumerate(worked, start=1))
    return Schedule(days=tuple(days), steps=setting.steps, nights=tuple(_nights(setting, worked)))


def _day(number: int, worked: WorkedDay) -> ScheduledDay:
    parts: dict[str, ScheduledPart] = {}
    for key in _begun(worked):
        step = worked.after.steps[key]
        for part in _parts(step, worked):
            was = parts.get(part.task.key)
            parts[part.task.key] = part if was is None else _together(was, part)
    return ScheduledDay(
        number=number,
        date=worked.date,
        parts=tuple(sorted(parts.values(), key=lambda part: part.begins)),
        spells=worked.spells,
        opens=worked.opens,
        waits=tuple(_waits(worked)),
        open_rows=tuple(_open_rows(worked)),
    )


def _begun(worked: WorkedDay) -> list[str]:
    """Return the steps that something was done of, in the order in which they begin."""
    first = {spell.key: spell.begins for spell in reversed(worked.spells)}
    settled = [
        key
        for key, it in worked.after.progress.items()
        if it.done_at is not None
        and worked.before.progress[key].done_at is None
        and worked.after.steps[key].exact
    ]
    last = max(spell.begins for spell in worked.spells)
    keys = dict.fromkeys((*first, *settled))
    return sorted(keys, key=lambda key: first.get(key, last))


def _parts(step: Step, worked: WorkedDay) -> Iterator[ScheduledPart]:
    before, after = worked.before.progress[step.key], worked.after.progress[step.key]
    was, now = _reached(step, before), _reached(step, after)
    begins = min(
        (s.begins for s in worked.spells if s.key == step.key), default=QUARTERS_A_DAY * 999
    )
    finished = after.done_at is not None
    rooms = step.rooms or _rooms_of(step, before, after)
    pairs = (
        ((step.along, 2), (step.task, 0))
        if step.task.code == "lay"
        else (
            (step.task, 0),
            (step.along, 2),
        )
    )
    for place, (task, at) in enumerate(pairs):
        booked, exact = int(now[at] - was[at]), now[at + 1] - was[at + 1]
        if task is None or not (booked or exact):
            continue
        yield ScheduledPart(
            task=task,
            hours=exact,
            booked=in_hours(booked),
            rooms=rooms,
            part=step.part,
            rows=_rows(step, before, after) if task is step.task else None,
            finishes=finished and _is_last(step, worked.after),
            begins=begins * 2 + place,
        )


def _reached(step: Step, it: StepProgress) -> tuple[Decimal, Decimal, Decimal, Decimal]:
    """Return halves and exact hours done, of the step itself and of what goes along."""
    if not step.stops:
        whole = it.done_at is not None or it.done >= step.halves > 0
        exact = step.exact if whole else min(in_hours(it.done), step.exact)
        along = step.along_exact if whole else ZERO
        return Decimal(min(it.done, step.halves - step.unbooked)), exact, ZERO, along
    behind = len(it.stops_at)
    at = step.stops[behind - 1] if behind else None
    main, along_halves = (at.main, at.along) if at else (0, 0)
    exact, along = (at.exact, at.along_exact) if at else (ZERO, ZERO)
    more = it.done - (at.halves if at else 0)
    if more:
        following = step.stops[behind]
        under = min(more, following.along - along_halves)
        along_halves, main = along_halves + under, main + more - under
        along = min(max(along, in_hours(along_halves)), following.along_exact)
        exact = min(max(exact, in_hours(main)), following.exact)
    return Decimal(main), exact, Decimal(along_halves), along


def _rows(step: Step, before: StepProgress, after: StepProgress) -> tuple[int, int] | None:
    first, last = len(before.stops_at), len(after.stops_at)
    if step.task.code != "lay" or first == last:
        return None
    return step.task.rows_before + first + 1, step.task.rows_before + last


def _rooms_of(step: Step, before: StepProgress, after: StepProgress) -> tuple[str, ...]:
    """Return the rooms that rows were laid in."""
    rows = _rows(step, before, after)
    if rows is None:
        return ()
    return tuple(
        share.room
        for share in step.task.rooms
        if share.rows and share.rows[0] <= rows[1] and rows[0] <= share.rows[1]
    )


def _is_last(step: Step, bench: WorkBench) -> bool:
    """Whether with it all steps of its task are done."""
    return all(
        bench.progress[key].done_at is not None
        for key, other in bench.steps.items()
        if other.task is step.task
    )


def _together(was: ScheduledPart, more: ScheduledPart) -> ScheduledPart:
    parts = dict.fromkeys(name for name in (*was.part.split(" and "), more.part) if name)
    return ScheduledPart(
        task=was.task,
        hours=was.hours + more.hours,
        booked=was.booked + more.booked,
        rooms=tuple(dict.fromkeys((*was.rooms, *more.rooms))),
        part=" and ".join(parts),
        rows=was.rows or more.rows,
        finishes=was.finishes or more.finishes,
        begins=min(was.begins, more.begins),
    )


def _waits(worked: WorkedDay) -> Iterator[tuple[Task, int]]:
    """Yield what was done this day and must wait, the last moment of each task."""
    until: dict[str, tuple[Task, int]] = {}
    for key, it in worked.after.progress.items():
        step = worked.after.steps[key]
        if it.done_at is None or not step.wait or worked.before.progress[key].done_at is not None:
            continue
        moment = max(it.done_at + step.wait, until.get(step.task.key, (step.task, 0))[1])
        until[step.task.key] = (step.task, moment)
    yield from until.values()


def _open_rows(worked: WorkedDay) -> Iterator[tuple[Task, int]]:
    for spell in dict.fromkeys(spell.key for spell in worked.spells):
        step, it = worked.after.steps[spell], worked.after.progress[spell]
        if step.task.code == "lay" and it.stops_at and it.done_at is None:
            yield step.task, step.task.rows_before + len(it.stops_at)


def _nights(setting: Setting, worked: Sequence[WorkedDay]) -> Iterator[Night]:
    for room in lived_in(setting.steps):
        opened = next((day.date for day in worked if room.is_opened(day.after)), None)
        closed = next((day.date for day in worked if room.is_closed(day.after)), None)
        if opened is not None and closed is not None and closed > opened:
            nights = (closed - opened).days
            yield Night(room=room.name, use=room.use, after=opened, nights=nights)
