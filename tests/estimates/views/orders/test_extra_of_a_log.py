"""Extra work noted in the evening's log is a draft of a change order on the owner's first page."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from estimates.models import ChangeDraft
from estimates.readers.review.reviewed import reviewed
from jobs.models import Job, LogEntry, Role, User, WorkDay
from tests.builders import make_crew, make_day, make_person
from tests.jobs.services.day_log.a_phone import a_picture, hours, phone_of, sent
from tests.orders.two_rooms import two_rooms
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner: User) -> Job:
    """An agreed job of two rooms."""
    return two_rooms(owner)


@pytest.fixture
def day(job: Job) -> WorkDay:
    """A day of a crew of two on it."""
    people = [make_person(job.company, Role.CREW, name=name) for name in ("Lio Hart", "Kim Vance")]
    return make_day(job, make_crew(job.company, *people), scope=job.agreed_scope)


def test_extra_work_of_the_log_waits_on_the_owners_first_page(
    visitor: Visitor, job: Job, day: WorkDay
) -> None:
    lead = day.crew.members.order_by("pk")[0]
    extra = {"extra_text": "Take the shelf down", "extra_hours": "2", "extra_by": "Ines Okafor"}
    sent(lead, day, **extra, **hours(lead, "1"), extra_photo=a_picture())
    sent(lead, day, **extra, **hours(lead, "1"), extra_photo=a_picture())
    draft = ChangeDraft.objects.get()
    assert (draft.text, draft.asked_by) == ("Take the shelf down", "Ines Okafor")
    assert draft.extra is not None
    assert draft.extra.photo is not None
    page = words(visitor.get("/"))
    assert "To be priced: “Take the shelf down”" in page
    # Two hours at the quote's 48 = 96, with 12 % 107.52, at a margin of 25 % 107.52 / 0.75.
    assert "$143.36" in words(visitor.get(reverse("change-draft", args=[draft.pk])))


def test_hours_said_by_two_phones_cost_nothing_until_they_are_answered(
    visitor: Visitor, job: Job, day: WorkDay
) -> None:
    lead, helper = day.crew.members.order_by("pk")
    sent(lead, day, **hours(lead, "8"), **hours(helper, "8"))
    before = reviewed(job)
    sent(helper, day, key="k2", **hours(helper, "8"))
    assert "16 h said by two phones, 8 h count so far" in words(visitor.get("/"))
    assert reviewed(job) is not None
    assert before is not None
    assert reviewed(job) == before
    question = LogEntry.objects.get(standing="phones")
    address = reverse("log-hours", args=[question.pk])
    assert visitor.post(address, {"key": "k", "answer": "first"}).status_code == 303
    assert reviewed(job) == before
    counting = LogEntry.objects.filter(standing="counts")
    assert sum(entry.hours for entry in counting) == Decimal(16)
    assert "said by two phones" not in words(phone_of(lead).get(reverse("day", args=[day.pk])))
