"""An entry undone: what stood beside the last of a log goes with it, and not before."""

from __future__ import annotations

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import AuditLine, DayLog, LogEntry, LogPhoto, PunchItem, User, WorkDay
from tests.jobs.services.day_log.a_phone import a_picture, hours, phone_of, sent
from tests.reading import words

pytestmark = pytest.mark.django_db


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
