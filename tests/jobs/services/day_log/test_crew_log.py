"""The log of a whole crew: one sending, counted once; what is refused; hours that are asked."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone
from PIL import Image, ImageCms

from jobs.models import (
    AuditLine,
    DayLog,
    HoldClearance,
    HoldOverride,
    Job,
    JobExtra,
    LogEntry,
    LogPhoto,
    PunchItem,
    SiteFacts,
    User,
    WorkDay,
)
from jobs.readers.rates.entries import counted_entries, hours_counted
from jobs.services.day_log.asked import FIRST, LAST, answer_hours
from jobs.services.files import read_file
from tests.builders import make_company, make_person
from tests.jobs.agreed import a_crew, agreed_job, hold_asbestos, laid_out

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    """A job with an agreed scope of 25 hours and 8 rows."""
    return agreed_job()


@pytest.fixture
def day(job: Job) -> WorkDay:
    """Its first day, of a crew of two."""
    return laid_out(job, a_crew(job.company, people=2))[0]


@pytest.fixture
def lead(day: WorkDay) -> User:
    """Who stands first in the crew."""
    return day.crew.members.order_by("pk")[0]


@pytest.fixture
def helper(day: WorkDay) -> User:
    """The other of the crew."""
    return day.crew.members.order_by("pk")[1]


def phone_of(person: User) -> Visitor:
    """The browser of a person."""
    signed_in = Visitor()
    signed_in.force_login(person)
    return signed_in


def sent(person: User, day: WorkDay, status: int = 303, **values: Any) -> str:
    """Send a crew's log; return the page or the reasons. Names come with `_` for the hyphen."""
    form = {"key": "k1", "crew": "yes", "scope": day.scope_id}
    form |= {name.replace("__", "-"): value for name, value in values.items()}
    later = {"X-Rowbook-Log": "later"} if status in (201, 422) else {}
    answer = phone_of(person).post(reverse("log-add", args=[day.pk]), form, headers=later)
    assert answer.status_code == status, answer.content.decode()[:2000]
    return answer.content.decode()


def hours(person: User, amount: str, task: str = "setup__0") -> dict[str, str]:
    """The field of a person's hours at a task."""
    return {f"hours__{task}__{person.pk}": amount}


def a_picture(text: str = "", kind: str = "JPEG", **info: Any) -> SimpleUploadedFile:
    """A small photograph; ``text`` is a remark in the file."""
    out = BytesIO()
    if text:
        info |= {"comment": text.encode()}
    Image.new("RGB", (40, 30), "tan").save(out, kind, **info)
    return SimpleUploadedFile(f"den.{kind.lower()}", out.getvalue(), content_type="image/jpeg")


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


def test_a_picture_of_forty_megabytes_and_what_is_none_are_refused_and_nothing_is_written(
    day: WorkDay, lead: User
) -> None:
    large = SimpleUploadedFile("den.jpg", bytes(40 * 1024 * 1024), content_type="image/jpeg")
    assert "40 MB" in sent(lead, day, 422, **hours(lead, "1"), photos=large)
    other = SimpleUploadedFile("den.jpg", b"<html>hello", content_type="image/jpeg")
    assert "a picture: JPEG, PNG or WebP" in sent(lead, day, 422, photos=other)
    assert not LogEntry.objects.exists()


def test_photographs_from_before_and_after_the_same_spot_go_together(
    day: WorkDay, lead: User
) -> None:
    sent(lead, day, before=[a_picture(), a_picture()])
    first = LogPhoto.objects.order_by("pk")[0]
    page = phone_of(lead).get(reverse("log-add", args=[day.pk])).content.decode()
    assert "Before 2, Mar 1" in page
    sent(lead, day, key="k2", after=a_picture(), after_of=first.pk, photos=a_picture())
    after = LogPhoto.objects.get(side="after")
    assert after.before == first
    assert LogPhoto.objects.filter(side="beside").count() == 1


