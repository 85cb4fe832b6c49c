"""From the price to an issued quote with two choices: typed, seen while it is typed, previewed."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from estimates.models import PriceItem, Quote
from estimates.readers.quote import stored_quote
from jobs.clock import today_of
from jobs.models import ExistingFloor, Job, SiteFacts, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_plan, make_planned_job, make_room, make_run, make_zone
from tests.estimates.a_job import company_of, set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """A den and a hall, planned and priced: carpet comes out, base comes off and goes back."""
    company = company_of(owner)
    set_prices(company)
    PriceItem.objects.update(last_seen=today_of(company))
    planned = make_planned_job(company)
    den = planned.rooms.get()
    den.furniture = "full"
    den.save()
    make_run(den)
    make_plan(make_zone(make_room(planned, name="Hall", size=(120, 48))))
    SiteFacts.objects.filter(job=planned).update(existing_floor=ExistingFloor.CARPET, tear_out=True)
    return planned


def test_a_quote_with_two_choices_is_drafted_previewed_and_issued(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/price")
    hands.press("Write the quote")
    hands.expect("take up the carpet and its pad and haul them away")
    look_at(hands, "draft-1-empty")
    hands.page.get_by_label("A price for each room").check()
    hands.fill(color="Demo Sand")
    hands.choose(second_way="New baseboard")
    hands.settle()
    hands.expect("color Demo Sand")
    hands.expect("Your baseboard back")
    look_at(hands, "draft-2-choices")
    assert not Quote.objects.exists()
    hands.press("Preview the quote")
    hands.expect("Preview: nothing is sent yet")
    assert hands.page.locator("input:checked").count() == 0
    look_at(hands, "draft-3-preview")
    hands.press("Issue the quote")
    expect(hands.page).to_have_url(re.compile(r"/quotes/\d+$"))
    quote = stored_quote(Quote.objects.get())
    assert [choice.name for choice in quote.choices] == ["Your baseboard back", "New baseboard"]
    assert sum(room.amount or 0 for room in quote.rooms) == quote.total
