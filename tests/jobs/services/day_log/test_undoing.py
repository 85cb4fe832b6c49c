"""An entry undone: what stood beside the last of a log goes with it, and not before."""

from __future__ import annotations

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import (
    AuditLine,
    DayLog,
    LogEntry,
    LogPhoto,
    PunchItem,
    SiteFacts,
    User,
    WorkDay,
)
from jobs.readers.days import open_holds_of
from tests.builders import make_person
from tests.jobs.agreed import hold_asbestos
from tests.jobs.services.day_log.a_phone import a_picture, hours, phone_of, sent
from tests.reading import words

pytestmark = pytest.mark.django_db


CLEARED = {"gate__asbestos__by": "Ada Brandt", "gate__asbestos__note": "Report 1182, none found"}


@pytest.fixture
def old_house(day: WorkDay) -> WorkDay:
    """The day, in a house whose old floor may hold asbestos."""
    hold_asbestos(day.job)
    return day


def logged(lead: User, helper: User, day: WorkDay, **more: object) -> DayLog:
    """The log of both, with two photographs and a line of the punch list."""
    both = hours(lead, "1") | hours(helper, "2")
    beside = {"photos": [a_picture(), a_picture()], "punch": "Door rubs", "cartons": 3}
    sent(lead, day, **both, **beside, last_width="4 1/4", broken=1, lot="7 A", **more)
    return DayLog.objects.get()


def undo(person: User, entry: LogEntry) -> str:
    """Read what is said before an entry is undone, and undo it."""
    address, phone = reverse("log-remove", args=[entry.pk]), phone_of(person)
    page = words(phone.get(address))
    assert phone.post(address).status_code == 303
    return page


def test_what_stands_beside_stays_while_other_entries_of_the_log_do(
    day: WorkDay, lead: User, helper: User
) -> None:
    log = logged(lead, helper, day)
    said = undo(lead, log.entries.get(who=lead))
    assert "Other entries of the same log stay, and with them: 2 photographs and" in said
    assert (LogPhoto.objects.count(), PunchItem.objects.count()) == (2, 1)


def test_with_the_last_entry_go_photographs_and_punch_lines(
    day: WorkDay, lead: User, helper: User
) -> None:
    log = logged(lead, helper, day)
    undo(lead, log.entries.get(who=lead))
    said = undo(helper, log.entries.get(who=helper))
    what = "2 photographs and of the punch list \u201cDoor rubs\u201d"
    assert f"It is the last entry of its log; with it goes: {what}." in said
    assert not LogPhoto.objects.exists()
    assert not PunchItem.objects.exists()
    log.refresh_from_db()
    assert (log.cartons, log.lot, log.last_width, log.broken) == (None, "", "", 0)
    page = words(phone_of(lead).get(reverse("day", args=[day.pk])))
    assert "Door rubs" not in page
    assert "comes out at" not in page
    assert AuditLine.objects.filter(act__contains="2 photographs").exists()


def test_what_somebody_has_put_right_stays_in_the_book(
    day: WorkDay, lead: User, helper: User
) -> None:
    log = logged(lead, helper, day)
    PunchItem.objects.update(done_at=timezone.now())
    for entry in log.entries.all():
        undo(entry.who, entry)
    assert PunchItem.objects.get().text == "Door rubs"


def test_a_log_that_was_undone_and_comes_again_stays_undone(
    day: WorkDay, lead: User, helper: User
) -> None:
    log = logged(lead, helper, day)
    for entry in log.entries.all():
        undo(entry.who, entry)
    logged(lead, helper, day)
    assert not LogEntry.objects.exists()
    assert not LogPhoto.objects.exists()


def test_readings_go_with_their_log_and_others_stay(day: WorkDay, lead: User) -> None:
    bath = {"reading_value": "11", "reading_method": "wood", "reading_where": "Bath"}
    sent(lead, day, **hours(lead, "1"), **bath)
    den = {"reading_value": "9", "reading_method": "wood", "reading_where": "Den"}
    sent(lead, day, key="k2", **hours(lead, "1"), **den)
    last = LogEntry.objects.order_by("pk").last()
    assert last is not None
    assert "with it goes: of moisture “Den, 9 %”." in undo(lead, last)
    (kept,) = SiteFacts.objects.get(job=day.job).readings
    assert kept["where"] == "Bath"
    page = words(phone_of(make_person(day.job.company)).get(reverse("moisture", args=[day.job_id])))
    assert "Bath" in page
    assert AuditLine.objects.filter(act__contains="of moisture “Den, 9 %”").exists()


def test_a_log_without_hours_can_be_undone_too(day: WorkDay, lead: User) -> None:
    sent(lead, day, reading_value="9", reading_method="wood")
    entry = LogEntry.objects.get()
    assert "Without hours" in words(phone_of(lead).get(reverse("day", args=[day.pk])))
    undo(lead, entry)
    assert SiteFacts.objects.get(job=day.job).readings == []


def test_what_was_put_right_by_an_undone_log_is_still_to_be_put_right(
    day: WorkDay, lead: User
) -> None:
    item = PunchItem.objects.create(job=day.job, text="Nail holes")
    sent(lead, day, **hours(lead, "1"), punch_done=[item.pk])
    assert "put right “Nail holes”" in undo(lead, LogEntry.objects.get())
    item.refresh_from_db()
    assert (item.done_at, item.done_by, item.done_in) == (None, None, None)


def test_a_hold_that_an_undone_log_cleared_is_open_again(old_house: WorkDay, lead: User) -> None:
    sent(make_person(old_house.job.company), old_house, **hours(lead, "1"), **CLEARED)
    assert "asbestos" not in open_holds_of(old_house.job)
    said = undo(lead, LogEntry.objects.get())
    assert "with it goes: the clearing of “" in said
    assert "asbestos" in open_holds_of(old_house.job)


def test_a_log_is_not_undone_while_work_stands_behind_the_hold_that_it_cleared(
    old_house: WorkDay, lead: User
) -> None:
    sent(make_person(old_house.job.company), old_house, **hours(lead, "1"), **CLEARED)
    entry = LogEntry.objects.get()
    sent(lead, old_house, key="k2", through__lay__1=3)
    answer = phone_of(lead).post(reverse("log-remove", args=[entry.pk]))
    assert answer.status_code == 422
    assert "was logged behind it on" in words(answer)
    assert "undo that work first" in words(answer)
    assert "asbestos" not in open_holds_of(old_house.job)
    undo(lead, LogEntry.objects.get(row_to=3))
    undo(lead, entry)
    assert "asbestos" in open_holds_of(old_house.job)
