"""What a calendar link publishes, held against what it published before.

A day changes in many ways: planned again, moved, its job renamed or removed, its crew or the people
of it changed. So the events are compared when the calendar is read, and whatever differs by then
gets a higher sequence (RFC 5545, 3.8.7.4); what is gone is published as canceled.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime, time, timedelta

from django.db import transaction

from jobs.calendar import FeedEvent
from jobs.clock import day_of, time_zone_of
from jobs.models import CalendarFeed, PublishedDay
from jobs.readers.feeds.days import DayContent, DayKey, days_published_by
from jobs.services.records import put_values

KEPT_FOR = timedelta(days=60)
"""How long a day that is over stays in the calendar; common practice, no source."""

_CONTENT = ("starts_at", "ends_at", "title", "place", "text", "tentative")


@transaction.atomic
def publish(*, feed: CalendarFeed, now: datetime) -> list[FeedEvent]:
    """Return the events of a calendar link as they stand, in order, and keep them as published."""
    CalendarFeed.objects.select_for_update(of=("self",)).get(pk=feed.pk)
    first_day = day_of(now - KEPT_FOR, feed.company)
    since = datetime.combine(first_day, time.min, time_zone_of(feed.company))
    wanted = days_published_by(feed, since=first_day)
    kept = {(row.job_row, row.day_number): row for row in feed.published.all()}
    _bring_up(kept, wanted, since=since, now=now)
    PublishedDay.objects.bulk_create(
        PublishedDay(
            feed=feed, job_row=key[0], day_number=key[1], changed_at=now, **asdict(content)
        )
        for key, content in wanted.items()
        if key not in kept
    )
    CalendarFeed.objects.filter(pk=feed.pk).update(read_at=now)
    return [_event(row) for row in feed.published.filter(ends_at__gte=since)]


def _bring_up(
    kept: Mapping[DayKey, PublishedDay],
    wanted: Mapping[DayKey, DayContent],
    *,
    since: datetime,
    now: datetime,
) -> None:
    """Write what was published before as it is to be published now; days long over stay."""
    changed = []
    for key, row in kept.items():
        content = wanted.get(key)
        if content is None and row.ends_at < since:
            continue
        values = asdict(content) if content else {}
        values["canceled"] = content is None
        if any(getattr(row, name) != value for name, value in values.items()):
            put_values(row, values)
            row.sequence, row.changed_at = row.sequence + 1, now
            changed.append(row)
    PublishedDay.objects.bulk_update(changed, [*_CONTENT, "sequence", "canceled", "changed_at"])


def _event(row: PublishedDay) -> FeedEvent:
    return FeedEvent(
        uid=str(row.uid),
        sequence=row.sequence,
        starts_at=row.starts_at,
        ends_at=row.ends_at,
        title=row.title,
        place=row.place,
        text=row.text,
        canceled=row.canceled,
        tentative=row.tentative,
        changed_at=row.changed_at,
    )
