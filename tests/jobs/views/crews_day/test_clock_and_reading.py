"""Both pages of a day say when it begins, whether lunch is in it, and the limit it waits for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from jobs.models import Product, Role, SiteFacts, Subfloor, User, WorkDay
from jobs.readers.crews_day.arrival import day_clock
from jobs.services.scope import freeze_scope
from tests.builders import make_company, make_crew, make_job, make_person, make_room, make_zone
from tests.jobs.agreed import agree, agreed_job, laid_out
from tests.jobs.moved import on_days
from tests.jobs.plans import planned
from tests.reading import words

pytestmark = pytest.mark.django_db

MONDAY = date(2027, 3, 1)


@pytest.fixture(autouse=True)
def _on_the_day() -> Iterator[None]:
    with travel(datetime(2027, 3, 1, 15, tzinfo=UTC), tick=False):
        yield


@pytest.fixture
def lead() -> User:
    return make_person(make_company(time_zone="UTC"), Role.CREW)


@pytest.fixture
def day(lead: User) -> WorkDay:
    job = agreed_job(lead.company)
    on_days(job, make_crew(job.company, lead), make_person(job.company), MONDAY, MONDAY)
    return job.days.order_by("date")[0]


def pages(day: WorkDay, lead: User) -> list[str]:
    visitor = Visitor()
    visitor.force_login(lead)
    addresses = (reverse("today"), reverse("day", args=[day.pk]))
    return [words(visitor.get(address)) for address in addresses]


def test_both_pages_say_when_the_crew_is_there(day: WorkDay, lead: User) -> None:
    clock = day_clock(day)
    assert clock.arrives
    for page in pages(day, lead):
        assert f"<b>{clock.arrives}</b>, until <b>{clock.leaves}</b>" in page


def test_a_day_without_a_rest_says_so_on_both(day: WorkDay, lead: User) -> None:
    """Six hours at one piece of work have no half hour in them; four need none."""
    for begins, ends, rest in (("8:00", "14:00", False), ("8:00", "12:00", True)):
        lane = {**day.lanes[0], "begins": begins, "ends": ends}
        WorkDay.objects.filter(pk=day.pk).update(lanes=[lane])
        for page in pages(day, lead):
            assert ("lunch is not in these times" not in page) == rest


def on_concrete(lead: User, limit: str | None) -> WorkDay:
    """The first day of a den on a slab that nobody has read, its floor with such a limit."""
    assert lead.company is not None
    job = make_job(lead.company)
    planned(make_zone(make_room(job, size=(120, 100))))
    SiteFacts.objects.update_or_create(job=job, defaults={"subfloor": Subfloor.SLAB})
    Product.objects.filter(zones__job=job).update(most_rh_pct=limit)
    agree(job, freeze_scope(job=job, user=None))
    laid_out(job, make_crew(job.company, lead))
    return job.days.order_by("date")[0]


@pytest.mark.parametrize(("limit", "says"), [("75", "75 % or less."), (None, "Limit not noted")])
def test_a_day_that_waits_for_a_reading_names_method_limit_and_place(
    lead: User, limit: str | None, says: str
) -> None:
    for page in pages(on_concrete(lead, limit), lead):
        assert "No moisture reading yet" in page
        assert says in page
        assert "Where: place 1" in page or "Where: Den" in page
