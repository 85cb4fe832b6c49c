"""The day on which a floor goes on: first cuts, and the offcuts of days before that it starts from.

What is an offcut of before is counted from the plan's pieces alone: a plank with a piece in a row
before the day and one in a row of it.
"""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from jobs.models import FloorPlan, Job, Rate, User, WorkDay
from jobs.readers.stored_plan import stored_plan
from jobs.services.scope import freeze_scope
from layout.values.plan import Plan
from tests.builders import make_company, make_crew, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import MONDAY, agree, laid_out
from tests.jobs.plans import planned
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def lead() -> User:
    """The lead of a crew of one."""
    return make_person(make_company(time_zone="UTC"), "crew")


@pytest.fixture
def job(lead: User) -> Job:
    """A den of 120 by 100 in that one person lays on several days: 40 h for 100 ft2."""
    company = lead.company
    assert company is not None
    Rate.objects.create(
        company=company, task="lay", driver="floor_area", hours=Decimal(40), per=Decimal(100)
    )
    job = make_job(company)
    planned(make_zone(make_room(job, size=(120, 100))))
    agree(job, freeze_scope(job=job, user=None))
    laid_out(job, make_crew(company, lead))
    return job


def plan_of(job: Job) -> Plan:
    return stored_plan(FloorPlan.objects.get(zone__job=job)).plan


def rows_of_day(day: WorkDay) -> tuple[int, int]:
    first, last = next(entry["rows"] for entry in day.entries if entry["rows"])
    return first, last


def going_on(job: Job) -> WorkDay:
    """The first day that begins with an offcut of an earlier one."""
    for day in job.days.order_by("date"):
        if any(entry["rows"] for entry in day.entries) and planks_of_before(job, day):
            return day
    message = "no day goes on with an offcut"
    raise AssertionError(message)


def planks_of_before(job: Job, day: WorkDay) -> set[int]:
    first, last = rows_of_day(day)
    pieces = plan_of(job).pieces
    before = {piece.plank for piece in pieces if piece.row < first}
    return before & {piece.plank for piece in pieces if first <= piece.row <= last}


def today(lead: User, day: WorkDay) -> str:
    """What the lead reads on this day."""
    visitor = Visitor()
    with travel(f"{day.date}T12:00Z", tick=False):
        visitor.force_login(lead)
        return words(visitor.get(reverse("today")))


def section(page: str, begins: str, ends: str) -> str:
    return page.partition(begins)[2].partition(ends)[0]


def test_today_begins_with_its_first_cuts_and_the_offcuts_of_before(job: Job, lead: User) -> None:
    day = going_on(job)
    first, last = rows_of_day(day)
    page = today(lead, day)
    assert f"Rows {first} to {last}" in page
    assert f"Stop at row {last}" in page
    cuts = section(page, "First cuts, Den", "Offcuts to start from")
    shown = [int(row) for row in re.findall(r'<span class="ring">(\d+)<', cuts)]
    assert shown == list(range(first, min(first + 3, last + 1)))
    offcuts = section(page, "Offcuts to start from", "Before going home")
    planks = {piece.id: piece.plank for piece in plan_of(job).pieces}
    becomes = re.findall(r"<b>(\d+-\d+)</b>", offcuts)
    assert {planks[piece] for piece in becomes} == planks_of_before(job, day)


def test_the_first_day_of_a_floor_has_no_offcut_of_before(job: Job, lead: User) -> None:
    day = next(
        one for one in job.days.order_by("date") if any(entry["rows"] for entry in one.entries)
    )
    assert rows_of_day(day)[0] == 1
    assert day.date >= MONDAY
    page = today(lead, day)
    assert "First cuts, Den" in page
    assert "Offcuts to start from" not in page


def test_a_row_is_told_piece_by_piece_in_the_order_it_lies(job: Job, lead: User) -> None:
    day = going_on(job)
    row, _ = rows_of_day(day)
    page = today(lead, day)
    cuts = section(page, f'<span class="ring">{row}<', "</ol>")
    assert re.search(r"From the (left|right)", cuts)
    # Names count from the end where a row begins; whole planks for as many as are told there.
    names = [piece.id for piece in plan_of(job).pieces if piece.row == row]
    place = 0
    for name, count in re.findall(r"<li>\s*(?:<b>(\d+-\d+)</b>|(\d+) whole)", cuts):
        assert not name or names[place] == name
        place += int(count or 1)
    assert place == len(names)
