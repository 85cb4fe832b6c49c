"""The crew's own day: where a crew lands, the way in on that day alone, nothing of others."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.packet.checks import EVENING
from jobs.models import FloorPlan, Job, JobExtra, Role, SiteFacts, User
from tests.builders import PASSWORD, make_company, make_crew, make_person
from tests.jobs.agreed import agreed_job, hold_asbestos
from tests.jobs.moved import on_days
from tests.jobs.plans import agreed_rooms

pytestmark = pytest.mark.django_db


@pytest.fixture
def lead() -> User:
    """The lead of a crew of one."""
    return make_person(make_company(), Role.CREW, name="Lio Hart")


@pytest.fixture
def job(lead: User) -> Job:
    """A job with a key under a pot."""
    job = agreed_job(lead.company)
    SiteFacts.objects.filter(job=job).update(access="Key under the third pot")
    return job


def laid_from(job: Job, lead: User, start: date) -> None:
    crew = make_crew(job.company, lead)
    on_days(job, crew, make_person(job.company), start, start)


def page_of(person: User) -> str:
    visitor = Visitor()
    visitor.force_login(person)
    return visitor.get(reverse("today")).content.decode()


def test_the_way_in_shows_on_the_day_alone(
    job: Job, lead: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = date(2027, 3, 1)
    laid_from(job, lead, start)
    monkeypatch.setattr("jobs.views.crews_day.page.today_of", lambda _: start)
    assert "Key under the third pot" in page_of(lead)
    monkeypatch.setattr("jobs.views.crews_day.page.today_of", lambda _: start - timedelta(days=1))
    page = page_of(lead)
    assert "Key under the third pot" not in page
    assert "The next one is on <b>Monday, Mar 1</b>" in page


def test_rows_hours_holds_and_what_to_leave_stand_on_it(
    job: Job, lead: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = date(2027, 3, 1)
    laid_from(job, lead, start)
    hold_asbestos(job)
    monkeypatch.setattr("jobs.views.crews_day.page.today_of", lambda _: start)
    page = page_of(lead)
    row = job.days.get(number=1).entries[-1]["rows"]
    assert row
    assert f"Stop at row {row[1]}" in page
    assert "HOLD: The old floor may hold asbestos" in page
    assert f"Den, row {row[1]}: edge ramped and taped" in page


def test_somebody_without_days_is_told_so(lead: User) -> None:
    assert "No day of yours is planned from today on." in page_of(lead)


def test_a_day_of_another_crew_is_not_shown(job: Job, lead: User) -> None:
    laid_from(job, lead, date(2027, 3, 1))
    assert job.title not in page_of(make_person(job.company, Role.CREW))


@pytest.mark.parametrize(("role", "page"), [(Role.CREW, "today"), (Role.OWNER, "job-list")])
def test_a_crew_lands_on_its_day_and_the_office_on_its_jobs(role: Role, page: str) -> None:
    person = make_person(make_company(), role)
    form = {"username": person.email, "password": PASSWORD}
    answer = Visitor().post(reverse("sign-in"), form)
    assert answer.headers["Location"] == reverse(page)


ALSO = "<b>Also agreed</b>, about 1.5\N{NO-BREAK SPACE}h, in no day's hours: Shelf in the closet"


def test_agreed_extra_work_stands_on_it_and_what_is_only_wanted_does_not(
    job: Job, lead: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = date(2027, 3, 1)
    laid_from(job, lead, start)
    shelf = JobExtra.objects.create(job=job, text="Shelf in the closet", hours=Decimal("1.5"))
    JobExtra.objects.create(job=job, text="Paint the door", hours=Decimal(1))
    monkeypatch.setattr("jobs.views.crews_day.page.today_of", lambda _: start)
    monkeypatch.setattr("jobs.readers.crews_day.extras._AGREED", [lambda _: {shelf.pk}])
    page = page_of(lead)
    assert ALSO in page
    assert "Paint the door" not in page
    visitor = Visitor()
    visitor.force_login(lead)
    day_page = visitor.get(reverse("day", args=[job.days.get(date=start).pk])).content.decode()
    assert ALSO in day_page


def test_the_evening_is_the_packets(job: Job, lead: User, monkeypatch: pytest.MonkeyPatch) -> None:
    start = date(2027, 3, 1)
    laid_from(job, lead, start)
    monkeypatch.setattr("jobs.views.crews_day.page.today_of", lambda _: start)
    page = page_of(lead)
    assert all(f"<li>{line}</li>" in page for line in EVENING)


def test_the_rows_of_a_floor_lead_to_its_plans_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    start, job = date(2027, 3, 1), agreed_rooms("Den")
    lead = make_person(job.company, Role.CREW)
    laid_from(job, lead, start)
    monkeypatch.setattr("jobs.views.crews_day.page.today_of", lambda _: start)
    address = reverse("plan", args=[FloorPlan.objects.get(zone__job=job).pk])
    assert f'<a href="{address}#rows">Rows 1 to ' in page_of(lead)
    visitor = Visitor()
    visitor.force_login(lead)
    assert 'id="rows"' in visitor.get(address).content.decode()
