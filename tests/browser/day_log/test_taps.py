"""A day logged by taps: how many it takes, without a key; what two phones say of one day."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from jobs.models import Company, DayLog, LogEntry, PunchItem, Role, User, WorkDay
from jobs.services.days import Wish, lay_out_days
from tests.axe import axe_faults
from tests.browser.test_log_offline import sign_in
from tests.builders import (
    make_company,
    make_crew,
    make_job,
    make_person,
    make_plan,
    make_room,
    make_zone,
)
from tests.jobs.agreed import MONDAY, agree, make_scope

pytestmark = [
    pytest.mark.browser,
    pytest.mark.django_db(transaction=True),
    pytest.mark.xdist_group("log taps"),
]

NO_BOX = """() => [...document.querySelectorAll(
    'main a, main button, main input, main summary, main select')]
  .filter((one) => one.offsetParent && one.type !== 'hidden')
  .filter((one) => {
    const target = ['checkbox', 'radio'].includes(one.type) ? one.labels[0] : one;
    const box = target ? target.getBoundingClientRect() : { height: 0, width: 0 };
    return Math.min(box.height, box.width) < 43.9;
  })
  .map((one) => one.tagName + ' ' + (one.name || one.textContent.trim()))"""
"""What is smaller than a thumb; what is ticked is as large as its label, which ticks it too."""


@pytest.fixture
def lead() -> User:
    """The lead of a crew of two."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def helper(lead: User) -> User:
    """The helper of that crew."""
    assert lead.company is not None
    return make_person(lead.company, Role.CREW, name="Kim Vance")


@pytest.fixture
def day(lead: User, helper: User) -> WorkDay:
    """Its day: set up, tear out, lay; a den of eight rows is drawn."""
    assert lead.company is not None
    return a_day(lead.company, lead, helper)


def a_day(company: Company, *people: User) -> WorkDay:
    """Return the first day of a job with three tasks of two people on it."""
    job = make_job(company)
    plan = make_plan(make_zone(make_room(job, size=(150, 55.4))))
    scope = make_scope(job, plan_sha256=plan.document.sha256)
    owner = make_person(company)
    wish = Wish(crew=make_crew(company, *people), start=MONDAY)
    return lay_out_days(job=agree(job, scope), user=owner, wish=wish, today=MONDAY)[0]


