"""Who did what: found by words, person and days; a page at a time; changed by nobody."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client
from django.urls import reverse

from jobs.models import AuditLine, Company, User
from jobs.services.records import audit, audit_job
from tests.builders import make_company, make_job, make_person
from tests.reading import words

pytestmark = pytest.mark.django_db

URL = "/company/audit"
NOON = datetime(2027, 3, 2, 17, tzinfo=UTC)


@pytest.fixture(name="company")
def the_company() -> Company:
    """A company in New York."""
    return make_company()


@pytest.fixture(name="owner")
def the_owner(company: Company) -> User:
    """Its owner."""
    return make_person(company, name="Ada Lind")


@pytest.fixture(name="desk")
def the_desk(client: Client, owner: User) -> Client:
    """The owner's browser."""
    client.force_login(owner)
    return client


def line(owner: User, act: str, at: datetime = NOON, subject: str = "company") -> AuditLine:
    """Return a line written at that moment."""
    assert owner.company
    made = audit(user=owner, company=owner.company, subject=subject, act=act)
    AuditLine.objects.filter(pk=made.pk).update(at=at)
    return made


def test_every_word_must_stand_in_a_line(desk: Client, owner: User) -> None:
    line(owner, "Changed the maple rate")
    line(owner, "Changed the oak rate")
    page = words(desk.get(URL, {"q": "rate MAPLE"}))
    assert "Changed the maple rate" in page
    assert "oak" not in page
    assert "No line has all of that" in words(desk.get(URL, {"q": "maple oak"}))


def test_a_job_is_known_by_its_number_and_its_title(desk: Client, owner: User) -> None:
    assert owner.company
    make_job(owner.company)
    job = make_job(owner.company, title="Larch Court 12")
    audit_job(job=job, user=owner, act="Moved a day")
    for q in ("larch", f"#{job.number}"):
        page = words(desk.get(URL, {"q": q}))
        assert "Moved a day" in page
        assert reverse("job", args=[job.pk]) in page
        assert f"Job {job.number}, Larch Court 12" in page


def test_lines_of_one_person_alone(desk: Client, owner: User, company: Company) -> None:
    line(owner, "Changed the oak rate")
    other = make_person(company, "estimator", name="Ben Ash")
    line(other, "Changed the maple rate")
    page = words(desk.get(URL, {"person": str(other.pk)}))
    assert "maple" in page
    assert "oak" not in page
    assert "oak" in words(desk.get(URL, {"person": "²"}))


def test_days_are_those_of_the_company(desk: Client, owner: User) -> None:
    # 03:30 in UTC is still the evening before in New York (UTC-5 in winter).
    line(owner, "Late on Monday", datetime(2027, 3, 2, 3, 30, tzinfo=UTC))
    line(owner, "On Tuesday", NOON)
    monday = words(desk.get(URL, {"since": "2027-03-01", "until": "2027-03-01"}))
    assert "Late on Monday" in monday
    assert "On Tuesday" not in monday


def test_a_day_that_is_none_is_left_out_with_a_word(desk: Client, owner: User) -> None:
    line(owner, "On Tuesday")
    page = words(desk.get(URL, {"since": "0000-99-99", "until": "9999-12-31"}))
    assert "“0000-99-99” is no day" in page
    assert "On Tuesday" in page


def test_the_lines_come_a_page_at_a_time(desk: Client, owner: User) -> None:
    for number in range(35):
        line(owner, f"Act {number}.", NOON + timedelta(minutes=number))
    first, second = (words(desk.get(URL, {"q": "Act", "page": page})) for page in ("1", "2"))
    assert "Act 34." in first
    assert "Act 4." not in first
    assert "Act 4." in second
    assert "35 lines" in first
    assert "q=Act" in first


def test_what_was_removed_is_said_to_be(desk: Client, owner: User) -> None:
    line(owner, "Removed the job", subject="job 4711")
    assert "Job, removed since" in words(desk.get(URL))


def test_lines_of_another_company_are_not_there(desk: Client) -> None:
    line(make_person(make_company("Other Floors")), "Their act")
    assert "Their act" not in words(desk.get(URL))


def test_nobody_changes_or_removes_a_line(owner: User) -> None:
    made = line(owner, "On Tuesday")
    made.act = "On Wednesday"
    with pytest.raises(TypeError, match="never edited"):
        made.save()
    with pytest.raises(TypeError, match="never removed"):
        made.delete()
    assert AuditLine.objects.get(pk=made.pk).act == "On Tuesday"


def test_nothing_is_sent_to_the_page(desk: Client) -> None:
    assert desk.post(URL).status_code == 405
