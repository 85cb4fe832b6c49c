"""A phone that two people share: nothing of the last one is shown, with signal or without."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from jobs.models import LogEntry, Role, User, WorkDay
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


def sign_in(page: Page, url: str, person: User) -> None:
    page.goto(f"{url}/sign-in")
    page.get_by_label("E-mail").fill(person.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()


def keep_the_log(page: Page, url: str, day: WorkDay) -> str:
    """Open the log of a day on the phone, which keeps it; return its address."""
    log = f"{url}/days/{day.pk}/log"
    page.goto(log)
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    assert page.evaluate("caches.has('rowbook-log')") is True
    return log


def nothing_is_shown(page: Page, context: BrowserContext, log: str) -> None:
    """See that the phone shows no log: without signal not even a page, with it the sign-in."""
    context.set_offline(True)
    with pytest.raises(Exception, match=r"ERR_INTERNET_DISCONNECTED|ERR_FAILED"):
        page.goto(log)
    context.set_offline(False)
    page.goto(log)
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def test_after_signing_out_on_any_page_nothing_is_left(
    page: Page, context: BrowserContext, live_server: Any, lead: User, day: WorkDay
) -> None:
    sign_in(page, live_server.url, lead)
    log = keep_the_log(page, live_server.url, day)
    page.goto(f"{live_server.url}/help")
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert page.evaluate("caches.has('rowbook-log')") is False
    page.go_back()
    expect(page.get_by_text("Lio Hart")).to_have_count(0)
    nothing_is_shown(page, context, log)


def test_who_did_not_sign_out_is_not_shown_to_the_next_person(
    page: Page, context: BrowserContext, live_server: Any, lead: User, day: WorkDay
) -> None:
    assert lead.company is not None
    url = live_server.url
    sign_in(page, url, lead)
    log = keep_the_log(page, url, day)
    context.set_offline(True)
    page.locator("[name^=hours-setup-0-]").fill("1")
    page.get_by_role("button", name="Save the log").first.click()
    expect(page.locator("#log-waiting-count")).to_contain_text("waits for signal")
    context.clear_cookies()  # the session has run out: it deletes nothing
    page.goto(log)
    expect(page.locator("#log-waiting-count")).to_contain_text("1 entry")
    context.set_offline(False)
    sign_in(page, url, make_person(lead.company, Role.CREW, name="Ada Lind", email="a@example.com"))
    page.goto(f"{url}/help")
    # Her own day is kept, and nothing of his.
    assert page.evaluate("url => caches.match(url).then(hit => !hit)", log) is True
    context.set_offline(True)
    with pytest.raises(Exception, match=r"ERR_INTERNET_DISCONNECTED|ERR_FAILED"):
        page.goto(log)
    context.set_offline(False)
    page.goto(f"{url}/help")
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert not LogEntry.objects.exists()
    sign_in(page, url, lead)
    page.goto(log)
    expect(page.locator("#log-waiting-count")).to_contain_text("1 entry sent")
    assert LogEntry.objects.exists()