def test_remarks_and_places_of_a_photograph_are_gone(day: WorkDay, lead: User) -> None:
    exif = Image.Exif()
    exif[0x010E] = "where this was taken"  # ImageDescription, Exif 2.3, table 3
    exif.get_ifd(0x8825)[2] = (45.0, 31.0, 0.0)  # GPSLatitude, Exif 2.3, table 15
    sent(lead, day, photos=a_picture("said by the camera", exif=exif))
    content = read_file(LogPhoto.objects.get().file)
    assert b"said by the camera" not in content
    assert b"where this was taken" not in content
    with Image.open(BytesIO(content)) as kept:
        assert dict(kept.getexif()) == {}
        assert "comment" not in kept.info


def archive() -> bytes:
    """A small archive."""
    out = BytesIO()
    with ZipFile(out, "w") as packed:
        packed.writestr("run.js", "alert(1)")
    return out.getvalue()


@pytest.mark.parametrize(
    "more", [b"<script>alert(1)</script>", b"<!DOCTYPE HTML><body>", b"<?php x();", archive()]
)
def test_a_picture_that_is_something_else_too_is_refused(
    day: WorkDay, lead: User, more: bytes
) -> None:
    picture = a_picture().read() + more
    upload = SimpleUploadedFile("den.jpg", picture, content_type="image/jpeg")
    assert "a picture and nothing else" in sent(lead, day, 422, photos=upload)
    assert not LogPhoto.objects.exists()


def test_a_remark_with_a_page_in_it_is_refused_too(day: WorkDay, lead: User) -> None:
    said = sent(lead, day, 422, photos=a_picture("<html onload=x>"))
    assert "a picture and nothing else" in said


def test_a_profile_of_colors_is_used_up_and_not_kept(day: WorkDay, lead: User) -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    sent(lead, day, photos=a_picture(icc_profile=profile))
    with Image.open(BytesIO(read_file(LogPhoto.objects.get().file))) as kept:
        assert "icc_profile" not in kept.info
        red, green, blue = kept.convert("RGB").getpixel((5, 5))  # type: ignore[misc]
    tan = (210, 180, 140)
    assert all(abs(a - b) < 6 for a, b in zip((red, green, blue), tan, strict=True))


def test_a_photograph_is_served_only_to_who_may_see_the_job(
    job: Job, day: WorkDay, lead: User
) -> None:
    sent(lead, day, photos=a_picture())
    address = reverse("log-shot", args=[LogPhoto.objects.get().pk])
    other_crew = make_person(job.company, "crew")
    stranger = make_person(make_company("Other Floors"))
    statuses = [phone_of(who).get(address).status_code for who in (lead, other_crew, stranger)]
    assert [*statuses, Visitor().get(address).status_code] == [200, 404, 404, 302]


def test_extra_work_of_the_log_is_noted_with_its_photograph(day: WorkDay, lead: User) -> None:
    sent(lead, day, extra_text="Closet too", extra_hours="3", extra_photo=a_picture())
    extra = JobExtra.objects.get()
    assert (extra.text, extra.hours, extra.day, extra.who) == ("Closet too", 3, day, lead)
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
    asked = LogEntry.objects.get(standing="over")
    answer = {"key": "k", "answer": "all"}
    assert owner.post(reverse("log-hours", args=[asked.pk]), answer).status_code == 303
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
    assert (counting(helper), counting(lead)) == (Decimal("7.5"), 8)


def test_the_same_person_on_another_phone_is_asked_about_too(day: WorkDay, lead: User) -> None:
    sent(lead, day, phone="a" * 32, **hours(lead, "4"))
    sent(lead, day, key="k2", phone="b" * 32, **hours(lead, "4"))
    assert counting(lead) == 4
    answer_hours(person=lead, on=day.date, user=lead, answer=FIRST)
    assert counting(lead) == 4
    assert not LogEntry.objects.filter(standing="phones").exists()
    assert answer_hours(person=lead, on=day.date, user=lead, answer=LAST) == 1


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
    planned = sum(Decimal(entry.get("booked", entry["hours"])) for entry in day.entries)
    said = sum(Decimal(value) for name, value in filled.items() if name.startswith("hours-"))
    assert said == planned
    form = {name.replace("-", "__"): value for name, value in filled.items()}
    sent(lead, day, **form)
    assert sum(entry.hours for entry in LogEntry.objects.all()) == planned
