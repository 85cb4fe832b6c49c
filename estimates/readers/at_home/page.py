"""The homeowner's days, read from the days as they lie and the scope that was agreed on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimates.domain.at_home.changed import Promised, moved_dates, other_hour, since_agreed
from estimates.domain.at_home.clearing import SiteWords, clearing_words, pet_words, your_work
from estimates.domain.at_home.closed import (
    ShutRoom,
    night_words,
    short_day,
    shut_rooms,
    shut_toilets,
    tonight,
)
from estimates.domain.at_home.held import held_words
from estimates.domain.quotes.days import day_sections, quoted_arrival
from estimates.domain.quotes.plain_words import called_all, opened
from estimates.domain.quotes.sold import SoldRoom
from estimates.models import Quote, QuoteOption
from estimates.readers.draft.sold import sold_rooms
from estimates.readers.quote import stored_quote
from jobs.clock import day_of, today_of
from jobs.domain.checks import ZERO
from jobs.domain.scope.schedule import DayPart, RoomNights, ScopeSchedule, SiteDay
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job, SiteFacts, WorkDay
from jobs.models.crew import StoredEntry
from jobs.readers.board.promises import promised_starts
from jobs.readers.crews_day.arrival import arrives_words
from jobs.readers.days import homeowners_work, open_holds_of
from jobs.readers.scope import agreed_scope_of, scope_value


@dataclass(frozen=True, kw_only=True, slots=True)
class HomeDay:
    """One day: its date, what is done, which rooms can't be used, what is missed that night."""

    number: int
    date: date
    text: str
    shut: str
    tonight: str
    arrives: str
    other_hour: str
    is_today: bool
    is_past: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class HomePage:
    """All that a homeowner reads of the days. ``outdated``: they are about to be planned anew.

    ``arrives`` is empty where the crew does not come at the same hour every day. ``other_hour``:
    that the quote said another. ``waits``: what is not settled yet, and which day it may move.
    """

    arrives: str
    other_hour: str
    waits: tuple[str, ...]
    days: tuple[HomeDay, ...]
    nights: tuple[str, ...]
    clearing: tuple[str, ...]
    yours: tuple[str, ...]
    pets: tuple[str, ...]
    changed_on: date | None
    changes: tuple[str, ...]
    outdated: bool


def home_page(quote: Quote) -> HomePage | None:
    """Return the days of an accepted quote; None before the word, and before days are planned."""
    job = quote.job
    scope = agreed_scope_of(job)
    days = list(job.days.select_related("job__company").order_by("number"))
    if getattr(quote, "acceptance", None) is None or scope is None or not days:
        return None
    laid = _laid(scope, days)
    rooms = sold_rooms(job, scope)
    dates = [day.date for day in days]
    shut, toilets = shut_rooms(laid, rooms, dates), shut_toilets(laid, rooms, dates)
    site, today = _site_words(job), today_of(job.company)
    changed_on, moved = _moved(quote, days)
    clocks = {arrives_words(day) for day in days}
    arrives = clocks.pop() if len(clocks) == 1 else ""
    quoted = quoted_arrival(stored_quote(quote).days)
    tasks = {day.date: [entry["task"] for entry in day.entries] for day in days}
    return HomePage(
        arrives=arrives,
        other_hour=other_hour(quoted, arrives, when="now") if arrives else "",
        waits=held_words(open_holds_of(job).values(), tasks, today),
        days=tuple(_days(laid, rooms, days, shut, toilets, today, quoted)),
        nights=night_words(shut, toilets, rooms),
        clearing=clearing_words(scope, rooms, site),
        yours=your_work(homeowners_work(scope, days)),
        pets=pet_words(site),
        changed_on=changed_on,
        changes=(*moved, *since_agreed(_promised(quote), dates, shut)),
        outdated=any(day.scope_id != job.agreed_scope_id for day in days if not _is_past(day)),
    )


def _is_past(day: WorkDay) -> bool:
    return day.date < today_of(day.job.company)


