"""Crews penciled in for jobs that nobody has agreed on yet, in as many queries for many as for one.

What the rows say was worked out when the office last looked; a crew that has changed since says so.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from django.db.models import QuerySet

from jobs.domain.days.placed.reasons import day_words
from jobs.domain.documents import plain_decimal
from jobs.models import Company, Crew, PenciledCrew

NOT_AGREED = "Penciled in: not agreed on yet."


def penciled_in(company: Company) -> QuerySet[PenciledCrew]:
    """Return the penciled crews of jobs that are open and not agreed on yet."""
    rows = PenciledCrew.objects.filter(
        job__company=company,
        job__agreed_scope=None,
        job__closed_at=None,
        job__archived_at=None,
    )
    return rows.select_related("job__company", "crew").prefetch_related(
        "crew__members", "crew__last_days"
    )


def crew_from(crew: Crew, start: date) -> tuple[int, str, list[str]]:
    """Return who of a crew is there from a day on: people, hours of each, their last days."""
    lasts = {row.person_id: row.date for row in crew.last_days.all()}
    here = [lasts.get(person.pk) for person in crew.members.all()]
    there = [last for last in here if last is None or last >= start]
    leaving = sorted(last.isoformat() for last in there if last is not None)
    return len(there), plain_decimal(Decimal(crew.hours_per_day)), leaving


def has_changed(row: PenciledCrew) -> bool:
    """Whether the crew is another one than when its days were worked out."""
    people, hours, leaving = crew_from(row.crew, row.start)
    looked = row.looked
    then = (looked.get("people"), looked.get("leaving"), Decimal(looked.get("hours_per_day", 0)))
    return then != (people, leaving, Decimal(hours))


def out_of_date_words(row: PenciledCrew) -> list[str]:
    """Return in what the priced days are out of date, in sentences."""
    changed = [f"{row.crew} has changed since: look at its days again."] if has_changed(row) else []
    return [*row.differs, *changed]


def penciled_words(row: PenciledCrew) -> str:
    """Return who is penciled in and for which days: North crew, Mon, Dec 7 to Wed, Dec 9."""
    dates = [date.fromisoformat(day["date"]) for day in row.days] or [row.start]
    until = f" to {day_words(dates[-1])}" if len(dates) > 1 else ""
    return f"{row.crew}, {day_words(dates[0])}{until}"
