"""Moisture gates on the pages: closed by what the job is, opened by a reading that is noted."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import Crew, Job, SiteFacts, User
from jobs.readers.board.holds import open_holds_by_job
from jobs.readers.days import open_holds_of
from tests.builders import make_company, make_log_entry, make_person, make_product, make_room
from tests.builders import make_zone as floor_of
from tests.jobs.agreed import MONDAY, a_crew, agreed_job, laid_out

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> User:
    """An owner."""
    return make_person(make_company())


@pytest.fixture
def job(owner: User) -> Job:
    """An agreed job on a slab, its floor planned."""
    assert owner.company is not None
    job = agreed_job(owner.company)
    floor_of(make_room(job), make_product(job.company, name="Oak", core="rigid", most_rh_pct=85))
    SiteFacts.objects.filter(job=job).update(subfloor="slab", existing_floor="none")
    return job


@pytest.fixture
def crew(job: Job) -> Crew:
    """A crew of one."""
    return a_crew(job.company)


def noted(job: Job, *readings: dict[str, str]) -> None:
    SiteFacts.objects.filter(job=job).update(readings=list(readings))


def holds(job: Job) -> list[str]:
    alone = open_holds_of(job)
    assert open_holds_by_job([job.pk]).get(job.pk, {}) == alone
    return list(alone)


def rh(on: str) -> dict[str, str]:
    return {"method": "rh", "value": "70", "where": "hall", "on": on}


def test_the_order_waits_for_a_reading_and_row_one_for_one_of_its_morning(
    job: Job, crew: Crew
) -> None:
    assert holds(job) == ["moisture-open"]
    noted(job, rh("2027-02-01"))
    assert holds(job) == []
    laid_out(job, crew)
    assert holds(job) == ["moisture-row-one"]
    first = next(d for d in job.days.order_by("date") if any(e["rows"] for e in d.entries))
    noted(job, rh("2027-02-01"), rh(first.date.isoformat()))
    assert holds(job) == []


def test_once_rows_are_down_no_morning_is_waited_for(job: Job, crew: Crew, owner: User) -> None:
    noted(job, rh("2027-02-01"))
    days = laid_out(job, crew)
    make_log_entry(days[0], owner, task="lay", zone="Den", row_from=1, row_to=2)
    assert holds(job) == []


def test_wood_waits_by_its_reading_and_not_by_the_clock(job: Job) -> None:
    job.zones.update(product=make_product(job.company, name="Ash", core="wood"))
    noted(job, rh("2027-02-01"))
    assert holds(job) == ["moisture-boards"]
    noted(job, rh("2027-02-01"), {"method": "boards", "value": "8", "where": "", "on": ""})
    assert holds(job) == []


def test_the_hold_stands_on_the_days_and_the_moisture_page(
    job: Job, crew: Crew, owner: User
) -> None:
    noted(job, rh((MONDAY - timedelta(days=9)).isoformat()))
    laid_out(job, crew)
    visitor = Visitor()
    visitor.force_login(owner)
    for name in ("job-days", "moisture", "job"):
        page = visitor.get(reverse(name, args=[job.pk])).content.decode()
        assert "Read the moisture on the morning of row one" in page
