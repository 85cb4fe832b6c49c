"""The page that is handed to the occupant: the crew may open it, and it names no price."""

from __future__ import annotations

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import CompletionSlip
from jobs.models import Job
from tests.builders import make_crew, make_person
from tests.estimates.a_job import a_day
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def crew_member(job: Job) -> Visitor:
    """A browser of a crew member who works on the job."""
    person = make_person(job.company, "crew")
    a_day(job, crew=make_crew(job.company, person))
    browser = Visitor()
    browser.force_login(person)
    return browser


def url_of(job: Job) -> str:
    return reverse("completion-slip", args=[job.pk])


def test_the_crew_hands_it_over_and_it_names_no_price(crew_member: Visitor, job: Job) -> None:
    page = words(crew_member.get(url_of(job)))
    assert "Completion slip" in page
    assert "Den" in page
    assert [word for word in ("$", "Price", "Quote", "invoice") if word in page] == []


def test_nothing_is_ticked_beforehand(crew_member: Visitor, job: Job) -> None:
    assert " checked" not in words(crew_member.get(url_of(job)))


def test_a_tick_and_a_typed_name_sign_it(crew_member: Visitor, job: Job) -> None:
    sent = {"key": "s", "done": "on", "name": "Ines Okafor", "open_points": "Closet <i>door</i>"}
    assert crew_member.post(url_of(job), sent).status_code == 303
    page = words(crew_member.get(url_of(job)))
    assert "Ines Okafor" in page
    assert "Closet &lt;i&gt;door&lt;/i&gt;" in page
    slip = CompletionSlip.objects.get()
    answer = crew_member.get(reverse("completion-file", args=[slip.pk]))
    assert answer["Content-Type"] == "application/pdf"


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"name": "Ines Okafor"}, "Tick the box to sign"),
        ({"done": "on", "name": "7"}, "is no name; accepted: first and last name"),
    ],
)
def test_without_a_tick_or_a_name_nothing_is_signed(
    crew_member: Visitor, job: Job, sent: dict[str, str], said: str
) -> None:
    answer = crew_member.post(url_of(job), {"key": "s", "open_points": "Closet door"} | sent)
    page = words(answer)
    assert answer.status_code == 422
    assert said in page
    assert "Closet door" in page
    assert not CompletionSlip.objects.exists()


@pytest.mark.usefixtures("set_paper")
def test_the_paper_to_sign_by_hand_is_a_pdf(crew_member: Visitor, job: Job) -> None:
    answer = crew_member.get(reverse("completion-paper", args=[job.pk]))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
