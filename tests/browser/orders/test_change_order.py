"""Extra work noted on a phone becomes a change order that the client accepts by its link."""

from __future__ import annotations

import pytest
from django.test import Client as Browser
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from estimates.models import ChangeDraft
from jobs.models import Job, Role, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_day, make_person, make_photo
from tests.conftest import PHONE
from tests.estimates.a_job import LATER, company_of, set_prices
from tests.orders.two_rooms import learn, make_dearer, plan_hall, two_rooms, widen

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User, live_server: LiveServer, settings: Settings) -> Job:
    """Two rooms, agreed on at 903.21; since then rates were learned and all became dearer."""
    settings.SITE_URL = live_server.url
    company = company_of(owner)
    company.address, company.phone = "12 Mill Road\nMarlow, PA 17000", "555-0103"
    company.email, company.license = "office@fernwood.example.com", "PA-5550103"
    company.save()
    set_prices(company)
    agreed = two_rooms(owner)
    learn(company)
    make_dearer(company, LATER)
    return Job.objects.get(pk=agreed.pk)


def sign_in(hands: Hands, person: User) -> None:
    signed_in = Browser()
    signed_in.force_login(person)
    cookie = signed_in.cookies["sessionid"].value
    hands.page.context.clear_cookies()
    hands.page.context.add_cookies([{"name": "sessionid", "value": cookie, "url": hands.base}])


def test_extra_work_of_the_evening_is_accepted_by_link(hands: Hands, job: Job, owner: User) -> None:
    member = make_person(job.company, Role.CREW, name="Bo Reed")
    make_day(job, make_crew(job.company, member))
    sign_in(hands, member)
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.open(f"/jobs/{job.pk}/log")
    hands.press("Note extra work")
    look_at(hands, "change-1-extra")
    hands.fill(text="Take the shelf in the hall down", asked_by="Ines Okafor", hours="2")
    hands.press("Note the extra work")
    hands.expect("The extra work is noted.")
    look_at(hands, "change-2-log")

    sign_in(hands, owner)
    hands.open(f"/jobs/{job.pk}/changes")
    look_at(hands, "change-3-list")
    hands.press("Take the shelf in the hall down")
    # Two hours at the 48 of the quote, 12 % overhead, a margin of 25 %.
    hands.expect("$143.36")
    hands.page.locator("[name=why]").fill("The new floor runs under it.")
    hands.page.locator("[name=order_number]").fill("PO 88-2")
    hands.tick("What the plan changes belongs to it")
    hands.press("Save the words")
    widen(job)
    hands.open(f"/change-drafts/{ChangeDraft.objects.get().pk}")
    hands.expect("The plan is outdated")
    look_at(hands, "change-4-outdated")
    plan_hall(job)
    draft = ChangeDraft.objects.get()
    ChangeDraft.objects.filter(pk=draft.pk).update(photo=make_photo(job.company))
    hands.open(f"/change-drafts/{draft.pk}")
    # With the longer hall: 174.19 more.
    hands.expect("$317.55")
    look_at(hands, "change-5-draft")
    hands.press("Make the change order")
    hands.expect("is ready to be sent")
    look_at(hands, "change-6-offer")
    link = hands.page.locator("a.entry.wrap").get_attribute("href")
    assert link is not None

    hands.page.context.clear_cookies()
    hands.page.set_viewport_size({"width": PHONE, "height": 844})
    hands.page.goto(link)
    hands.expect("The most you can owe without signing again")
    hands.expect("$1,220.76")
    look_at(hands, "change-7-client")
    hands.fill(name="Ines Okafor")
    hands.tick("I have read this change order and accept it.")
    hands.press("Accept the change")
    hands.expect("Ines Okafor accepted this change")
    look_at(hands, "change-8-accepted")
    assert job.change_orders.get().agreed_by == "Ines Okafor"

    sign_in(hands, owner)
    hands.open(f"/jobs/{job.pk}/changes")
    hands.expect("The payer's order number: PO 88-2")
    look_at(hands, "change-9-agreed")
