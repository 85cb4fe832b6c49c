"""The days of an accepted quote as a homeowner's calendar shows them."""

from __future__ import annotations

from estimates.models import Quote
from jobs.calendar import CalendarDay
from jobs.models import WorkDay
from jobs.readers.crews_day.arrival import arrives_words


def days_of(quote: Quote) -> list[CalendarDay]:
    """Return the crew's days that are planned for an accepted quote, none before that.

    They say when the crew arrives, and nothing of hours or prices.
    """
    job = quote.job
    if getattr(quote, "acceptance", None) is None:
        return []
    company = job.company
    return [
        CalendarDay(
            key=f"quote-{quote.pk}-day-{day.number}",
            date=day.date,
            title=f"{company.name}: day {day.number} of your floor",
            place=", ".join(job.address.splitlines()),
            text=f"We arrive about {arrives_words(day)}. {company.phone}".strip(),
            changed_at=day.changed_at,
        )
        for day in WorkDay.objects.filter(job=job).select_related("job__company").order_by("number")
    ]
