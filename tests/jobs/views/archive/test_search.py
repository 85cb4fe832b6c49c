"""One box for jobs, clients and addresses; each sees what is theirs."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone

from jobs.models import Company, Job, Role, User
from tests.builders import make_client, make_company, make_crew, make_day, make_job, make_person
from tests.jobs.agreed import make_scope
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def company(owner: User) -> Company:
    """The company of the owner, with a job on Larch Court."""
    assert owner.company is not None
    client = make_client(owner.company, "Ines Okafor", phone="555-0142")
    make_job(owner.company, client, title="Two bedrooms", address="12 Larch Court")
    return owner.company


def looked_for(visitor: Visitor, text: str, **more: str) -> str:
    """Return what the search for a text shows."""
    answer = visitor.get(reverse("search"), {"q": text, **more})
    assert answer.status_code == 200
    return words(answer)


def test_a_job_is_where_its_address_is_typed(visitor: Visitor, company: Company) -> None:
    page = looked_for(visitor, "larch")
    assert "Two bedrooms" in page
    assert reverse("job", args=[Job.objects.get().pk]) in page


def test_a_client_is_where_the_phone_is_typed(visitor: Visitor, company: Company) -> None:
    page = looked_for(visitor, "0142")
    assert reverse("client-edit", args=[company.clients.get().pk]) in page


def test_of_another_company_nothing_is_shown(visitor: Visitor, company: Company) -> None:
    other = make_company("Other Floors")
    make_job(other, make_client(other, "Noor Adeyemi"), address="99 Larch Court")
    page = looked_for(visitor, "larch")
    assert "99 Larch Court" not in page
    assert "No job and no client has all of" in looked_for(visitor, "Adeyemi")


def test_a_crew_member_finds_jobs_of_the_crew_and_no_client(
    visitor: Visitor, company: Company
) -> None:
    member = make_person(company, Role.CREW)
    days = Job.objects.get()
    make_day(days, make_crew(company, member), scope=make_scope(days))
    make_job(company, company.clients.get(), title="Kitchen", address="14 Larch Court")
    visitor.force_login(member)
    page = looked_for(visitor, "larch ines")
    assert "Two bedrooms" in page
    assert "Kitchen" not in page
    assert "client-edit" not in page
    assert "Clients" not in page


def test_what_is_typed_is_shown_as_text(visitor: Visitor, company: Company) -> None:
    page = looked_for(visitor, "<script>alert(1)</script>")
    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_the_second_page_keeps_what_was_typed(visitor: Visitor, company: Company) -> None:
    client = company.clients.get()
    for number in range(31):
        make_job(company, client, title=f"Plan {number}", address=f"{number} Larch Court")
    assert "q=larch&amp;page=2" in looked_for(visitor, "larch")
    assert "Two bedrooms" in looked_for(visitor, "larch", page="2")


def test_an_archived_job_is_in_no_list_and_still_found(visitor: Visitor, company: Company) -> None:
    Job.objects.update(archived_at=timezone.now())
    jobs = words(visitor.get(reverse("job-list")))
    assert "Two bedrooms" not in jobs
    assert "?q=archived" in jobs
    assert "Two bedrooms" in looked_for(visitor, "archived")
