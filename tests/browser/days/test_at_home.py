"""The homeowner's days on their phone: from the accepted quote to the nights, changed days said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from estimates.models import Quote
from estimates.services import quotes as money
from installer_site.demo import story
from installer_site.demo.telling import tell
from jobs.clock import today_of
from jobs.models import Crew, Job, SiteFacts, User
from jobs.services.days import Wish, lay_out_days
from jobs.services.moved_days.replan import DayMove, seen_as
from jobs.services.moved_days.saving import save_change
from tests.browser.days.test_lost_day import some_monday
from tests.browser.hands import Hands, Shoot, look_at

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def quote(monkeypatch: pytest.MonkeyPatch) -> Quote:
    """A carpeted bedroom and hall, agreed on and on days well ahead; a tank, a piano, two cats."""
    bedroom = next(job for job in story.JOBS if job.title == "Bedroom and hall")
    monkeypatch.setattr(story, "JOBS", (replace(bedroom, stage="planned"),))
    company = tell("larch-plumb", effort_iterations=1)
    owner, today = User.objects.get(email=story.OWNER.email), today_of(company)
    job = Job.objects.get(company=company)
    SiteFacts.objects.filter(job=job).update(
        aquarium="60 gallons, hall", piano="upright, bedroom", pets="Two cats, kept in the kitchen"
    )
    made = money.make_estimate(job=job, user=owner, key="estimate", today=today)
    quote = money.issue_quote(estimate=made, user=owner, key="quote", today=today)
    money.accept_quote(quote=quote, name="Dara Voss", today=today, by_link=True)
    wish = Wish(crew=Crew.objects.get(company=company), start=some_monday(owner))
    lay_out_days(job=job, user=owner, wish=wish, today=today)
    return Quote.objects.get(pk=quote.pk)


def test_from_the_quote_to_the_days_and_what_changed(
    page: Page, live_server: LiveServer, shoot: Shoot, quote: Quote
) -> None:
    hands = Hands(page=page, base=live_server.url, shoot=shoot)
    hands.open(f"/q/{quote.token}")
    hands.press("Open your days")
    hands.expect("The aquarium (60 gallons, hall): you empty it and move it before day 1")
    hands.expect("Two cats, kept in the kitchen.")
    expect(page.get_by_role("main")).not_to_contain_text("Changed since you accepted")
    look_at(hands, "at-home-1")
    job = Job.objects.get(pk=quote.job_id)
    day = job.days.select_related("job__company", "crew", "scope__document").earliest("date")
    save_change(
        move=DayMove(kind="lost", day=day),
        user=User.objects.get(email=story.OWNER.email),
        key="lost",
        reason="No key",
        seen=seen_as(job.days.order_by("date")),
        today=today_of(job.company),
    )
    page.reload()
    hands.expect("Changed since you accepted")
    hands.expect(f"Day 1 was {day.date:%a}, {day.date:%b} {day.date.day}; it is")
    look_at(hands, "at-home-2-changed")
    with page.expect_download() as file:
        hands.press("Calendar file")
    assert file.value.suggested_filename == "your-floor.ics"
    quote.links.update(revoked_at=job.days_changes.get().made_at)
    page.reload()
    hands.expect("This link opens nothing")
