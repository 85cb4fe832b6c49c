"""What the page of days says of the facts that days are laid out by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from jobs.domain.checks import ZERO
from jobs.domain.days.placed.reasons import day_words
from jobs.domain.scope.laid_for.basis import basis_from
from jobs.domain.scope.schedule import ScopeSchedule
from jobs.domain.scope.scope import FrozenScope
from jobs.models import DaysChange, Job, LastCrewDay, WorkDay
from jobs.readers.lived_in.nights import RoomNightsLine, nights_lines
from jobs.readers.penciled.words import people_words


@dataclass(frozen=True, kw_only=True, slots=True)
class DaysFacts:
    """What is to be said of the days of a job.

    `open_nights`: rooms open for more nights than anybody agreed to; `kept_changes`: what a new
    laying out keeps, in words; `leaving`: people who are gone before days that were laid out with
    them; `differs`: what the days do otherwise than was priced.
    """

    open_nights: tuple[RoomNightsLine, ...]
    kept_changes: tuple[str, ...]
    leaving: tuple[str, ...]
    differs: tuple[str, ...]


def days_facts(
    job: Job, scope: FrozenScope | None, days: Sequence[WorkDay], today: date
) -> DaysFacts:
    """Return what the page of a job's days says of the facts behind them."""
    lines = nights_lines(job, scope, days)
    ahead = [day for day in days if day.date >= today]
    return DaysFacts(
        open_nights=tuple(line for line in lines if line.is_open),
        kept_changes=tuple(_kept(job, scope, today)),
        leaving=tuple(_leaving(ahead)),
        differs=tuple(_differs(scope, days)),
    )


def _kept(job: Job, scope: FrozenScope | None, today: date) -> Iterator[str]:
    """Yield in words the lost days, moves and holds that bound days from today on."""
    labels = {task.key: task.label for task in scope.tasks} if scope else {}
    since = today.isoformat()
    for change in job.days_changes.filter(undone_at=None).order_by("pk"):
        for key, to in change.hold.items():
            if to >= since:
                yield f"{labels.get(key, key)} not before {_said(to)}: {change.reason}"
        lost = [_said(day) for day in change.lost if day >= since]
        if lost and change.kind == DaysChange.Kind.LOST:
            yield f"Lost, {', '.join(lost)}: {change.reason}"
        elif change.worked and change.worked[-1] >= since:
            yield f"Moved to {_said(change.worked[-1])}: {change.reason}"


def _said(day: str) -> str:
    return day_words(date.fromisoformat(day))


def _leaving(days: Sequence[WorkDay]) -> Iterator[str]:
    """Yield who leaves a crew before days that were laid out with them."""
    rows = LastCrewDay.objects.filter(crew__in={day.crew_id for day in days})
    for row in rows.select_related("crew", "person"):
        left = [day for day in days if day.crew_id == row.crew_id and day.date > row.date]
        numbers = [str(day.number) for day in left if len(_people_on(day)) > _still_there(day)]
        if numbers:
            counts = "days" if len(numbers) > 1 else "day"
            yield (
                f"{row.person.name} leaves {row.crew} after {day_words(row.date)}. Laid out with "
                f"more people than are left: {counts} {', '.join(numbers)}."
            )


def _people_on(day: WorkDay) -> set[str]:
    return {lane["person"] for lane in day.lanes}


def _still_there(day: WorkDay) -> int:
    gone = day.crew.last_days.filter(date__lt=day.date).values("person")
    return day.crew.members.exclude(pk__in=gone).count()


def _differs(scope: FrozenScope | None, days: Sequence[WorkDay]) -> Iterator[str]:
    """Yield what the days do otherwise than the schedule that was priced."""
    kept = scope.schedule if scope else None
    if kept is None or kept.older or not days or any(not day.lanes for day in days):
        return
    people = max(len(_people_on(day)) for day in days)
    if people != kept.people:
        yield f"Crew: priced for {people_words(kept.people)}, on these days {people_words(people)}."
    hours = {day.crew.hours_per_day for day in days}
    if hours != {kept.hours_per_day}:
        shown = " and ".join(f"{each.normalize():f}" for each in sorted(hours))
        priced = f"{kept.hours_per_day.normalize():f}"
        yield f"Hours of a day, one person: priced {priced}, on these days {shown}."
    if len(days) != kept.trips:
        yield f"Trips: priced {kept.trips}, on these days {len(days)}."
        first, priced_from = day_words(days[0].date), _priced_from(days[0])
        if first not in priced_from:
            yield f"First day: priced from {priced_from[-1]}, these begin on {first}."
    yield from _nights_differ(kept, days)
    there = sum((day.hours for day in days), ZERO)
    agreed = sum((day.hours for day in kept.days), ZERO)
    if there != agreed:
        yield f"Hours, the drive too: priced {agreed:.1f}, on these days {there:.1f}."


def _priced_from(day: WorkDay) -> tuple[str, ...]:
    """Return in words the first day that was priced, as days say it and as a sentence does."""
    agreed = day.job.agreed_scope
    basis = basis_from(agreed.laid_for) if agreed else None
    if basis is not None:
        return (day_words(basis.start),)
    return (day_words(day.date), "a Monday") if not day.date.weekday() else ("a Monday",)


def _nights_differ(kept: ScopeSchedule, days: Sequence[WorkDay]) -> Iterator[str]:
    priced, there = Counter[str](), Counter[str]()
    for night in kept.nights:
        priced[night.room] += night.nights
    for laid in (night for day in days for night in day.nights):
        there[laid["room"]] += laid["nights"]
    for room in dict.fromkeys((*priced, *there)):
        if priced[room] != there[room]:
            yield f"Nights without {room}: priced {priced[room]}, on these days {there[room]}."
