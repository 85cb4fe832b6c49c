"""The page of backups, the daily one of the worker, and what the first page says of them."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
import time_machine
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone
from pytest_django import Settings

from jobs.clock import time_zone_of
from jobs.models import AuditLine, Errand, Role, User
from jobs.models.work import ErrandState
from jobs.readers.backups.shelf import made_backups
from jobs.worker.daily import ask_for_daily_work
from jobs.worker.errands import find_handlers
from jobs.worker.worker import carry_out_waiting
from tests.builders import make_person
from tests.reading import words

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(autouse=True)
def shelf(settings: Settings, tmp_path: Path) -> Path:
    """Keep backups in a folder of this test alone."""
    settings.BACKUP_FOLDER = str(tmp_path / "backups")
    return tmp_path / "backups"


def test_the_owner_makes_one_now_and_sees_it(visitor: Visitor, owner: User, shelf: Path) -> None:
    page = visitor.post(reverse("backup-make"), follow=True)
    assert "Making the backup" in words(page)
    visitor.post(reverse("backup-make"))
    assert Errand.objects.count() == 1
    carry_out_waiting()
    page = visitor.get(reverse("backup-list"))
    (backup,) = made_backups()
    assert backup.name in words(page)
    assert "made by hand" in words(page)
    assert str(shelf) in words(page)
    assert "Last backup: 0 minutes ago" in words(visitor.get("/"))
    assert AuditLine.objects.filter(act="Asked for a backup").exists()


def test_an_estimator_reads_nothing_of_it_on_the_first_page(owner: User) -> None:
    browser = Visitor()
    assert owner.company
    browser.force_login(make_person(owner.company, role=Role.ESTIMATOR, email="e@example.com"))
    assert "backup" not in words(browser.get("/")).lower()


def test_a_folder_that_can_not_be_written_is_said_where_the_owner_looks(
    visitor: Visitor, shelf: Path
) -> None:
    shelf.write_text("no folder")
    visitor.post(reverse("backup-make"))
    carry_out_waiting()
    assert Errand.objects.get().state == ErrandState.FAILED
    for address in ("/", reverse("backup-list")):
        assert "The last backup failed: It can't be written" in words(visitor.get(address))
    shelf.unlink()
    visitor.post(reverse("backup-make"))
    carry_out_waiting()
    assert "The last backup failed" not in words(visitor.get("/"))


def test_a_stale_one_is_a_prompt_and_told_to_who_watches(visitor: Visitor) -> None:
    visitor.post(reverse("backup-make"))
    carry_out_waiting()
    assert visitor.get("/healthz").json()["backup"] == "good"
    with time_machine.travel(timezone.now() + timedelta(days=3)):
        answer = visitor.get("/healthz").json()
        assert (answer["backup"], answer["backup_age"]) == ("stale", "3 days")


def test_the_worker_makes_one_a_day_from_its_hour_on(owner: User, settings: Settings) -> None:
    settings.BACKUP_HOUR = 2
    find_handlers()
    assert owner.company
    zone = time_zone_of(owner.company)
    night = datetime(2026, 11, 30, 3, 0, tzinfo=zone)
    with time_machine.travel(night, tick=False) as clock:
        assert "make-backup" in [errand.kind for errand in ask_for_daily_work()]
        carry_out_waiting()
        assert [backup.kind for backup in made_backups()] == ["daily"]
        for later, count in ((22.9, 0), (23, 1)):  # to 1:54 and to 2:00 of the next night
            clock.move_to(night + timedelta(hours=later))
            due = [one for one in ask_for_daily_work() if one.kind == "make-backup"]
            assert len(due) == count


def test_what_failed_is_asked_for_again_an_hour_later(
    owner: User, settings: Settings, shelf: Path
) -> None:
    settings.BACKUP_HOUR = 2
    shelf.write_text("no folder")
    ask_for_daily_work()
    carry_out_waiting()
    failed = Errand.objects.filter(kind="make-backup")
    assert failed.get().state == ErrandState.FAILED
    ask_for_daily_work()
    assert failed.count() == 1
    with time_machine.travel(timezone.now() + timedelta(minutes=61)):
        ask_for_daily_work()
    assert failed.count() == 2