class Thumb:
    """Taps on a page, counted; a file takes two: one opens the camera, one takes the picture."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0

    def tap(self, where: Locator, **how: Any) -> None:
        self.taps += 1
        where.click(**how)

    def pick(self, where: Locator, file: Path) -> None:
        self.taps += 2
        where.set_input_files(file)

    def save(self) -> None:
        self.tap(self.page.get_by_role("button", name="Save the log"))
        expect(self.page.get_by_text("The log is saved.")).to_be_visible()


def opened(page: Page, url: str, day: WorkDay, person: User) -> Thumb:
    """Open the page of a day, a phone in the hand; the taps count from there."""
    page.set_viewport_size({"width": 390, "height": 844})
    sign_in(page, url, person)
    page.goto(f"{url}/days/{day.pk}")
    thumb = Thumb(page)
    thumb.tap(page.get_by_role("link", name="Log this day"))
    return thumb


def test_a_day_that_went_as_planned_is_three_taps(
    page: Page, live_server: Any, day: WorkDay, lead: User, helper: User
) -> None:
    thumb = opened(page, live_server.url, day, lead)
    thumb.tap(page.get_by_role("link", name="As planned"))
    thumb.save()
    assert thumb.taps <= 3
    planned = sum((Decimal(entry["hours"]) for entry in day.entries), Decimal(0))
    hours = {who: hours_of(day, who) for who in (lead, helper)}
    assert abs(sum(hours.values(), Decimal(0)) - planned) <= Decimal("0.125")
    assert all(hours.values())
    rows = LogEntry.objects.filter(row_to__isnull=False).values_list("row_from", "row_to")
    stop = next(entry["rows"] for entry in day.entries if entry["task"] == "lay")
    assert stop is not None
    assert list(rows) == [tuple(stop)]


def hours_of(day: WorkDay, who: User) -> Decimal:
    """Return the hours of a person in the log of a day."""
    return sum((entry.hours for entry in day.log.filter(who=who)), Decimal(0))


def test_two_people_three_tasks_eight_rows_a_spoiled_plank_and_a_photo_are_under_eighteen_taps(
    page: Page, live_server: Any, day: WorkDay, lead: User, helper: User, tmp_path: Path
) -> None:
    picture = tmp_path / "row.jpg"
    Image.new("RGB", (40, 30), "tan").save(picture)
    keys: list[str] = []
    page.expose_function("keyTyped", lambda key: keys.append(key))
    page.add_init_script("addEventListener('keydown', (event) => window.keyTyped(event.key))")
    thumb = opened(page, live_server.url, day, lead)
    thumb.tap(page.get_by_role("link", name="As planned"))
    thumb.tap(page.locator(".log-drawing [data-row='8']"))
    cell = page.locator(f"[name='hours-tear_out-1-{helper.pk}']")
    before = Decimal(cell.input_value() or "0")
    thumb.tap(cell)
    thumb.tap(page.get_by_role("button", name="+ ¼ hour"))
    thumb.tap(page.get_by_role("button", name="+ ¼ hour"))
    thumb.tap(page.get_by_role("button", name="Cut from the wrong side", exact=True))
    thumb.pick(page.get_by_label("Take a photo"), picture)
    thumb.save()
    assert thumb.taps <= 18
    assert keys == []
    log = DayLog.objects.get()
    assert log.photos.count() == 1
    assert {entry.task for entry in log.entries.all()} >= {"setup", "tear_out", "lay"}
    assert hours_of(day, helper) > 0
    entry = log.entries.get(task="tear_out", who=helper)
    assert entry.hours == before + Decimal("0.5")
    (rows,) = log.entries.filter(row_to__isnull=False).values_list("row_from", "row_to")
    assert rows == (1, 8)
    (spoiled,) = log.entries.filter(planks_spoiled__gt=0)
    assert (spoiled.planks_spoiled, spoiled.spoil_reason) == (1, "wrong side")


def test_the_log_fits_a_phone_and_a_desk_and_axe_finds_nothing(
    page: Page,
    live_server: Any,
    day: WorkDay,
    lead: User,
    helper: User,
    shoot: Callable[[Page, str], None],
) -> None:
    PunchItem.objects.create(job=day.job, text="The door rubs", who=lead)
    thumb = opened(page, live_server.url, day, lead)
    thumb.tap(page.get_by_role("link", name="As planned"))
    thumb.tap(page.locator(f"[name='hours-lay-1-{helper.pk}']"))
    for summary in page.locator("#log-form summary").all():
        summary.click()
    assert page.locator("#log-form input[type=checkbox]").count() > 1
    for wide in (390, 1280):
        page.set_viewport_size({"width": wide, "height": 844})
        shoot(page, f"log-{wide}")
        assert axe_faults(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= wide
        assert page.evaluate(NO_BOX) == []


def test_a_persons_day_told_by_two_phones_is_asked_about_before_it_counts(
    page: Page, browser: Any, live_server: Any, day: WorkDay, lead: User, helper: User
) -> None:
    thumb = opened(page, live_server.url, day, lead)
    thumb.tap(page.get_by_role("link", name="As planned"))
    thumb.save()
    said = hours_of(day, helper)
    context = browser.new_context()
    other = context.new_page()
    second = opened(other, live_server.url, day, helper)
    other.locator(f"[name='hours-lay-1-{helper.pk}']").fill("2")
    second.save()
    context.close()
    page.goto(f"{live_server.url}/days/{day.pk}")
    expect(page.get_by_text("said by two phones")).to_be_visible()
    counting = day.log.filter(who=helper, standing="counts")
    assert sum(entry.hours for entry in counting) == said
    page.get_by_role("link", name="Answer for Kim Vance").click()
    page.get_by_label("All of it was worked").check()
    page.get_by_role("button", name="Save the answer").click()
    expect(page.get_by_text("said by two phones")).to_be_hidden()
    assert sum(entry.hours for entry in counting.all()) == said + 2
