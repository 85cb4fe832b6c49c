"""Days of a job at a browser: the chart, a lost day with its effect first, saved, undone."""

from __future__ import annotations

import os
import re
from datetime import date, timedelta
from io import BytesIO
from math import hypot

import pytest
from playwright.sync_api import expect
from pypdf import PageObject, PdfReader

from jobs.clock import today_of
from jobs.domain.days.placed.reasons import day_words
from jobs.models import Job, Role, User
from tests.browser.hands import Hands, look_at
from tests.builders import make_crew, make_person
from tests.jobs.agreed import hold_asbestos
from tests.jobs.moved import on_days, worked_job

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def some_monday(owner: User) -> date:
    """A Monday well ahead, in a week without a federal holiday next to it."""
    assert owner.company is not None
    monday = today_of(owner.company) + timedelta(days=7)
    while monday.weekday() or monday.month in (1, 2, 5, 6, 7, 9, 10, 11, 12):
        monday += timedelta(days=1)
    return monday


@pytest.fixture
def job(owner: User) -> Job:
    """A job of two people on four days or five."""
    assert owner.company is not None
    job = worked_job(owner.company)
    people = [make_person(owner.company, Role.CREW) for _ in range(2)]
    monday = some_monday(owner)
    crew = make_crew(owner.company, *people)
    on_days(job, crew, owner, monday, today_of(owner.company))
    return job


def test_the_chart_fits_both_sizes_and_says_why(hands: Hands, job: Job) -> None:
    hold_asbestos(job)
    hands.open(f"/jobs/{job.pk}/days")
    hands.expect("Why each task stands where it stands")
    hands.page.locator(".days-why summary").click()
    look_at(hands, "days-chart")


@pytest.fixture
def long_job(owner: User) -> Job:
    """The same job for one person: eight days and more."""
    assert owner.company is not None
    job = worked_job(owner.company, people=1)
    crew = make_crew(owner.company, make_person(owner.company, Role.CREW))
    on_days(job, crew, owner, some_monday(owner), today_of(owner.company))
    return job


def printed(hands: Hands) -> list[PageObject]:
    """The sheets of the printed page that lie across."""
    shots = os.environ.get("SHOTS")
    path = f"{shots}/days-print.pdf" if shots else None
    pdf = hands.page.pdf(path=path, prefer_css_page_size=True)
    sheets = PdfReader(BytesIO(pdf)).pages
    return [one for one in sheets if one.mediabox.width > one.mediabox.height]


def sizes_of(sheet: PageObject) -> set[float]:
    """How high the letters of a sheet are, in points."""
    sizes: set[float] = set()

    def look(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        if text.strip():
            sizes.add(round(size * hypot(tm[2], tm[3]) * hypot(cm[2], cm[3]), 2))

    sheet.extract_text(visitor_text=look)
    return sizes


def test_a_long_job_prints_on_several_sheets_with_no_letter_under_9_points(
    hands: Hands, long_job: Job
) -> None:
    hold_asbestos(long_job)
    days = long_job.days.count()
    assert days >= 8
    hands.open(f"/jobs/{long_job.pk}/days")
    sheets = printed(hands)
    assert len(sheets) == 2
    assert min(size for sheet in sheets for size in sizes_of(sheet)) >= 9
    said = " ".join(sheet.extract_text() for sheet in sheets)
    for number in range(1, days + 1):
        assert f"trip {number} ·" in said


def test_the_chart_prints_whole_in_black_and_white(hands: Hands, job: Job) -> None:
    hold_asbestos(job)
    hands.open(f"/jobs/{job.pk}/days")
    paper = (960, 720)  # Letter across, less half an inch all around, at 96 to the inch
    hands.page.set_viewport_size({"width": paper[0], "height": paper[1]})
    hands.page.emulate_media(media="print", color_scheme="light")
    chart = hands.page.locator(".days-paper svg").first
    expect(chart).to_be_visible()
    expect(hands.page.locator(".days-down")).to_be_hidden()
    expect(hands.page.locator(".days-chart")).to_be_hidden()
    box = chart.bounding_box()
    assert box is not None
    assert box["width"] <= paper[0]
    assert box["height"] <= paper[1]
    colors = chart.evaluate(
        """svg => [...svg.querySelectorAll('rect, polygon, line, path, text')].flatMap(one => {
             const style = getComputedStyle(one); return [style.fill, style.stroke]; })"""
    )
    for color in set(colors):
        parts = [int(part) for part in re.findall(r"\d+", color)[:3]]
        assert len(set(parts)) <= 1 or max(parts) - min(parts) < 20, color


def test_a_lost_day_shows_its_effect_is_saved_with_a_reason_and_undone(
    hands: Hands, job: Job
) -> None:
    dates = [day.date for day in job.days.order_by("date")]
    second = job.days.get(number=2)
    hands.open(f"/jobs/{job.pk}/days")
    hands.press("Lost day: day 2")
    # Tuesday is full, with the old floor and a run to the dump: the hand-over is a day later.
    # Nothing has moved yet.
    later = dates[-1] + timedelta(days=1)
    row = hands.page.get_by_role("row").filter(has_text="Job done")
    expect(row.get_by_text(day_words(dates[-1]), exact=True)).to_have_count(1)
    expect(row.get_by_text(day_words(later), exact=True)).to_have_count(1)
    actions = hands.page.locator("form .actions").last
    expect(actions.locator("a, button").first).to_have_text("Leave it")
    look_at(hands, "day-lost")
    assert [day.date for day in job.days.order_by("date")] == dates
    hands.press("Lose this day")
    hands.fill(reason="Rain, the truck can't be unloaded")
    hands.press("Lose this day")
    hands.expect("Day 2 is lost: Rain")
    assert job.days.get(number=2).date == dates[1] + timedelta(days=1)
    assert job.days.get(number=2).pk == second.pk
    assert [day.date for day in job.days.order_by("date")] == [dates[0], *dates[2:], later]
    look_at(hands, "days-after-lost")
    hands.press("Undo")
    hands.expect("The days lie as they did before.")
    assert [day.date for day in job.days.order_by("date")] == dates
    assert job.days.get(number=2).entries == second.entries


def test_a_day_moved_to_a_saturday_shows_its_effect_before_it_is_saved(
    hands: Hands, job: Job
) -> None:
    last = job.days.latest("date")
    saturday = last.date + timedelta(days=5 - last.date.weekday())
    hands.open(f"/jobs/{job.pk}/days")
    hands.press(f"Move day {last.number}")
    hands.page.locator("input[type=date][name=to]").fill(saturday.isoformat())
    hands.press("Show the effect")
    row = hands.page.get_by_role("row").filter(has_text="Job done")
    expect(row).to_contain_text(day_words(saturday))
    look_at(hands, "day-move")
    hands.fill(reason="The homeowner asks for it")
    hands.press("Move the day")
    hands.expect(f"Day {last.number} is moved")
    assert job.days.latest("date").date == saturday
