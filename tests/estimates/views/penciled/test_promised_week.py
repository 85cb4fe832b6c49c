"""Moving a date that was accepted: the effect says that the promise breaks, the board holds it.

The quote says the week of Monday, March 22, 2027; the job's one day lies in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from time_machine import travel

from estimates.models import QuoteDraft
from jobs.models import Job, KeptConflict, User
from jobs.services.days import Wish, lay_out_days
from tests.builders import make_crew, make_person, make_planned_job
from tests.estimates.a_job import TODAY, a_quote, accepted, an_owner, company_of
from tests.reading import words

pytestmark = pytest.mark.django_db
PROMISED = date(2027, 3, 22)
LATER = PROMISED + timedelta(days=7)


@pytest.fixture(autouse=True)
def _on_a_monday() -> Iterator[None]:
    with travel("2027-03-01 15:00Z", tick=False):
        yield


@pytest.fixture
def owner() -> User:
    return an_owner()


@pytest.fixture
def visitor(owner: User) -> Visitor:
    visitor = Visitor()
    visitor.force_login(owner)
    return visitor


@pytest.fixture
def job(owner: User) -> Job:
    """A job whose accepted quote names a week, planned onto it."""
    job = make_planned_job(company_of(owner))
    QuoteDraft.objects.create(job=job, start_week=PROMISED)
    accepted(a_quote(owner, job))
    job = Job.objects.get(pk=job.pk)
    crew = make_crew(job.company, make_person(job.company, "crew"))
    wish = Wish(crew=crew, start=PROMISED)
    lay_out_days(job=job, user=owner, wish=wish, today=TODAY)
    return job


def marks(looked: Any) -> dict[str, str]:
    """Return the marks of the days and of the effect that somebody looked at."""
    return {"seen": looked.context["seen"], "shown": looked.context["shown"].mark}


def test_a_date_that_was_promised_is_moved_only_with_the_broken_promise_in_sight(
    visitor: Visitor, job: Job
) -> None:
    day = job.days.earliest("date")
    looked = visitor.get(reverse("day-move", args=[day.pk]), {"to": LATER.isoformat()})
    page = words(looked)
    assert "Promised start: The quote says the week of Mon, Mar 22." in page
    assert "Mon, Mar 22, kept" in page
    assert "Mon, Mar 29, broken" in page
    assert "other days: has to be told" in page
    assert job.days.earliest("date").date == PROMISED

    sent = {"key": "k", "reason": "", "to": LATER.isoformat()} | marks(looked)
    refused = visitor.post(reverse("day-move", args=[day.pk]), sent)
    assert refused.status_code == 422
    assert "No reason is given" in words(refused)
    sent["reason"] = "The client is away"
    visitor.post(reverse("day-move", args=[day.pk]), sent)
    assert job.days.earliest("date").date == LATER

    board = visitor.get(reverse("board"))
    [(conflict, _)] = board.context["open"]
    assert conflict.kind == "promise"
    keep = {"conflict": conflict.key, "reason": ""}
    assert visitor.post(reverse("board-keep"), keep).status_code == 422
    keep["reason"] = "She asked for it"
    visitor.post(reverse("board-keep"), keep)
    assert KeptConflict.objects.get().reason == "She asked for it"
    assert visitor.get(reverse("board")).context["open"] == []


def test_a_task_held_to_a_date_shows_its_effect_first_and_is_undone(
    visitor: Visitor, job: Job
) -> None:
    day = job.days.earliest("date")
    query = {"task": "lay:Den", "to": (PROMISED + timedelta(days=2)).isoformat()}
    address = reverse("day-hold", args=[day.pk])
    looked = visitor.get(address, query)
    page = words(looked)
    assert "Job done" in page
    assert page.index("Leave it") < page.index("Hold the task")
    sent = {"key": "k", "reason": "No delivery"} | marks(looked)
    visitor.post(address, sent | query)
    laying = [one.date for one in job.days.all() if any(e["task"] == "lay" for e in one.entries)]
    assert min(laying) == PROMISED + timedelta(days=2)
    visitor.post(reverse("days-undo", args=[job.days_changes.get().pk]))
    assert job.days.latest("date").date == PROMISED
