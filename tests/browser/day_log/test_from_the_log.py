"""What the log leads to on the same evening: a change order at home, a task let go on under a hold.

And what an older page left on a phone is taken by the server of today.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from estimates.models import ChangeLine
from jobs.models import HoldOverride, LogEntry, Role, User, WorkDay
from tests.browser.test_log_offline import sign_in, status_line
from tests.builders import make_company, make_crew, make_person
from tests.jobs.agreed import agreed_job, hold_asbestos, laid_out

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("from the log"),
]

EXTRA = "Level the corner by the stove"
QUEUED = """(entry) => new Promise((done, failed) => {
  const opening = indexedDB.open("rowbook-log", 1);
  opening.onerror = () => failed(opening.error);
  opening.onsuccess = () => {
    const step = opening.result.transaction("entries", "readwrite");
    step.objectStore("entries").put({ ...entry, at: Date.now() });
    step.oncomplete = () => { opening.result.close(); done(); };
  };
})"""
"""Puts an entry into the phone's queue as the page of one person's day left it."""


@pytest.fixture
def lead() -> User:
    """The lead of a crew."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def owner(lead: User) -> User:
    """Who owns the company."""
    assert lead.company is not None
    return make_person(lead.company, Role.OWNER, name="Ada Brandt")


@pytest.fixture
def day(lead: User) -> WorkDay:
    """The first day of a job of that crew."""
    assert lead.company is not None
    return laid_out(agreed_job(lead.company), make_crew(lead.company, lead))[0]


def log_opened(page: Page, url: str, day: WorkDay, person: User) -> None:
    """Open the log of a day as somebody; the phone keeps the page."""
    page.set_viewport_size({"width": 390, "height": 844})
    sign_in(page, url, person)
    page.goto(f"{url}/days/{day.pk}/log")
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()


def save(page: Page) -> None:
    page.get_by_role("button", name="Save the log").click()


def test_an_extra_of_the_log_is_a_draft_change_order_on_the_owners_first_page(
    page: Page, browser: Browser, live_server: Any, day: WorkDay, lead: User, owner: User
) -> None:
    log_opened(page, live_server.url, day, lead)
    page.get_by_text("Extra work wanted or found").click()
    page.get_by_label("What is wanted, or what was found").fill(EXTRA)
    page.get_by_label("Who wants it").fill("Ines Okafor")
    page.get_by_label("About how many hours").fill("2.5")
    save(page)
    expect(page.get_by_text("The log is saved.")).to_be_visible()
    with browser.new_context() as desk:
        home = desk.new_page()
        sign_in(home, live_server.url, owner)
        home.goto(f"{live_server.url}/")
        link = home.get_by_role("link", name=f"To be priced: “{EXTRA}”")
        link.click()
        expect(home.get_by_role("heading", name="Draft of a change order")).to_be_visible()
        expect(home.get_by_label("Who wants it")).to_have_value("Ines Okafor")
    line = ChangeLine.objects.get()
    assert (line.draft.text, line.quantity, line.unit) == (EXTRA, Decimal("2.5"), "h")


def test_the_owner_lets_a_task_go_on_from_the_log_and_the_crew_logs_it(
    page: Page, browser: Browser, live_server: Any, day: WorkDay, lead: User, owner: User
) -> None:
    hold_asbestos(day.job)
    tear_out = f"[name='hours-tear_out-1-{lead.pk}']"
    log_opened(page, live_server.url, day, lead)
    page.locator(tear_out).fill("2")
    save(page)
    expect(page.get_by_role("main")).to_contain_text("on hold: The old floor may hold asbestos")
    assert not LogEntry.objects.exists()
    with browser.new_context() as desk:
        office = desk.new_page()
        log_opened(office, live_server.url, day, owner)
        office.get_by_role("link", name="Let a task go on").click()
        office.get_by_label("Task").select_option(value="tear_out:Den")
        office.get_by_label("Reason").fill("Report 1182 has no asbestos in the den")
        office.get_by_role("button").filter(has_text="go on").click()
        expect(office.get_by_role("main")).to_contain_text("Report 1182")
    kept = HoldOverride.objects.get()
    assert (kept.task, kept.by, kept.user) == ("tear_out:Den", "Ada Brandt", owner)
    page.goto(f"{live_server.url}/days/{day.pk}/log")
    page.locator(tear_out).fill("2")
    save(page)
    expect(page.get_by_text("The log is saved.")).to_be_visible()
    assert LogEntry.objects.get().task == "tear_out"


def test_what_an_older_page_left_on_the_phone_is_taken_once(
    page: Page, live_server: Any, day: WorkDay, lead: User
) -> None:
    log_opened(page, live_server.url, day, lead)
    fields = {"key": "of-before", "scope": day.scope_id, "who": lead.pk, "hours-setup-0": "1.5"}
    fields |= {"hours-lay-1": "3", "to-lay-1": "2", "spoiled-lay-1": "1", "reason-lay-1": "defect"}
    entry = {"key": "of-before-1", "person": str(lead.pk), "url": f"/days/{day.pk}/log"}
    entry |= {"day": "Job 1, day 1", "labels": {}}  # type: ignore[dict-item]
    sent = [[name, str(value)] for name, value in fields.items()]
    page.evaluate(QUEUED, entry | {"fields": sent})
    page.goto(f"{live_server.url}/days/{day.pk}")
    status_line(page).to_have_text("1 entry sent.")
    page.reload()
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    entries = day.log.order_by("task").values_list("task", "hours", "row_from", "row_to")
    assert list(entries) == [("lay", Decimal(3), 1, 2), ("setup", Decimal("1.5"), None, None)]
    assert day.log.get(task="lay").planks_spoiled == 1