def _laid(scope: FrozenScope, days: Sequence[WorkDay]) -> FrozenScope:
    """Return the scope with the days as they lie in place of those it was frozen with."""
    known = {task.key for task in scope.tasks}
    entries = [entry for day in days for entry in day.entries]
    frozen = scope.schedule or ScopeSchedule(
        people=1, hours_per_day=Decimal(8), trip_hours=ZERO, days=()
    )
    schedule = replace(
        frozen,
        days=tuple(
            SiteDay(
                booked=Decimal(1),
                parts=tuple(_part(entry) for entry in day.entries if entry["key"] in known),
            )
            for day in days
        ),
        nights=tuple(
            RoomNights(room=night["room"], use=night["use"], day=place, nights=night["nights"])
            for place, day in enumerate(days, start=1)
            for night in day.nights
        ),
        older=not all("booked" in entry for entry in entries),
    )
    return replace(scope, schedule=schedule)


def _part(entry: StoredEntry) -> DayPart:
    rows = entry["rows"]
    return DayPart(
        task=entry["key"],
        hours=Decimal(entry["hours"]),
        booked=Decimal(entry["booked"]) if "booked" in entry else None,
        rooms=tuple(entry.get("rooms", ())),
        rows=(rows[0], rows[1]) if rows else None,
        part=entry.get("part", ""),
    )


def _days(
    laid: FrozenScope,
    rooms: Sequence[SoldRoom],
    days: Sequence[WorkDay],
    shut: Sequence[ShutRoom],
    toilets: Sequence[ShutRoom],
    today: date,
    quoted: str,
) -> Iterable[HomeDay]:
    for day, section in zip(days, day_sections(laid, rooms, ""), strict=True):
        names = [room.name for room in shut if room.is_shut_on(day.date)]
        yield HomeDay(
            number=day.number,
            date=day.date,
            text=section.text,
            shut=f"{opened(called_all(names))} can't be used this day." if names else "",
            tonight=tonight(shut, toilets, day.date),
            arrives=arrives_words(day),
            other_hour=other_hour(quoted, arrives_words(day), when="on this day"),
            is_today=day.date == today,
            is_past=day.date < today,
        )


def _site_words(job: Job) -> SiteWords:
    site = SiteFacts.objects.filter(job=job).first()
    if site is None:
        return SiteWords()
    return SiteWords(
        aquarium=site.aquarium, piano=site.piano, electronics=site.electronics, pets=site.pets
    )


def accepted_scope(quote: Quote) -> FrozenScope:
    """Return the scope that was agreed to with this quote, whatever was agreed on since."""
    option = QuoteOption.objects.filter(quote=quote, key=quote.acceptance.choice).first()
    return scope_value((option or quote).estimate.scope)


def _promised(quote: Quote) -> Promised:
    """Return what the accepted quote said of days, nights and the start."""
    schedule = accepted_scope(quote).schedule
    start = next(iter(promised_starts({quote.job_id: quote.job})), None)
    nights: dict[str, int] = {}
    for one in schedule.nights if schedule else ():
        nights[one.room] = nights.get(one.room, 0) + one.nights
    return Promised(
        days=schedule.trips if schedule else 0,
        nights=nights,
        earliest=start.earliest if start else None,
        latest=start.latest if start else None,
    )


def _moved(quote: Quote, days: Sequence[WorkDay]) -> tuple[date | None, list[str]]:
    """Return when days that were planned were moved last, and what lies elsewhere since."""
    changes = list(
        quote.job.days_changes.filter(undone_at=None, made_at__gt=quote.acceptance.at).order_by(
            "pk"
        )
    )
    if not changes:
        return None, []
    was: dict[int, date] = {}
    for change in reversed(changes):
        was |= {day["number"]: date.fromisoformat(day["date"]) for day in change.before}
    touched = {
        number
        for change in changes
        for number in (day["number"] for day in (*change.before, *change.after))
    }
    now = {day.number: day.date for day in days if day.number in touched}
    return day_of(changes[-1].made_at, quote.job.company), list(moved_dates(was, now))


def day_span(days: Sequence[HomeDay]) -> str:
    """Return from when to when the days are."""
    first, last = (short_day(day.date).replace(" ", "\u00a0") for day in (days[0], days[-1]))
    return first if len(days) == 1 else f"{first} to {last}"
