"""Days are one fact: over the five jobs of the demo, and after a replan, all who tell them agree.

The rows of all days are exactly the plan's, the half hours of each task its exact hours rounded up,
the trips those of the price, days and nights of the quote those on which the crew comes.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal

import pytest

from estimates.domain.quotes.days import lived_in_rooms
from estimates.domain.quotes.plain_words import called
from estimates.models import Quote
from estimates.readers.at_home.page import home_page
from estimates.readers.prices import priced_of
from estimates.readers.quote import stored_quote
from estimates.services import quotes as money
from installer_site.demo import story
from installer_site.demo.telling import tell
from jobs.calendar import holiday_name
from jobs.models import Company, Crew, FloorPlan, Job, User, WorkDay
from jobs.readers.scope import agreed_scope_of
from jobs.readers.stored_plan import stored_plan
from jobs.services.days import Wish, lay_out_days
from jobs.services.moved_days.replan import DayMove, seen_as
from jobs.services.moved_days.saving import save_change

pytestmark = pytest.mark.django_db

TODAY = date(2026, 3, 6)
MONDAY = date(2026, 3, 9)
"""Four weeks without a federal holiday lie before it and after it."""


@pytest.fixture
def company(monkeypatch: pytest.MonkeyPatch) -> Company:
    """The demo company with its five jobs, each planned with little effort and no further."""
    planned = [replace(job, stage="planned", floor=job.floor or "Kitchen") for job in story.JOBS]
    monkeypatch.setattr(story, "JOBS", tuple(planned))
    return tell("larch-plumb", today=TODAY, effort_iterations=1)


def owner_of(company: Company) -> User:
    return User.objects.get(email=story.OWNER.email, company=company)


def on_days(company: Company) -> Iterator[tuple[Quote, list[WorkDay]]]:
    """Yield the accepted quote of every job, and the days of the job, alone on the crew's board."""
    owner, crew = owner_of(company), Crew.objects.get(company=company)
    for job in company.jobs.order_by("number"):
        made = money.make_estimate(job=job, user=owner, key=f"one-{job.pk}", today=TODAY)
        quote = money.issue_quote(estimate=made, user=owner, key=f"two-{job.pk}", today=TODAY)
        money.accept_quote(quote=quote, name=job.client.name, today=TODAY, by_link=True)
        WorkDay.objects.filter(job__company=company).delete()
        wish = Wish(crew=crew, start=MONDAY)
        days = lay_out_days(job=job, user=owner, wish=wish, today=TODAY)
        yield Quote.objects.get(pk=quote.pk), days


def check_rows(job: Job, days: list[WorkDay]) -> None:
    """Every row of the plan lies on one day, each once and in order."""
    laid: dict[str, list[int]] = defaultdict(list)
    for entry in (entry for day in days for entry in day.entries if entry["rows"]):
        first, last = entry["rows"]
        laid[entry["zone"]] += range(first, last + 1)
    scope = agreed_scope_of(job)
    assert scope is not None
    for zone in scope.zones:
        row = FloorPlan.objects.get(zone__job=job, document__sha256=zone.plan_sha256)
        numbers = sorted({piece.row for piece in stored_plan(row).plan.pieces})
        assert laid[zone.name] == numbers, f"{job}: {zone.name}"


def check_hours(job: Job, days: list[WorkDay]) -> None:
    """The exact hours of each task are the scope's, the half hours these rounded up."""
    scope = agreed_scope_of(job)
    assert scope is not None
    exact, booked = Counter[str](), Counter[str]()
    for entry in (entry for day in days for entry in day.entries):
        exact[entry["key"]] += Decimal(entry["hours"])  # type: ignore[assignment]
        booked[entry["key"]] += Decimal(entry["booked"])  # type: ignore[assignment]
    for task in scope.crews_tasks:
        assert exact[task.key] == task.hours, f"{job}: {task.key}"
        halves = (task.hours * 2).to_integral_value(rounding=ROUND_CEILING) / 2
        assert booked[task.key] == halves, f"{job}: {task.key}"


def check_trips(quote: Quote, days: list[WorkDay]) -> None:
    """A trip is a day on site, in the scope and in the price."""
    scope = agreed_scope_of(quote.job)
    assert scope is not None
    assert scope.schedule is not None
    assert scope.schedule.trips == len(days), f"{quote.job}"
    trips = [entry.amount for entry in scope.quantities if entry.code == "trips"]
    priced = [line.amount for line in priced_of(quote.estimate).lines if line.code == "trips"]
    assert sum(trips) == len(days), f"{quote.job}"
    assert not priced or sum(priced) == len(days), f"{quote.job}"


def check_quote(quote: Quote, days: list[WorkDay]) -> None:
    """The quote tells as many days; the homeowner's page names the same rooms and nights."""
    issued = stored_quote(quote)
    assert len(issued.days) == len(days), f"{quote.job}"
    page = home_page(Quote.objects.get(pk=quote.pk))
    assert page is not None
    assert [day.date for day in page.days] == [day.date for day in days]
    assert page.changes == (), f"{quote.job}"
    said = [section.text.partition("every day. ")[2] or section.text for section in issued.days]
    assert [day.text for day in page.days] == said, f"{quote.job}"


def check_quoted_nights(quote: Quote) -> None:
    """A room that nobody can do without is free every night in the quote as in the days."""
    scope = agreed_scope_of(quote.job)
    assert scope is not None
    assert scope.schedule is not None
    missed = {night.room for night in scope.schedule.nights}
    free = " ".join(s for s in stored_quote(quote).nights if "every night" in s).lower()
    for room in lived_in_rooms(scope):
        assert (called(room).lower() in free) == (room not in missed), f"{quote.job}: {room}"


def check_nights(job: Job, days: list[WorkDay]) -> None:
    """The nights that the scope froze are those that the days open."""
    scope = agreed_scope_of(job)
    assert scope is not None
    assert scope.schedule is not None
    frozen = {(night.room, night.day, night.nights) for night in scope.schedule.nights}
    laid = {(night["room"], day.number, night["nights"]) for day in days for night in day.nights}
    assert frozen == laid, f"{job}"


def check_replan(job: Job, owner: User) -> None:
    """A lost day moves the days; rows and hours stay as they are."""
    first = job.days.select_related("job__company", "crew", "scope__document").earliest("date")
    was = first.date
    save_change(
        move=DayMove(kind="lost", day=first),
        user=owner,
        key=f"lost-{job.pk}",
        reason="Rain",
        seen=seen_as(job.days.order_by("date")),
        today=TODAY,
    )
    moved = list(job.days.order_by("date"))
    check_rows(job, moved)
    check_hours(job, moved)
    assert moved[0].date == was + timedelta(days=1)


def test_all_who_tell_of_days_agree_before_and_after_a_replan(company: Company) -> None:
    assert not any(holiday_name(MONDAY + timedelta(days=number)) for number in range(28))
    owner, titles = owner_of(company), []
    for quote, days in on_days(company):
        job = Job.objects.get(pk=quote.job_id)
        check_rows(job, days)
        check_hours(job, days)
        check_trips(quote, days)
        check_nights(job, days)
        check_quote(quote, days)
        check_quoted_nights(quote)
        check_replan(job, owner)
        titles.append(job.title)
    assert titles == [job.title for job in story.JOBS]
