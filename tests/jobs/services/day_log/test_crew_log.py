"""The log of a whole crew: one sending, counted once; what is refused; as planned."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import (
    DayLog,
    Job,
    JobExtra,
    LogEntry,
    LogPhoto,
    PunchItem,
    SiteFacts,
    User,
    WorkDay,
)
from tests.builders import make_company, make_person
from tests.jobs.agreed import a_crew, agreed_job, laid_out
from tests.jobs.services.day_log.a_phone import a_picture, hours, phone_of, sent

pytestmark = pytest.mark.django_db


def test_one_entry_tells_the_hours_of_the_whole_crew(
    day: WorkDay, lead: User, helper: User
) -> None:
    sent(
        lead,
        day,
        **hours(lead, "1.5"),
        **hours(lead, "6", "lay__1"),
        **hours(helper, "5.5", "lay__1"),
        through__lay__1=3,
        spoiled__lay__1__wrong__side=2,
        spoiled__lay__1__defect=1,
        cartons=4,
        lot="7 A",
        in_the_way=["floor not flat", "wall out"],
        note="Hump by the window",
    )
    log = DayLog.objects.get()
    said = list(log.entries.order_by("pk").values_list("who", "task", "hours", "row_to"))
    assert said == [
        (lead.pk, "setup", Decimal("1.5"), None),
        (lead.pk, "lay", Decimal(6), 3),
        (lead.pk, "lay", 0, None),
        (lead.pk, "lay", 0, None),
        (helper.pk, "lay", Decimal("5.5"), None),
        (lead.pk, "other", 0, None),
    ]
    spoiled = log.entries.filter(planks_spoiled__gt=0).order_by("pk")
    lost = [(each.spoil_reason, each.planks_spoiled) for each in spoiled]
    assert lost == [("wrong side", 2), ("defect", 1)]
    assert (log.cartons, log.lot, log.in_the_way) == (4, "7 A", ["floor not flat", "wall out"])
    assert log.entries.get(note__gt="").note == "Hump by the window"
    page = phone_of(lead).get(reverse("job-log", args=[day.job_id])).content.decode()
    assert "4 cartons opened, lot 7 A" in page


def test_through_row_fifteen_means_all_up_to_it(day: WorkDay, lead: User) -> None:
    sent(lead, day, through__lay__1=3)
    sent(lead, day, key="k2", through__lay__1=8)
    rows = LogEntry.objects.order_by("pk").values_list("row_from", "row_to")
    assert list(rows) == [(1, 3), (4, 8)]


def test_twenty_times_the_same_is_once_photographs_too(day: WorkDay, lead: User) -> None:
    for _ in range(20):
        values = {**hours(lead, "2"), "punch": "Shoe in the hall", "extra_text": "Closet too"}
        sent(lead, day, 201, **values, photos=a_picture())
    counts = [model.objects.count() for model in (DayLog, LogEntry, LogPhoto, PunchItem, JobExtra)]
    assert counts == [1, 1, 1, 1, 1]


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ({}, "Nothing was entered; accepted: hours of a task, rows laid"),
        ({"through__lay__1": "9"}, "a row of the plan of Den, from 1 to 8."),
        ({"through__lay__1": "0"}, "a row of the plan of Den, from 1 to 8."),
        ({"extra_hours": "2"}, "accepted: what is wanted, in words."),
        ({"hours__setup__0__999999": "2"}, "hours-setup-0-999999 is of somebody who is not"),
        ({"hours__paint__7__1": "2"}, "or of no task of the day"),
    ],
)
def test_what_cannot_be_is_refused_with_what_is_accepted(
    day: WorkDay, lead: User, values: dict[str, Any], message: str
) -> None:
    assert message in sent(lead, day, 422, **values)
    assert not DayLog.objects.exists()


@pytest.mark.parametrize("amount", ["24.25", "-1", "NaN", "1e9"])
def test_hours_outside_a_day_are_refused(day: WorkDay, lead: User, amount: str) -> None:
    assert "accepted: a number from 0 to 24." in sent(lead, day, 422, **hours(lead, amount))


def test_somebody_of_another_company_is_refused(day: WorkDay, lead: User) -> None:
    stranger = make_person(make_company("Other Floors"))
    assert "is not of this crew" in sent(lead, day, 422, **hours(stranger, "2"))


def test_who_has_left_the_crew_since_the_page_was_opened_still_counts(
    day: WorkDay, lead: User, helper: User
) -> None:
    day.crew.last_days.create(person=helper, date=day.date - timedelta(days=1))
    sent(lead, day, **hours(helper, "2"))
    assert LogEntry.objects.get().who == helper


def test_extra_work_of_the_log_is_noted_with_its_photograph(day: WorkDay, lead: User) -> None:
    sent(lead, day, extra_text="Closet too", extra_hours="3", extra_photo=a_picture())
    extra = JobExtra.objects.get()
    assert (extra.text, extra.hours, extra.day, extra.who) == ("Closet too", Decimal(3), day, lead)
    assert extra.photo is not None


def test_punch_list_readings_and_a_signature_are_kept(day: WorkDay, lead: User) -> None:
    sent(lead, day, punch="Shoe in the hall\n\nNail holes", signed_by="Ana Ruiz")
    done = PunchItem.objects.get(text="Nail holes")
    values = {"punch_done": [done.pk, 999999], "reading_value": "9", "reading_method": "wood"}
    sent(lead, day, key="k2", **values, signature=a_picture(kind="PNG"))
    done.refresh_from_db()
    assert done.done_by == lead
    (reading,) = SiteFacts.objects.get(job=day.job).readings
    assert (reading["method"], reading["value"]) == ("wood", "9")
    assert reading["on"] == day.date.isoformat()
    assert LogPhoto.objects.get().side == "signed"


def test_a_log_of_a_closed_job_stands_beside_what_was_closed(day: WorkDay, lead: User) -> None:
    Job.objects.filter(pk=day.job_id).update(closed_at=timezone.now())
    day.refresh_from_db()
    page = phone_of(lead).get(reverse("log-add", args=[day.pk])).content.decode()
    assert "is closed. What is logged now stands beside its review." in page
    sent(lead, day, **hours(lead, "2"))
    assert LogEntry.objects.get().at > (Job.objects.get(pk=day.job_id).closed_at or timezone.now())


def test_a_phone_a_day_ahead_logs_the_day_of_its_page(day: WorkDay, lead: User) -> None:
    ahead = timezone.now() + timedelta(days=1)
    sent(lead, day, **hours(lead, "2"), phone_at=ahead.isoformat())
    log = DayLog.objects.get()
    assert log.day == day
    assert log.phone_at == ahead
    assert log.at < ahead
    sent(lead, day, key="k2", **hours(lead, "1"), phone_at="yesterday-ish")
    assert DayLog.objects.filter(phone_at__isnull=True).count() == 1


def test_another_crews_day_is_not_found(job: Job, lead: User) -> None:
    theirs = laid_out(agreed_job(job.company), a_crew(job.company))[0]
    sent(lead, theirs, 404, **hours(lead, "1"))


def test_as_planned_fills_hours_and_rows_without_a_script(
    day: WorkDay, lead: User, helper: User
) -> None:
    page = phone_of(lead).get(reverse("log-add", args=[day.pk]), {"as": "planned"})
    form = page.context["form"]
    filled = {
        name: str(field.initial)
        for name, field in form.fields.items()
        if name.startswith(("hours-", "through-")) and field.initial is not None
    }
    planned = sum((Decimal(entry["hours"]) for entry in day.entries), Decimal(0))
    typed = [Decimal(value) for name, value in filled.items() if name.startswith("hours-")]
    said = sum(typed, Decimal(0))
    assert abs(said - planned) <= Decimal("0.125")
    form = {name.replace("-", "__"): value for name, value in filled.items()}
    sent(lead, day, **form)
    assert sum(entry.hours for entry in LogEntry.objects.all()) == said
