"""The floor passport: made for a closed job, sent with the final invoice, a plank picked."""

from __future__ import annotations

import os
import re

import pytest
from playwright.sync_api import expect
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from estimates.models import FloorPassport
from jobs.models import Client, Job, User
from jobs.worker.worker import carry_out_waiting
from tests.browser.hands import Hands, look_at
from tests.conftest import PHONE
from tests.estimates.a_job import an_agreed_job, company_of, set_prices
from tests.mail_server import mail_server

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def job(owner: User, live_server: LiveServer, settings: Settings) -> Job:
    """An agreed job whose homeowner has an address for mail."""
    settings.SITE_URL = live_server.url
    company = company_of(owner)
    company.address, company.phone = "12 Mill Road, Marlow", "555-0103"
    company.email = "office@fernwood.example.com"
    company.save()
    set_prices(company)
    agreed = an_agreed_job(owner)
    Client.objects.update(email="ines@example.com")
    return Job.objects.get(pk=agreed.pk)


def leave_a_carton(hands: Hands, job: Job) -> None:
    hands.open(f"/jobs/{job.pk}/purchases/add")
    hands.choose(kind="Left in the attic", code="Flooring, per carton")
    hands.fill(quantity="1", lot="A12")
    hands.press("Save the purchase")
    hands.expect("Left in the attic")


def make_the_link(hands: Hands, job: Job) -> str:
    hands.open(f"/jobs/{job.pk}/review")
    hands.page.get_by_role("button", name=re.compile("^Close the job")).click()
    hands.press("Open the floor passport")
    hands.expect("No link was made yet.")
    look_at(hands, "passport-1-none")
    hands.press("Make the link")
    hands.expect("is open")
    look_at(hands, "passport-2-office")
    return str(hands.page.locator("a.entry.wrap").get_attribute("href"))


def at_the_link(hands: Hands, link: str) -> Hands:
    """Somebody with a phone, no sign-in and no scripts."""
    chromium = hands.page.context.browser
    assert chromium is not None
    phone = {"width": PHONE, "height": 844}
    page = chromium.new_context(viewport=phone, java_script_enabled=False).new_page()  # type: ignore[arg-type]
    page.goto(link)
    return Hands(page=page, base="", shoot=hands.shoot)


def test_a_damaged_plank_is_picked_on_the_map(hands: Hands, job: Job) -> None:
    leave_a_carton(hands, job)
    link = make_the_link(hands, job)
    home = at_the_link(hands, link)
    for said in ("lot A12", "10 planks", "555-0103", "† Common practice, no source"):
        expect(home.page.get_by_role("main")).to_contain_text(said)
    # By a finger on the map, without a script.
    home.page.locator("svg a").nth(4).click()
    home.page.wait_for_url(re.compile(r"\?floor=1&row=\d+&plank=\d+"))
    home.expect("A whole plank from the attic, 10 there")
    # By its numbers.
    home.fill(row="2", plank="1")
    home.press("Show what fits")
    home.expect("Row 2, plank 1")
    home.expect("out before it")
    hands.page.goto(f"{link}?floor=1&row=2&plank=1")
    look_at(hands, "passport-3-picked")
    hands.page.goto(f"{link}?floor=1&row=99&plank=1")
    hands.expect("99 can't be used")
    look_at(hands, "passport-4-refused")
    hands.page.goto(link)
    look_at(hands, "passport-5-phone")
    if shots := os.environ.get("SHOTS"):
        hands.page.pdf(path=f"{shots}/passport.pdf", format="Letter")


def test_the_final_invoice_and_the_signed_slip_bring_it(hands: Hands, job: Job) -> None:
    link = make_the_link(hands, job)
    with mail_server(timeout=10) as box:
        hands.open(f"/jobs/{job.pk}/invoices")
        hands.page.get_by_label("Final payment").first.check()
        hands.press("Issue the invoice")
        hands.expect("is issued.")
        hands.expect("The link of the floor passport is in it.")
        hands.press("Mail the invoice")
        hands.expect("The mail is on its way.")
        carry_out_waiting()
        (came,) = box.to("ines@example.com")
    body = came.get_body(("plain",))
    assert body is not None
    assert link in body.get_content()
    hands.open(f"/jobs/{job.pk}/completion")
    hands.fill(name="Ines Okafor")
    hands.page.locator("[name=done]").check()
    hands.press("Sign the slip")
    hands.expect("Your floor passport")
    look_at(hands, "passport-6-slip")
    assert hands.page.locator("a.entry.wrap").get_attribute("href") == link


def test_a_revoked_link_opens_nothing(hands: Hands, job: Job) -> None:
    link = make_the_link(hands, job)
    hands.press("Revoke the link")
    hands.expect("opens nothing")
    assert FloorPassport.objects.get().revoked_at is not None
    home = at_the_link(hands, link)
    home.expect("This link opens nothing")
