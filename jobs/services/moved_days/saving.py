"""A change of days saved with its reason, and undone as long as nothing came after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from datetime import date, timedelta
from decimal import Decimal
from typing import TypedDict

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from jobs.clock import shown_to
from jobs.domain.checks import BadValueError
from jobs.domain.days.crew import PlannedDay
from jobs.domain.documents import plain_decimal
from jobs.models import DaysChange, Job, User, WorkDay
from jobs.models.crew import StoredEntry, StoredLane, StoredNights
from jobs.services.days import entry_json
from jobs.services.moved_days.replan import DayMove, Replan, replanned, seen_as, shown_as
from jobs.services.records import audit_job, writes_once

_ASIDE = 10_000
"""Added to numbers of days that are written anew, so that none stands twice meanwhile."""
_OUT_OF_THE_WAY = timedelta(days=200_000)
"""Added to their dates, for the same reason."""


class KeptDay(TypedDict):
    """A day as a change keeps it, to put it back."""

    number: int
    date: str
    entries: list[StoredEntry]
    notes: list[str]
    lanes: list[StoredLane]
    nights: list[StoredNights]
    hours: str
    crew: int
    scope: int


@writes_once(DaysChange, "change days")
def save_change(
    *,
    move: DayMove,
    user: User,
    key: str,
    reason: str,
    seen: str,
    today: date,
    shown: str | None = None,
) -> DaysChange:
    """Return the saved change of a job's days, which lie as it says.

    ``shown`` is the mark of the effect that somebody looked at; None where nobody did.

    Raises BadValueError where the days are no longer as they were ``seen`` or would lie otherwise
    than ``shown``, and what `replanned` refuses.
    """
    job = Job.objects.select_for_update().get(pk=move.day.job_id)
    if seen != seen_as(job.days.order_by("date")):
        raise BadValueError(field="days", value=_who_came_first(job), accepted=_LOOK_AGAIN)
    plan = replanned(move, today)
    if shown is not None and shown != shown_as(plan):
        value = "an effect that is out of date"
        raise BadValueError(field="days", value=value, accepted=_AS_SHOWN)
    before = [kept_day(day) for day in plan.touched]
    after = [_planned_day(day, plan, move) for day in plan.planned]
    _write(job, after, [day.pk for day in plan.kept])
    change = DaysChange.objects.create(
        job=job,
        kind=move.kind,
        date=move.day.date,
        reason=reason,
        lost=sorted(day.isoformat() for day in plan.bounds.lost),
        worked=sorted(day.isoformat() for day in plan.bounds.worked),
        hold={task: day.isoformat() for task, day in plan.bounds.hold.items()},
        split=plan.bounds.stored_split(),
        before=before,
        after=after,
        who=user,
    )
    audit_job(job=job, user=user, act=f"{change.get_kind_display()} {change.date}: {reason}")
    return change


_AS_SHOWN = (
    "the effect as it stands below now: date, crew or work was another when it was shown; look at "
    "it, then save"
)
_LOOK_AGAIN = "the days as they lie now; look at the effect again and save it then"


def _who_came_first(job: Job) -> str:
    """Return in words who changed the days meanwhile."""
    last = job.days_changes.select_related("who").first()
    if last is None:
        return "laid out anew by somebody else"
    local = shown_to(job.company, last.undone_at or last.made_at)
    what = "undone" if last.undone_at else f"changed ({last.get_kind_display().lower()})"
    return f"{what} by {last.who or 'somebody'} at {local:%H:%M}: {last.reason}"


@transaction.atomic
def undo_change(*, change: DaysChange, user: User, today: date) -> Job:
    """Return the job with its days as they lay before a change.

    Raises BadValueError where another change stands over it, the days were laid out anew or logged
    since, or lie in the past.
    """
    job = Job.objects.select_for_update().get(pk=change.job_id)
    standing = job.days_changes.filter(undone_at=None).first()
    if standing is None or standing.pk != change.pk:
        accepted = "the last change that stands"
        raise BadValueError(field="change", value=str(change.date), accepted=accepted)
    first = min(day["date"] for day in (*change.before, *change.after))
    days = list(job.days.filter(date__gte=first).order_by("date").prefetch_related("log"))
    if first < today.isoformat() or any(day.log.all() for day in days):
        accepted = "days ahead without log entries"
        raise BadValueError(field="change", value=f"worked since {first}", accepted=accepted)
    if [kept_day(day) for day in days] != change.after:
        accepted = "days as that change left them"
        raise BadValueError(field="change", value="laid out anew since", accepted=accepted)
    others = job.days.filter(date__lt=first).values_list("pk", flat=True)
    _write(job, change.before, list(others))
    change.undone_at = timezone.now()
    change.save(update_fields=["undone_at"])
    audit_job(job=job, user=user, act=f"Undid: {change.get_kind_display()} {change.date}")
    return job


def kept_day(day: WorkDay) -> KeptDay:
    """Return a day as a change keeps it."""
    return {
        "number": day.number,
        "date": day.date.isoformat(),
        "entries": day.entries,
        "notes": day.notes,
        "lanes": day.lanes,
        "nights": day.nights,
        "hours": plain_decimal(day.hours),
        "crew": day.crew_id,
        "scope": day.scope_id,
    }


def _planned_day(day: PlannedDay, plan: Replan, move: DayMove) -> KeptDay:
    row = WorkDay(
        job=move.day.job,
        scope=move.day.scope,
        crew=plan.crew_on(day.date),
        number=plan.first + day.number,
        date=day.date,
        entries=[entry_json(entry) for entry in day.entries],
        notes=list(day.notes),
        lanes=[lane.as_stored() for lane in day.lanes],
        nights=[asdict(night) for night in day.nights],
        hours=day.crew_hours,
    )
    return kept_day(row)


def _write(job: Job, days: Sequence[KeptDay], kept: Sequence[int]) -> None:
    """Write these days over all but the kept ones; a day keeps its row by its number."""
    loose = job.days.exclude(pk__in=kept)
    loose.exclude(number__in=[day["number"] for day in days]).delete()
    for row in loose:
        row.date += _OUT_OF_THE_WAY
        row.save(update_fields=["date"])
    by_number = {row.number: row for row in loose.all()}
    loose.update(number=F("number") + _ASIDE)
    for day in days:
        row = by_number.get(day["number"]) or WorkDay(job=job)
        row.number, row.date = day["number"], date.fromisoformat(day["date"])
        row.crew_id, row.scope_id = day["crew"], day["scope"]
        row.entries, row.notes = day["entries"], day["notes"]
        row.lanes, row.nights = day["lanes"], day["nights"]
        row.hours = Decimal(day["hours"])
        row.version += 1
        row.save()
