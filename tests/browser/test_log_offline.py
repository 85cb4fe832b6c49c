"""The log in a basement: kept on the phone without signal, sent when it is back, counted once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from PIL import Image
from playwright.sync_api import BrowserContext, Locator, Page, expect

from jobs.models import LogEntry, LogPhoto, Role, User, WorkDay
from tests.axe import axe_faults
from tests.builders import PASSWORD, make_company, make_crew, make_person
from tests.jobs.agreed import agreed_job, laid_out

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log offline"),
]


@pytest.fixture
def lead() -> User:
    """The lead of a crew."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def day(lead: User) -> WorkDay:
    """The first day of a job of that crew."""
    assert lead.company is not None
    return laid_out(agreed_job(lead.company), make_crew(lead.company, lead))[0]


@pytest.fixture
def log(page: Page, live_server: Any, day: WorkDay, lead: User) -> Page:
    """The log page of the day on a phone that keeps it."""
    page.set_viewport_size({"width": 390, "height": 844})
    sign_in(page, live_server.url, lead)
    page.goto(f"{live_server.url}/days/{day.pk}/log")
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    return page


def sign_in(page: Page, url: str, person: User) -> None:
    page.goto(f"{url}/sign-in")
    page.get_by_label("E-mail").fill(person.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def cell(page: Page) -> Locator:
    """The hours of the one person at setting up."""
    return page.locator("[name^=hours-setup-0-]")


def take_down(page: Page, hours: str) -> None:
    cell(page).fill(hours)
    page.get_by_role("button", name="Save the log").click()


def status_line(page: Page) -> Any:
    return expect(page.locator("#log-waiting-count"))


def test_with_signal_the_log_is_taken_down_at_once(log: Page, day: WorkDay) -> None:
    take_down(log, "1.5")
    expect(log.get_by_text("The log is saved.")).to_be_visible()
    assert log.url.endswith(f"/days/{day.pk}")
    assert LogEntry.objects.count() == 1


def test_without_signal_entries_wait_and_are_sent_once_when_it_is_back(
    log: Page, context: BrowserContext
) -> None:
    context.set_offline(True)
    take_down(log, "1.5")
    status_line(log).to_have_text("1 entry waits for signal.")
    take_down(log, "2")
    status_line(log).to_have_text("2 entries wait for signal.")
    assert LogEntry.objects.count() == 0
    context.set_offline(False)
    status_line(log).to_have_text("2 entries sent.")
    assert sorted(LogEntry.objects.values_list("hours", flat=True)) == [1.5, 2]


def test_the_page_opens_without_signal_and_sends_when_it_is_opened_with_signal(
    log: Page, context: BrowserContext
) -> None:
    context.set_offline(True)
    log.reload()
    take_down(log, "1.5")
    status_line(log).to_have_text("1 entry waits for signal.")
    url = log.url
    log.close()
    context.set_offline(False)
    later = context.new_page()
    later.goto(url.removesuffix("/log"))
    status_line(later).to_have_text("1 entry sent.")
    assert LogEntry.objects.count() == 1


def test_a_photograph_waits_with_the_entry(
    log: Page, context: BrowserContext, tmp_path: Path
) -> None:
    picture = tmp_path / "den.jpg"
    Image.new("RGB", (40, 30), "tan").save(picture)
    context.set_offline(True)
    log.get_by_label("Photographs of the day").set_input_files(picture)
    take_down(log, "1")
    status_line(log).to_have_text("1 entry waits for signal.")
    context.set_offline(False)
    status_line(log).to_have_text("1 entry sent.")
    assert LogPhoto.objects.count() == 1


def test_signed_out_meanwhile_the_entry_stays_and_says_so(
    log: Page, context: BrowserContext, live_server: Any, lead: User
) -> None:
    context.set_offline(True)
    take_down(log, "1")
    Session.objects.all().delete()
    context.set_offline(False)
    status_line(log).to_have_text("1 entry kept on this phone: sign in to send.")
    sign_in(log, live_server.url, lead)
    log.goto(f"{live_server.url}/days")
    status_line(log).to_have_text("1 entry sent.")


def test_an_entry_waits_for_its_own_person_only(
    log: Page, context: BrowserContext, live_server: Any, day: WorkDay
) -> None:
    context.set_offline(True)
    take_down(log, "1")
    status_line(log).to_have_text("1 entry waits for signal.")
    Session.objects.all().delete()
    mate = make_person(day.job.company, Role.CREW)
    day.crew.members.add(mate)
    page = context.new_page()
    context.set_offline(False)
    sign_in(page, live_server.url, mate)
    page.goto(f"{live_server.url}/days/{day.pk}")
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    expect(page.locator("#log-waiting")).to_be_hidden()
    assert LogEntry.objects.count() == 0


def test_what_is_refused_later_stays_with_its_reason_until_it_is_dropped(
    log: Page, context: BrowserContext, day: WorkDay, lead: User
) -> None:
    context.set_offline(True)
    take_down(log, "20")
    status_line(log).to_have_text("1 entry waits for signal.")
    LogEntry.objects.create(day=day, who=lead, key="k", task="setup", hours=10)
    context.set_offline(False)
    status_line(log).to_have_text("1 entry not accepted.")
    expect(log.locator("#log-waiting-list")).to_contain_text("30 h (10 h logged before, 20 h now)")
    log.get_by_role("button", name="Drop this entry").click()
    log.get_by_role("button", name="Keep it").click()
    log.get_by_role("button", name="Drop this entry").click()
    log.get_by_role("button", name="Delete 1 of 1 entry for good").click()
    expect(log.locator("#log-waiting")).to_be_hidden()


def test_what_is_refused_at_once_is_shown_beside_its_field(log: Page) -> None:
    take_down(log, "25")
    expect(cell(log)).to_have_value("25")
    expect(log.locator("#log-hours .error")).to_contain_text("accepted: a number from 0 to 24.")
    expect(log.locator("#log-waiting")).to_be_hidden()


def test_signing_out_takes_the_kept_pages_along(log: Page) -> None:
    log.get_by_role("button", name="Sign out").click()
    expect(log.get_by_label("Password")).to_be_visible()
    assert log.evaluate("caches.has('rowbook-log')") is False


def test_without_script_the_log_is_an_ordinary_form(
    browser: Any, live_server: Any, day: WorkDay, lead: User
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    sign_in(page, live_server.url, lead)
    page.goto(f"{live_server.url}/days/{day.pk}/log")
    take_down(page, "1.5")
    expect(page.get_by_text("The log is saved.")).to_be_visible()
    context.close()


def test_the_crews_pages_fit_a_phone_and_axe_finds_nothing(
    log: Page, live_server: Any, day: WorkDay, shoot: Callable[[Page, str], None]
) -> None:
    for path in ("days?week=2027-03-01", f"days/{day.pk}", f"days/{day.pk}/log"):
        log.goto(f"{live_server.url}/{path}")
        shoot(log, path.replace("/", "-").split("?")[0])
        assert axe_faults(log) == []
        assert log.evaluate("document.documentElement.scrollWidth") <= 390
