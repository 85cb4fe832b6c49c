"""Two days logged without signal, the browser closed and opened again: everything counts once."""

from __future__ import annotations

import random
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone
from PIL import Image
from playwright.sync_api import BrowserContext, BrowserType, Page, expect

from jobs.models import DayLog, LogEntry, LogPhoto, Role, SentOnce, User, WorkDay
from tests.browser.test_log_offline import sign_in, status_line
from tests.builders import make_company, make_crew, make_person
from tests.jobs.agreed import agreed_job, laid_out

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log two days"),
]


@pytest.fixture
def lead() -> User:
    """The lead of a crew."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def days(lead: User) -> list[WorkDay]:
    """The first two days of a job of that crew."""
    assert lead.company is not None
    return laid_out(agreed_job(lead.company), make_crew(lead.company, lead))[:2]


class Phone:
    """A browser that keeps what it has from one opening to the next."""

    def __init__(self, kind: BrowserType, how: dict[str, Any], folder: Path, url: str) -> None:
        self.kind, self.how, self.folder, self.url = kind, how, folder, url

    def opened(self) -> BrowserContext:
        """Return the browser as it is opened."""
        return self.kind.launch_persistent_context(str(self.folder), **self.how)

    def kept(self, page: Page, day: WorkDay) -> None:
        """Open the log of a day with signal, so that it opens without."""
        page.goto(f"{self.url}/days/{day.pk}/log")
        expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()

    def logged(self, page: Page, day: WorkDay, picture: Path) -> None:
        """Log a day as planned, with two photographs."""
        page.goto(f"{self.url}/days/{day.pk}/log")
        page.get_by_role("link", name="As planned").click()
        page.get_by_label("Take a photo").set_input_files(picture)
        page.get_by_label("Before").set_input_files(picture)
        page.get_by_role("button", name="Save the log").click()


def test_two_days_without_signal_and_the_browser_closed_count_once(
    browser_type: BrowserType,
    browser_type_launch_args: dict[str, Any],
    live_server: Any,
    days: list[WorkDay],
    lead: User,
    tmp_path: Path,
) -> None:
    picture = tmp_path / "den.jpg"
    Image.new("RGB", (60, 40), "tan").save(picture)
    phone = Phone(browser_type, browser_type_launch_args, tmp_path / "phone", live_server.url)
    first = phone.opened()
    page = first.new_page()
    sign_in(page, live_server.url, lead)
    for day in days:
        phone.kept(page, day)
    first.set_offline(True)
    for number, day in enumerate(days, start=1):
        phone.logged(page, day, picture)
        said = "1 entry waits" if number == 1 else "2 entries wait"
        status_line(page).to_have_text(f"{said} for signal.")
    assert not LogEntry.objects.exists()
    first.close()
    again = phone.opened()
    again.set_offline(True)
    page = again.new_page()
    page.goto(f"{live_server.url}/days/{days[0].pk}/log")
    status_line(page).to_have_text("2 entries wait for signal.")
    again.set_offline(False)
    status_line(page).to_have_text("2 entries sent.")
    for _ in range(2):
        page.reload()
        expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    again.close()
    assert list(DayLog.objects.order_by("day__date").values_list("day", flat=True)) == [
        day.pk for day in days
    ]
    assert LogPhoto.objects.count() == 4
    for day in days:
        planned = sum(float(entry["hours"]) for entry in day.entries)
        assert sum(float(entry.hours) for entry in day.log.all()) == pytest.approx(
            planned, abs=0.125
        )


def test_a_server_put_back_to_an_earlier_day_is_sent_again_what_it_had_taken(
    page: Page, live_server: Any, days: list[WorkDay], lead: User, tmp_path: Path
) -> None:
    picture = tmp_path / "den.jpg"
    Image.new("RGB", (60, 40), "tan").save(picture)
    sign_in(page, live_server.url, lead)
    page.goto(f"{live_server.url}/days/{days[0].pk}/log")
    page.get_by_role("link", name="As planned").click()
    page.get_by_label("Take a photo").set_input_files(picture)
    page.get_by_role("button", name="Save the log").click()
    expect(page.get_by_text("The log is saved.")).to_be_visible()
    said = sum(entry.hours for entry in LogEntry.objects.all())
    page.clock.set_fixed_time(timezone.now() + timedelta(hours=2))
    page.goto(f"{live_server.url}/days/{days[0].pk}")
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    assert DayLog.objects.count() == 1  # it is still there: nothing is sent
    LogEntry.objects.all().delete()
    DayLog.objects.all().delete()
    SentOnce.objects.all().delete()
    page.clock.set_fixed_time(timezone.now() + timedelta(hours=4))
    page.goto(f"{live_server.url}/days/{days[0].pk}")
    status_line(page).to_have_text("1 entry sent.")
    assert DayLog.objects.count() == LogPhoto.objects.count() == 1
    assert sum(entry.hours for entry in LogEntry.objects.all()) == said


def test_a_photograph_of_forty_megabytes_is_made_smaller_on_the_phone(
    page: Page, context: BrowserContext, live_server: Any, days: list[WorkDay], tmp_path: Path
) -> None:
    picture = tmp_path / "den.png"
    across, down = 4000, 3400
    noise = random.Random(17).randbytes(across * down * 3)
    Image.frombytes("RGB", (across, down), noise).save(picture, compress_level=0)
    assert picture.stat().st_size > 40_000_000
    sign_in(page, live_server.url, days[0].crew.members.get())
    page.goto(f"{live_server.url}/days/{days[0].pk}/log")
    expect(page.locator("#log-waiting[data-kept=yes]")).to_be_attached()
    context.set_offline(True)
    page.get_by_role("link", name="As planned").click()
    page.get_by_label("Take a photo").set_input_files(picture)
    page.get_by_role("button", name="Save the log").click()
    status_line(page).to_have_text("1 entry waits for signal.")
    context.set_offline(False)
    status_line(page).to_have_text("1 entry sent.")
    assert LogPhoto.objects.get().file.size < 2_000_000
    assert LogEntry.objects.exists()


def test_a_phone_whose_clock_is_a_day_ahead_logs_the_day_of_its_page(
    page: Page, live_server: Any, days: list[WorkDay], lead: User
) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    sign_in(page, live_server.url, lead)
    page.clock.set_fixed_time("2031-01-01T08:00:00Z")
    page.goto(f"{live_server.url}/days/{days[0].pk}/log")
    page.get_by_role("link", name="As planned").click()
    page.get_by_role("button", name="Save the log").click()
    expect(page.get_by_text("The log is saved.")).to_be_visible()
    log = DayLog.objects.get()
    assert log.day == days[0]
    assert log.phone_at is not None
    assert log.phone_at.year == 2031
    assert log.at.year < 2031
