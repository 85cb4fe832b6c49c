"""A task or a day split: a part stays, the rest goes on on another date or with another crew."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.days.placed.pieces import spells_of
from jobs.domain.days.remaining import Worked
from jobs.domain.schedule.halves import QUARTERS_A_HALF
from jobs.models import Crew, WorkDay
from jobs.models.crew import StoredEntry
from jobs.readers.days import TaskLine, half_hours_words, task_lines
from jobs.services.moved_days.bounds import Bounds, SplitPart

WHOLE = "day"
"""What is split where it is no task but the day."""

LEAST_HALVES = 4
"""Nobody drives out for less than two hours; common practice, no source."""

_ROW = re.compile(r"(?:row\s*)?(\d{1,4})", re.IGNORECASE)
_HOURS = re.compile(r"(\d{1,2}(?:\.\d+)?)?\s*(?:(\d)/(\d))?\s*h?", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True, slots=True)
class SplitChoice:
    """What may be split of a day: a task by its key, or all of it; what is likely to stay."""

    key: str
    words: str
    likely: str


def split_choices(day: WorkDay) -> list[SplitChoice]:
    """Return what may be split of a day: all of it, or a task with the rows or hours it has."""
    halves = halves_on_site(day)
    hours = f", {half_hours_words(Decimal(halves) / 2)} on site" if halves else ""
    whole = SplitChoice(key=WHOLE, words=f"The whole day{hours}", likely=str(halves // 4))
    lines = (line for line in task_lines(day, {}) if line.task != "travel")
    return [whole, *(_choice(line) for line in lines if line.rows or line.booked != ZERO)]


def _choice(line: TaskLine) -> SplitChoice:
    size = line.rows_words or line.clock_words
    return SplitChoice(key=line.key, words=f"{line.name}, {size}", likely="")


def hours_done(worked: Iterable[Worked]) -> dict[str, Decimal]:
    """Return the hours of each task that lie on days that stay."""
    done: dict[str, Decimal] = {}
    for part in worked:
        done[part.key] = done.get(part.key, ZERO) + part.hours
    return done


def split_bounds(
    day: WorkDay, task: str, stays: str, to: date, crew: Crew | None, worked: Iterable[Worked]
) -> Bounds:
    """Return what a split adds to the bounds of its job.

    Raises BadValueError for what stays that is no row or half hours of the day or of the task, and
    for a date on which nothing would be split.
    """
    other = crew if crew is not None and crew.pk != day.crew_id else None
    if other is not None and not other.members.exists():
        accepted = "a crew with at least one person; put somebody into it first"
        raise BadValueError(field="crew", value=f"{other}, nobody in it", accepted=accepted)
    crews = {to: other.pk} if other is not None else {}
    worked_too = frozenset({to}) if other is not None else frozenset[date]()
    if task in ("", WHOLE):
        return _of_day(day, stays, to, other)
    entry = next((one for one in day.entries if one["key"] == task), None)
    if entry is None or entry["task"] == "travel":
        raise BadValueError(field="task", value=task, accepted="a task of this day, or all of it")
    _check_later(day, to, other)
    part = _part(entry, stays, to, hours_done(worked))
    return Bounds(worked=worked_too, parts={task: part}, crews=crews)


def _check_later(day: WorkDay, to: date, other: Crew | None) -> None:
    """Raise BadValueError for a date on which nothing would be split.

    Two crews are never on one job on one date: which rows are whose nobody could say.
    """
    if to == day.date and other is not None:
        accepted = (
            f"a date after {day.date}: one crew works a job on a date. For {other} on that very "
            f"date let 0 of the whole day stay, or put its people into {day.crew}"
        )
        raise BadValueError(field="to", value=f"{to}, {day.crew} and {other}", accepted=accepted)
    if to <= day.date:
        raise BadValueError(field="to", value=to, accepted=f"a date after {day.date}")


def _of_day(day: WorkDay, stays: str, to: date, other: Crew | None) -> Bounds:
    """Return the bounds of a day that ends early; of one that another crew works, where none stays.

    A whole day may be given to another crew on its own date.
    """
    halves = int(_half_hours("stays", stays, _on_site_accepted(day)) * 2)
    crews = {to: other.pk} if other is not None else {}
    if not halves:
        if to < day.date or (to == day.date and not crews):
            accepted = f"a date after {day.date}, or another crew on that very date"
            raise BadValueError(field="to", value=to, accepted=accepted)
        lost = frozenset[date]() if to == day.date else frozenset({day.date})
        return Bounds(lost=lost | _between(day, to), worked=frozenset({to}), crews=crews)
    if not LEAST_HALVES <= halves < halves_on_site(day):
        raise BadValueError(field="stays", value=stays, accepted=_on_site_accepted(day))
    _check_later(day, to, other)
    short = {day.date: halves}
    return Bounds(lost=_between(day, to), worked=frozenset({to}), short=short, crews=crews)


def _between(day: WorkDay, to: date) -> frozenset[date]:
    later = range(1, (to - day.date).days)
    return frozenset(day.date + timedelta(days=number) for number in later)


def halves_on_site(day: WorkDay) -> int:
    """Return the half hours of a day from the first stroke to the last; 0 where nobody knows."""
    spells = spells_of(day.date, day.lanes)
    if not spells:
        return 0
    return (max(s.ends for s in spells) - min(s.begins for s in spells)) // QUARTERS_A_HALF


def _on_site_accepted(day: WorkDay) -> str:
    halves = halves_on_site(day)
    if halves <= LEAST_HALVES:
        return "0, the whole day: it is too short to be split"
    most = half_hours_words(Decimal(halves - 1) / 2)
    return f"0, or 2 h to {most} of this day, in half hours"


def _part(entry: StoredEntry, stays: str, to: date, done: Mapping[str, Decimal]) -> SplitPart:
    """Return how far a task goes before the date."""
    accepted = stays_accepted(entry)
    if entry["rows"]:
        first, last = entry["rows"]
        match = _ROW.fullmatch(stays.strip())
        row = int(match[1]) if match else -1
        if row != 0 and not first <= row <= (last - 1 if entry["finishes"] else last):
            raise BadValueError(field="stays", value=stays or "nothing", accepted=accepted)
        return SplitPart(until=to, row=row or first - 1)
    hours = _half_hours("stays", stays, accepted)
    if hours > _most_hours(entry):
        raise BadValueError(field="stays", value=stays, accepted=accepted)
    return SplitPart(until=to, hours=done.get(entry["key"], ZERO) + hours)


def _most_hours(entry: StoredEntry) -> Decimal:
    booked = Decimal(entry.get("booked", entry["hours"]))
    return max(ZERO, booked - Decimal("0.5")) if entry["finishes"] else booked


def stays_accepted(entry: StoredEntry) -> str:
    """Return in words what of a task may stay on its day."""
    if entry["rows"]:
        first, last = entry["rows"]
        return (
            f"0, or the last row of this day: {first} to {last - 1 if entry['finishes'] else last}"
        )
    most = _most_hours(entry)
    if not most:
        return "0, the whole task"
    return f"0 h to {half_hours_words(most)}, in half hours"


def _half_hours(field: str, typed: str, accepted: str) -> Decimal:
    """Return typed hours: 2, 2.5, 2 1/2. Raises BadValueError for anything else."""
    match = _HOURS.fullmatch(typed.strip())
    if not typed.strip() or match is None or not (match[1] or match[2]) or match[3] == "0":
        raise BadValueError(field=field, value=typed or "nothing", accepted=accepted)
    hours = Fraction(match[1] or 0) + Fraction(int(match[2] or 0), int(match[3] or 1))
    if (hours * 2).denominator != 1:
        raise BadValueError(field=field, value=typed, accepted=accepted)
    return Decimal(int(hours * 2)) / 2
