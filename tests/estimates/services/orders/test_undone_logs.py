"""A log with extra work is undone: its draft of a change goes along, unless more hangs on it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.urls import reverse

from estimates.models import ChangeDraft, ChangeOffer
from estimates.services.orders.answers import Whence, accept_change
from estimates.services.orders.drafts import change_draft
from estimates.services.orders.figures import draft_price
from estimates.services.orders.offers import send_change, withdraw_change
from jobs.models import JobExtra, LogEntry, User, WorkDay
from tests.estimates.a_job import TODAY, an_agreed_job
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.services.day_log.a_phone import hours, phone_of, sent
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def day(owner: User) -> WorkDay:
    """The first day of an agreed job."""
    job = an_agreed_job(owner)
    return laid_out(job, a_crew(job.company))[0]


@pytest.fixture
def entry(day: WorkDay) -> LogEntry:
    """An hour of its log, which notes extra work of three hours beside."""
    lead = day.crew.members.get()
    sent(lead, day, **hours(lead, "1"), extra_text="Closet too", extra_hours="3")
    return LogEntry.objects.get()


def undo(entry: LogEntry, status: int) -> str:
    """Undo an entry on its page; return what the page says."""
    answer = phone_of(entry.who).post(reverse("log-remove", args=[entry.pk]))
    assert answer.status_code == status
    return words(answer)


def offered(owner: User) -> ChangeOffer:
    """The draft as it is sent to the homeowner."""
    draft = ChangeDraft.objects.get()
    price = draft_price(draft, TODAY)
    amount, seen = price.difference, price.seen
    return send_change(draft=draft, user=owner, key="o", amount=amount, seen=seen, today=TODAY)


def edited(owner: User) -> None:
    draft = ChangeDraft.objects.get()
    names = ("text", "why", "asked_by", "noted_on", "order_number", "with_plan")
    values = {name: getattr(draft, name) for name in names} | {"why": "She wants it"}
    change_draft(draft=draft, user=owner, key="e", expected=1, values=values)


def agreed(owner: User) -> None:
    whence = Whence(ip="192.0.2.7", agent="Phone")
    accept_change(offer=offered(owner), name="Ines Okafor", today=TODAY, whence=whence)


def test_the_draft_goes_with_the_extra_work(entry: LogEntry, owner: User) -> None:
    page = words(phone_of(entry.who).get(reverse("log-remove", args=[entry.pk])))
    assert "with it goes: extra work “Closet too”." in page
    assert "Closet too" in words(phone_of(owner).get("/"))
    undo(entry, 303)
    assert JobExtra.objects.get().dropped_at is not None
    assert ChangeDraft.objects.get().dropped_at is not None
    assert "Closet too" not in words(phone_of(owner).get("/"))


def test_a_change_that_was_sent_and_withdrawn_does_not_hold_the_log(
    entry: LogEntry, owner: User
) -> None:
    withdraw_change(offer=offered(owner), user=owner)
    undo(entry, 303)
    assert ChangeDraft.objects.get().dropped_at is not None


@pytest.mark.parametrize(
    ("build", "said"),
    [
        (edited, "worked on by the office'"),
        (offered, "sent as a change order'"),
        (agreed, "agreed on'"),
    ],
)
def test_what_something_was_built_on_keeps_its_log(
    entry: LogEntry, owner: User, build: Callable[[User], object], said: str
) -> None:
    build(owner)
    page = undo(entry, 422)
    assert "“Closet too”" in page
    assert said in page
    assert LogEntry.objects.filter(pk=entry.pk).exists()
    assert JobExtra.objects.get().dropped_at is None
    assert ChangeDraft.objects.get().dropped_at is None
