"""The log of a day: what is taken down, what is refused, and that it counts once."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image

from jobs.domain.checks import BadValueError
from jobs.models import AuditLine, Job, LogEntry, User, WorkDay
from jobs.services.files import read_file
from jobs.services.log import LogLine, record_log
from jobs.services.site import clear_hold
from tests.builders import make_company, make_log_entry, make_person
from tests.jobs.agreed import a_crew, agree, agreed_job, hold_asbestos, laid_out, make_scope
from tests.reading import words

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
def who(day: WorkDay) -> User:
    """One of the crew."""
    member = day.crew.members.first()
    assert member is not None
    return member


@pytest.fixture
def phone(who: User) -> Visitor:
    """The browser of that person, on the phone."""
    signed_in = Visitor()
    signed_in.force_login(who)
    return signed_in


def a_form(day: WorkDay, who: User, **values: Any) -> dict[str, Any]:
    """A filled-in log of a day; names with a hyphen come as `hours_setup_0`."""
    names = {
        name.replace("_", "-") if name[-1].isdigit() else name: v for name, v in values.items()
    }
    return {"key": "k1", "scope": day.scope_id, "who": who.pk, **names}


def sent(phone: Visitor, day: WorkDay, form: dict[str, Any], **headers: str) -> tuple[int, str]:
    """Send a log; return the status and the text of the answer."""
    answer = phone.post(reverse("log-add", args=[day.pk]), form, headers=headers)
    return answer.status_code, answer.content.decode()


def a_picture(kind: str = "JPEG", **info: Any) -> SimpleUploadedFile:
    """A small photograph."""
    out = BytesIO()
    Image.new("RGB", (40, 30), "tan").save(out, kind, **info)
    return SimpleUploadedFile(f"den.{kind.lower()}", out.getvalue(), content_type="image/jpeg")


def test_hours_rows_and_spoiled_planks_are_taken_down(
    phone: Visitor, day: WorkDay, who: User
) -> None:
    form = a_form(day, who, hours_setup_0="1.5", hours_lay_1="6", from_lay_1=1, to_lay_1=3)
    form |= {"spoiled-lay-1": 2, "reason-lay-1": "wrong side", "note": "Lot 7"}
    assert sent(phone, day, form)[0] == 303
    setup, lay = LogEntry.objects.order_by("pk")
    assert (setup.task, setup.hours, setup.note) == ("setup", Decimal("1.5"), "Lot 7")
    assert (lay.zone, lay.hours, lay.row_from, lay.row_to) == ("Den", Decimal(6), 1, 3)
    assert (lay.planks_spoiled, lay.spoil_reason, lay.note) == (2, "wrong side", "")


def test_sent_twice_it_counts_once(phone: Visitor, day: WorkDay, who: User) -> None:
    form = a_form(day, who, hours_setup_0="1.5")
    assert [sent(phone, day, form)[0] for _ in range(2)] == [303, 303]
    assert LogEntry.objects.count() == 1


def test_another_log_of_the_same_day_counts_too(phone: Visitor, day: WorkDay, who: User) -> None:
    for key in ("k1", "k2"):
        sent(phone, day, a_form(day, who, hours_setup_0="1.5") | {"key": key})
    assert LogEntry.objects.count() == 2


def test_the_last_row_alone_is_all_up_to_it_that_no_log_has(
    phone: Visitor, day: WorkDay, who: User
) -> None:
    sent(phone, day, a_form(day, who, to_lay_1=4))
    sent(phone, day, a_form(day, who, to_lay_1=7) | {"key": "k2"})
    rows = LogEntry.objects.order_by("pk").values_list("row_from", "row_to")
    assert list(rows) == [(1, 4), (5, 7)]


def test_the_first_row_alone_is_that_row(phone: Visitor, day: WorkDay, who: User) -> None:
    sent(phone, day, a_form(day, who, from_lay_1=4))
    assert list(LogEntry.objects.values_list("row_from", "row_to")) == [(4, 4)]


def test_rows_logged_twice_count_once(phone: Visitor, day: WorkDay, who: User) -> None:
    for key in ("k1", "k2"):
        form = a_form(day, who, from_lay_1=1, to_lay_1=3, hours_lay_1="2") | {"key": key}
        assert sent(phone, day, form)[0] == 303
    rows = LogEntry.objects.order_by("pk").values_list("row_from", "row_to", "hours")
    assert list(rows) == [(1, 3, Decimal(2)), (None, None, Decimal(2))]


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ({}, "Nothing was entered; accepted: hours of a task, rows laid"),
        ({"hours_setup_0": "25"}, "“25” can&#x27;t be used; accepted: a number from 0 to 24."),
        ({"hours_setup_0": "-1"}, "“-1” can&#x27;t be used; accepted: a number from 0 to 24."),
        ({"hours_setup_0": "NaN"}, "“NaN” can&#x27;t be used; accepted: a number from 0 to 24."),
        (
            {"to_lay_1": "9"},
            "9 can&#x27;t be used; accepted: a row of the plan of Den, from 1 to 8.",
        ),
        ({"from_lay_1": "0"}, "accepted: a row of the plan of Den, from 1 to 8."),
        ({"from_lay_1": "5", "to_lay_1": "2"}, "2 comes before row 5; accepted: 5 or more."),
        ({"spoiled_lay_1": "2"}, "Planks were spoiled; choose why."),
        ({"other_hours": "2"}, "a note that says what the other work was"),
    ],
)
def test_what_cannot_be_is_refused_with_value_and_bound(
    phone: Visitor, day: WorkDay, who: User, values: dict[str, Any], message: str
) -> None:
    status, page = sent(phone, day, a_form(day, who, **values))
    assert (status, LogEntry.objects.count()) == (422, 0)
    assert message in page


def test_more_than_24_hours_of_a_person_in_a_day_are_refused_naming_the_sum(
    phone: Visitor, day: WorkDay, who: User
) -> None:
    other_job = laid_out(agreed_job(day.job.company), a_crew(day.job.company))[0]
    make_log_entry(other_job, who, hours=Decimal(20))
    status, page = sent(phone, day, a_form(day, who, hours_setup_0="6"))
    assert status == 422
    assert "26 h (20 h logged before, 6 h now)" in page


def test_exactly_24_hours_are_accepted(phone: Visitor, day: WorkDay, who: User) -> None:
    assert sent(phone, day, a_form(day, who, hours_setup_0="24"))[0] == 303


def test_what_was_typed_stays(phone: Visitor, day: WorkDay, who: User) -> None:
    _, page = sent(phone, day, a_form(day, who, hours_setup_0="1.5", hours_lay_1="99"))
    assert 'value="1.5"' in page
    assert 'value="99"' in page


def test_a_task_on_hold_is_not_logged_until_it_is_cleared(
    phone: Visitor, day: WorkDay, who: User
) -> None:
    hold_asbestos(day.job)
    form = a_form(day, who) | {"hours-tear_out-1": "4"}
    status, page = sent(phone, day, form)
    assert (status, LogEntry.objects.count()) == (422, 0)
    assert "on hold: The old floor may hold asbestos" in page
    owner = make_person(day.job.company)
    clear_hold(job=day.job, user=owner, code="asbestos", by="Ada Brandt", note="Report 1182")
    assert sent(phone, day, form)[0] == 303


def test_a_photograph_is_written_anew(phone: Visitor, day: WorkDay, who: User) -> None:
    exif = Image.Exif()
    exif[0x010E] = "where this was taken"  # ImageDescription, Exif 2.3, table 3
    form = a_form(day, who, photo=a_picture(exif=exif))
    assert sent(phone, day, form)[0] == 303
    photo = LogEntry.objects.get().photo
    assert photo is not None
    assert b"where this was taken" not in read_file(photo)


def test_a_file_that_is_no_picture_is_refused_and_nothing_is_written(
    phone: Visitor, day: WorkDay, who: User
) -> None:
    page = SimpleUploadedFile("den.jpg", b"<script>alert(1)</script>", content_type="image/jpeg")
    status, text = sent(phone, day, a_form(day, who, hours_setup_0="1", photo=page))
    assert (status, LogEntry.objects.count()) == (422, 0)
    assert "a picture: JPEG, PNG or WebP" in text


def test_hours_may_be_entered_for_another_of_the_crew(
    phone: Visitor, day: WorkDay, who: User
) -> None:
    mate = day.crew.members.exclude(pk=who.pk).get()
    sent(phone, day, a_form(day, mate, hours_setup_0="1.5"))
    assert LogEntry.objects.get().who == mate
    assert AuditLine.objects.filter(user=who, act__contains=mate.name).exists()


def test_hours_of_somebody_outside_the_crew_are_refused(phone: Visitor, day: WorkDay) -> None:
    stranger = make_person(make_company("Other Floors"))
    assert sent(phone, day, a_form(day, stranger, hours_setup_0="1"))[0] == 422


def test_an_entry_for_another_crews_day_is_not_found(phone: Visitor, job: Job, who: User) -> None:
    theirs = laid_out(agreed_job(job.company), a_crew(job.company))[0]
    assert sent(phone, theirs, a_form(theirs, who, hours_setup_0="1"))[0] == 404
    assert LogEntry.objects.count() == 0


def test_a_form_from_before_a_new_scope_is_refused(
    phone: Visitor, job: Job, day: WorkDay, who: User
) -> None:
    form = a_form(day, who, hours_setup_0="1")
    agree(job, make_scope(job))
    day.scope = job.agreed_scope  # type: ignore[assignment]
    day.save()
    status, page = sent(phone, day, form)
    assert status == 422
    assert "laid onto days anew" in page


def test_the_script_is_answered_in_plain_words(phone: Visitor, day: WorkDay, who: User) -> None:
    later = {"X-Rowbook-Log": "later"}
    assert sent(phone, day, a_form(day, who, hours_setup_0="25"), **later) == (
        422,
        "Setup: “25” can't be used; accepted: a number from 0 to 24.",
    )
    assert sent(phone, day, a_form(day, who, hours_setup_0="1"), **later) == (201, "")


def test_a_person_takes_back_only_own_entries(phone: Visitor, day: WorkDay, who: User) -> None:
    mate = day.crew.members.exclude(pk=who.pk).get()
    mine, others = make_log_entry(day, who), make_log_entry(day, mate)
    statuses = [
        phone.post(reverse("log-remove", args=[entry.pk])).status_code for entry in (mine, others)
    ]
    assert statuses == [303, 403]
    assert LogEntry.objects.get() == others


def test_the_log_of_the_job_sets_hours_beside_the_scopes(phone: Visitor, day: WorkDay) -> None:
    who = day.crew.members.first()
    assert who is not None
    make_log_entry(day, who, hours=Decimal("2.25"))
    page = phone.get(reverse("job-log", args=[day.job_id])).content.decode()
    assert "Hours by task" in page
    assert "2.25" in page


def test_the_log_of_the_job_opens_on_the_first_day_without_an_entry(
    phone: Visitor, day: WorkDay
) -> None:
    address = reverse("job-log", args=[day.job_id])
    assert f"Log the next day: {day.date:%a, %b} {day.date.day}" in words(phone.get(address))
    for one in day.job.days.all():
        who = one.crew.members.first()
        assert who is not None
        make_log_entry(one, who)
    assert "Log the next day" not in words(phone.get(address))


def test_no_page_of_the_crew_names_a_currency(phone: Visitor, day: WorkDay) -> None:
    names = {"day": day.pk, "log-add": day.pk, "job-log": day.job_id, "job-days": day.job_id}
    for name, pk in names.items():
        page = phone.get(reverse(name, args=[pk])).content.decode()
        assert "$" not in page
        assert day.job.company.currency not in page


def test_rows_outside_the_plan_are_refused_by_the_service_too(day: WorkDay, who: User) -> None:
    line = LogLine(task="lay", zone="Den", rows=(8, 9))
    with pytest.raises(BadValueError, match="rows is 'rows 8 to 9'; accepted: rows of the plan"):
        record_log(day=day, who=who, user=who, key="k" * 64, lines=[line])
    assert LogEntry.objects.count() == 0
