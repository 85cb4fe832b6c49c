"""What is asked before it counts: work behind a hold, long days, days told by two phones."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.urls import reverse

from jobs.models import (
    AuditLine,
    HoldClearance,
    HoldOverride,
    Job,
    LogEntry,
    User,
    WorkDay,
)
from jobs.readers.rates.entries import counted_entries, hours_counted
from jobs.services.day_log.answering import FIRST, LAST, answer_hours
from tests.builders import make_person
from tests.jobs.agreed import hold_asbestos
from tests.jobs.services.day_log.a_phone import hours, phone_of, sent

pytestmark = pytest.mark.django_db


def test_the_office_notes_in_the_log_who_cleared_a_hold(day: WorkDay, lead: User) -> None:
    hold_asbestos(day.job)
    owner = make_person(day.job.company)
    values = {"gate__asbestos__by": "Ada Brandt", "gate__asbestos__note": "Report 1182"}
    sent(lead, day, 422, **values)
    assert not HoldClearance.objects.exists()
    sent(owner, day, **values, **hours(lead, "2", "tear_out__1"))
    assert HoldClearance.objects.get().by == "Ada Brandt"
    assert LogEntry.objects.get().task == "tear_out"


@pytest.mark.parametrize("field", ["hours__lay__1__{}", "through__lay__1", "hours__base__1__{}"])
def test_what_stands_behind_an_open_hold_is_not_logged_rows_neither(
    day: WorkDay, lead: User, field: str
) -> None:
    hold_asbestos(day.job)
    said = sent(lead, day, 422, **{field.format(lead.pk): "2"})
    assert "on hold: The old floor may hold asbestos" in said
    sent(lead, day, **hours(lead, "1"))  # setting up stands before it


def test_the_owner_lets_one_task_go_on_by_name_and_that_is_kept(
    day: WorkDay, lead: User, job: Job
) -> None:
    hold_asbestos(job)
    address = reverse("hold-let-go", args=[job.pk, "asbestos"])
    form = {"key": "k9", "task": "lay:Den", "by": "Mara Quill", "reason": "Other room"}
    assert phone_of(lead).post(address, form).status_code == 403
    estimator = make_person(job.company, "estimator")
    assert phone_of(estimator).post(address, form).status_code == 403
    owner = phone_of(make_person(job.company))
    assert owner.post(address, form | {"reason": ""}).status_code == 422
    assert owner.post(address, form).status_code == 303
    kept = HoldOverride.objects.get()
    assert (kept.by, kept.reason, kept.task) == ("Mara Quill", "Other room", "lay:Den")
    assert AuditLine.objects.filter(act__contains="Mara Quill").exists()
    sent(lead, day, **hours(lead, "2", "lay__1"), through__lay__1=2)
    sent(lead, day, 422, key="k2", **hours(lead, "2", "tear_out__1"))
    page = owner.get(reverse("job-log", args=[job.pk])).content.decode()
    assert "lay:Den under asbestos: Mara Quill" in page


def test_as_planned_leaves_out_what_waits_for_a_hold(day: WorkDay, lead: User) -> None:
    free = phone_of(lead).get(reverse("log-add", args=[day.pk])).context["form"]
    hold_asbestos(day.job)
    held = phone_of(lead).get(reverse("log-add", args=[day.pk])).context["form"]
    planned = [
        {name for name, field in form.fields.items() if "data-planned" in field.widget.attrs}
        for form in (free, held)
    ]
    tear_out = {name for name in planned[0] if "tear_out" in name}
    assert tear_out
    assert not tear_out & planned[1]
    assert any("setup" in name for name in planned[1])


def counting(person: User) -> Decimal:
    """The hours of a person that count."""
    entries = counted_entries(LogEntry.objects.filter(who=person))
    return sum((hours_counted(entry) for entry in entries), Decimal(0))


def test_a_day_over_twelve_hours_counts_once_it_is_answered(day: WorkDay, lead: User) -> None:
    sent(lead, day, **hours(lead, "12"))
    assert counting(lead) == 12
    sent(lead, day, key="k2", **hours(lead, "1", "lay__1"))
    assert counting(lead) == 12
    owner = phone_of(make_person(day.job.company))
    assert "13 h, more than 12 h in a day; 12 h count so far" in owner.get("/").content.decode()
    waiting = LogEntry.objects.get(standing="over")
    answer = {"key": "k", "answer": "all"}
    assert owner.post(reverse("log-hours", args=[waiting.pk]), answer).status_code == 303
    assert counting(lead) == 13
    assert "count so far" not in owner.get("/").content.decode()


def test_a_day_told_by_two_phones_counts_as_it_is_answered(
    day: WorkDay, lead: User, helper: User
) -> None:
    sent(lead, day, **hours(lead, "8"), **hours(helper, "8"))
    sent(helper, day, key="k2", **hours(helper, "7.5"))
    assert counting(helper) == 8
    address = reverse("log-hours", args=[LogEntry.objects.get(standing="phones").pk])
    assert phone_of(helper).get(address).status_code == 403
    assert "Said by" in phone_of(lead).get(address).content.decode()
    assert phone_of(lead).post(address, {"key": "k", "answer": "last"}).status_code == 303
    assert (counting(helper), counting(lead)) == (Decimal("7.5"), Decimal(8))


def test_the_same_person_on_another_phone_is_asked_about_too(day: WorkDay, lead: User) -> None:
    sent(lead, day, phone="a" * 32, **hours(lead, "4"))
    sent(lead, day, key="k2", phone="b" * 32, **hours(lead, "4"))
    assert counting(lead) == 4
    answer_hours(person=lead, on=day.date, user=lead, answer=FIRST)
    assert counting(lead) == 4
    assert not LogEntry.objects.filter(standing="phones").exists()
    assert answer_hours(person=lead, on=day.date, user=lead, answer=LAST) == 1
