"""How long things are kept: chosen by the owner, told with the figures of the last sweep."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone

from jobs.models import Company, Errand
from jobs.services.sweeping.sweep import KIND
from tests.builders import make_company, make_person
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture(name="company")
def the_company() -> Company:
    """A company."""
    return make_company()


@pytest.fixture(name="desk")
def the_desk(client: Visitor, company: Company) -> Visitor:
    """The owner's browser."""
    client.force_login(make_person(company))
    return client


def send(desk: Visitor, **changed: str) -> int:
    fields = {"key": "k", "version": "1", "photographs_months": "24", "clients_months": "84"}
    return desk.post(reverse("keeping"), fields | changed).status_code


def test_the_choice_is_kept_and_can_be_taken_back(desk: Visitor, company: Company) -> None:
    assert send(desk) == 303
    company.refresh_from_db()
    assert (company.photographs_months, company.clients_months) == (24, 84)
    assert send(desk, key="k2", version="2", photographs_months="", clients_months="") == 303
    company.refresh_from_db()
    assert (company.photographs_months, company.clients_months) == (None, None)


@pytest.mark.parametrize("months", ["1", "²", "-12", "9" * 30])
def test_a_time_that_is_none_of_the_choices_is_refused(
    desk: Visitor, company: Company, months: str
) -> None:
    assert send(desk, clients_months=months) == 422
    company.refresh_from_db()
    assert company.clients_months is None


def test_who_comes_second_is_told(desk: Visitor) -> None:
    assert send(desk) == 303
    assert send(desk, key="k2", clients_months="36") == 409


def test_the_last_sweep_is_told_in_figures(desk: Visitor, company: Company) -> None:
    assert "has not swept yet" in words(desk.get(reverse("keeping")))
    Errand.objects.create(
        company=company,
        kind=KIND,
        subject="book",
        state="done",
        finished_at=timezone.now(),
        result='{"sessions": 17, "marks": 4}',
    )
    page = words(desk.get(reverse("keeping")))
    assert "Sign-ins that ran out" in page
    assert "17" in page
