"""Days of people that are asked about before their hours count, for the owner and the lead."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import QuerySet
from django.urls import reverse

from jobs.domain.checks import ZERO
from jobs.models import Company, HoursStanding, LogEntry, User, WorkDay
from jobs.readers import today
from jobs.readers.today import Waiting
from jobs.readers.together.round_trip import KindRows, RowKind

QUESTIONED = (HoursStanding.OVER, HoursStanding.PHONES)

QUESTIONED_ENTRIES = RowKind(
    of=lambda companies: LogEntry.objects.filter(
        day__job__company__in=companies, standing__in=QUESTIONED
    ).select_related("day", "who"),
    by=lambda entry: (entry.day.date, entry.pk),
)
"""Entries whose hours are asked about."""


@dataclass(frozen=True, kw_only=True, slots=True)
class HoursQuestion:
    """One person's day that is asked about: how many hours were said, how many count so far."""

    person: User
    on: date
    said: Decimal
    counting: Decimal
    by_two_phones: bool
    at: datetime
    entry: int

    @property
    def text(self) -> str:
        """What is asked, in a sentence."""
        shown = f"{self.person.name}, {self.on:%b} {self.on.day}: {_h(self.said)}"
        if self.by_two_phones:
            return f"{shown} said by two phones, {_h(self.counting)} count so far"
        return f"{shown}, more than 12 h in a day; {_h(self.counting)} count so far"

    @property
    def url(self) -> str:
        """Where it is answered."""
        return reverse("log-hours", args=[self.entry])


def questions_of(rows: QuerySet[LogEntry]) -> list[HoursQuestion]:
    """Return the open questions about these entries, oldest day first; two queries."""
    waiting = rows.filter(standing__in=QUESTIONED).select_related("day", "who")
    return _questions(waiting.order_by("day__date", "pk"))


def _questions(waiting: Iterable[LogEntry]) -> list[HoursQuestion]:
    days = {(entry.who_id, entry.day.date): entry for entry in waiting}
    if not days:
        return []
    people = {person for person, _ in days}
    all_of_them = LogEntry.objects.filter(who__in=people, hours__gt=0).select_related("day")
    said = list(all_of_them.filter(day__date__in={on for _, on in days}))
    return [
        _question(entry, [one for one in said if (one.who_id, one.day.date) == key])
        for key, entry in days.items()
    ]


def _question(first: LogEntry, entries: Iterable[LogEntry]) -> HoursQuestion:
    valid = [entry for entry in entries if entry.standing != HoursStanding.OUT]
    return HoursQuestion(
        person=first.who,
        on=first.day.date,
        said=sum((entry.hours for entry in valid), ZERO),
        counting=sum((e.hours for e in valid if e.standing == HoursStanding.COUNTS), ZERO),
        by_two_phones=any(entry.standing == HoursStanding.PHONES for entry in valid),
        at=first.at,
        entry=first.pk,
    )


def questions_of_day(day: WorkDay) -> list[HoursQuestion]:
    """Return the open questions about hours of a day."""
    return questions_of(LogEntry.objects.filter(day=day))


def answers_hours(user: User, day: WorkDay) -> bool:
    """Whether somebody answers for the crew of a day: the office, or whoever stands first in it.

    Who stands first is the crew's lead.
    """
    return user.is_office or user == day.crew.members.order_by("pk").first()


def register() -> None:
    """Let the office's first page look for hours that wait for an answer."""
    today.register(_hours_waiting, of_company=[QUESTIONED_ENTRIES])


def _hours_waiting(_: Company, rows: KindRows) -> Iterator[Waiting]:
    for question in _questions(rows[QUESTIONED_ENTRIES]):
        yield Waiting(text=question.text, url=question.url, at=question.at, kind="hours")


def _h(hours: Decimal) -> str:
    return f"{hours.normalize():f} h"
