"""The owner looks who did what and who is signed in, hands a client's data over, and erases it."""

from __future__ import annotations

import json
from zipfile import ZipFile

import pytest
from playwright.sync_api import expect

from jobs.models import Client, Company, User
from jobs.services.sweeping.sweep import KIND
from jobs.worker.daily import SUBJECT
from jobs.worker.errands import ask
from jobs.worker.worker import carry_out_waiting
from tests.axe import axe_faults
from tests.browser.hands import Hands
from tests.builders import make_client, make_job, make_note, make_room

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def the_company() -> Company:
    company = User.objects.get(role="owner").company
    assert company
    return company


def test_who_did_what_is_searched_and_a_device_signed_out(hands: Hands) -> None:
    page = hands.page
    hands.open("/clients/add")
    hands.fill(name="Zerafina Quill")
    hands.press("Save the client")
    hands.open("/company")
    hands.press("Open all that was changed")
    page.get_by_label("Words, a name").fill("zerafina")
    hands.press("Search the lines")
    expect(page.get_by_text("Added Zerafina Quill")).to_be_visible()
    hands.see("audit")
    assert axe_faults(page) == []
    hands.open("/password")
    hands.press("Open where you are signed in")
    expect(page.get_by_text("this one")).to_be_visible()
    hands.see("sessions")
    assert axe_faults(page) == []
    page.get_by_role("button", name="Sign out Chrome").or_(
        page.get_by_role("cell").get_by_role("button")
    ).first.click()
    expect(page.get_by_label("E-mail")).to_be_visible()


def test_a_client_is_handed_over_and_erased(hands: Hands) -> None:
    page, company = hands.page, the_company()
    client = make_client(company, "Zerafina Quill", phone="555-0142")
    job = make_job(company, client=client, title="Quill, hall")
    make_note(make_room(job))
    hands.open(f"/clients/{client.pk}")
    hands.press("What is kept of Zerafina Quill")
    expect(page.get_by_text("once these are closed or archived")).to_be_visible()
    hands.see("client-data")
    assert axe_faults(page) == []
    with page.expect_download() as handed:
        page.get_by_role("button", name="Download all of it").click()
    kept = json.loads(ZipFile(handed.value.path()).read("kept.json"))
    assert kept["client"][0]["phone"] == "555-0142"
    page.get_by_role("link", name=f"job {job.number}").click()
    page.get_by_role("button", name="Archive the job").click()
    hands.open(f"/clients/{client.pk}/data")
    hands.press("Erase Zerafina Quill")
    hands.see("client-erase")
    assert axe_faults(page) == []
    page.get_by_role("button", name="Erase Zerafina Quill").click()
    expect(page.get_by_text("The client is erased.")).to_be_visible()
    assert not Client.objects.filter(name__contains="Quill").exists()


def test_how_long_photographs_are_kept(hands: Hands) -> None:
    page = hands.page
    hands.open("/company")
    hands.press("Open what is kept")
    hands.choose(photographs_months="2 years")
    hands.press("Save how long")
    assert Company.objects.get(pk=the_company().pk).photographs_months == 24
    ask(company=the_company(), kind=KIND, subject=SUBJECT, payload={})
    carry_out_waiting()
    hands.open("/company/keeping")
    expect(page.get_by_text("Photographs past their time")).to_be_visible()
    hands.see("keeping")
    assert axe_faults(page) == []
