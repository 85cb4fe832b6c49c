"""Before a quote is accepted: a crew is penciled in, and a phone prices the job with it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from jobs.models import Crew, Job, Role, User
from tests.browser.days.test_lost_day import some_monday
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_person, make_planned_job
from tests.conftest import PHONE
from tests.estimates.a_job import set_prices

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User) -> Job:
    """A small job, planned and with a price for all it takes; the usual crew are two people."""
    assert owner.company is not None
    set_prices(owner.company)
    return make_planned_job(owner.company)


@pytest.fixture
def alone(job: Job) -> Crew:
    """A crew of one."""
    return make_crew(job.company, make_person(job.company, Role.CREW, name="Bo Reed"))


def test_a_job_is_priced_with_the_real_crew_on_a_phone(
    hands: Hands, job: Job, alone: Crew, owner: User
) -> None:
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(f"/jobs/{job.pk}/days")
    hands.page.get_by_role("link", name="Pencil in a crew").press("Enter")
    look_at(hands, "penciled-1-form")
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.choose(crew=str(alone))
    hands.fill(start=(some_monday(owner) + timedelta(days=2)).isoformat())
    hands.press("Pencil in the crew")
    hands.expect("Priced days are out of date")
    hands.expect("Crew: priced for 2 people, with this crew one person.")
    look_at(hands, "penciled-2-days")
    hands.open(f"/jobs/{job.pk}/quote")
    hands.expect("Priced days are out of date")
    look_at(hands, "penciled-3-draft")
    hands.open("/board")
    hands.expect("priced days out of date")
    look_at(hands, "penciled-4-board")
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(f"/jobs/{job.pk}/price")
    hands.expect("Priced days are out of date")
    look_at(hands, "penciled-5-price")
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    button = hands.page.get_by_role("button", name="Price it with this crew")
    box = button.bounding_box()
    assert box is not None
    assert box["height"] >= 44
    button.click()
    hands.expect(f"Priced with {alone}")
    look_at(hands, "penciled-6-priced")
    for path in (f"jobs/{job.pk}/price", f"jobs/{job.pk}/quote", f"jobs/{job.pk}/days"):
        hands.open(f"/{path}")
        expect(hands.page.get_by_role("main")).not_to_contain_text("Priced days are out of date")
        expect(hands.page.get_by_role("main")).to_contain_text(f"Priced with {alone}")
    hands.open("/board")
    expect(hands.page.get_by_role("main")).not_to_contain_text("out of date")
