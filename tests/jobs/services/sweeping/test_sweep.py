"""What the daily sweep clears away, and what it leaves alone."""

from __future__ import annotations

import os
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from django.contrib.sessions.models import Session
from django.utils import timezone
from pytest_django import DjangoCaptureOnCommitCallbacks, Settings

from jobs.models import Company, DayLog, Errand, Job, LogPhoto, RoomNote, SentOnce, StoredFile
from jobs.services.files import path_of, store_file
from jobs.services.records import freeze
from jobs.services.sweeping import orphans
from jobs.services.sweeping.sweep import KIND, sweep_book
from jobs.worker.daily import ask_for_daily_work
from jobs.worker.worker import carry_out_waiting
from tests.builders import (
    make_company,
    make_crew,
    make_day,
    make_job,
    make_person,
    make_planned_job,
    make_room,
)

pytestmark = pytest.mark.django_db

LONG_AGO = timedelta(days=200)


@pytest.fixture(autouse=True)
def files_apart(settings: Settings, tmp_path: Path) -> None:
    """Keep the files of the test in a folder of its own."""
    settings.MEDIA_ROOT = tmp_path / "files"


@pytest.fixture(name="company")
def the_company() -> Company:
    """A company."""
    return make_company()


def a_file(company: Company, content: bytes = b"picture", *, old: bool = True) -> StoredFile:
    """Return a stored file, of long ago or of just now."""
    stored = store_file(company=company, content=content, name="a.jpg", content_type="image/jpeg")
    if old:
        StoredFile.objects.filter(pk=stored.pk).update(stored_at=timezone.now() - LONG_AGO)
        make_old(path_of(stored.sha256))
    return StoredFile.objects.get(pk=stored.pk)


def make_old(place: Path) -> None:
    then = (timezone.now() - LONG_AGO).timestamp()
    os.utime(place, (then, then))


def swept(callbacks: DjangoCaptureOnCommitCallbacks, now: datetime | None = None) -> dict[str, int]:
    with callbacks(execute=True):
        return sweep_book(now or timezone.now())


def test_nothing_is_swept_of_a_book_in_use(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    kept = a_file(company, old=False)
    SentOnce.objects.create(company=company, key="k", action="add client")
    assert set(swept(django_capture_on_commit_callbacks).values()) == {0}
    assert path_of(kept.sha256).exists()


def test_marks_and_sessions_go_when_their_time_is_over(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    now = timezone.now()
    old = SentOnce.objects.create(company=company, key="old", action="add client")
    SentOnce.objects.filter(pk=old.pk).update(at=now - LONG_AGO)
    SentOnce.objects.create(company=company, key="new", action="add client")
    Session.objects.create(session_key="s", session_data="", expire_date=now - timedelta(days=1))
    figures = swept(django_capture_on_commit_callbacks)
    assert (figures["marks"], figures["sessions"]) == (1, 1)
    assert [mark.key for mark in SentOnce.objects.all()] == ["new"]


def test_a_file_that_nothing_points_at_goes_with_its_content(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    lone = a_file(company)
    assert swept(django_capture_on_commit_callbacks)["file_rows"] == 1
    assert not path_of(lone.sha256).exists()


def test_a_file_stays_that_a_row_a_paper_or_undo_needs(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    pointed, named, undone = (a_file(company, word) for word in (b"a", b"b", b"c"))
    note = RoomNote.objects.create(room=make_room(make_job(company)), text="x", photo=pointed)
    freeze(company=company, kind="quote", content={"photos": [named.sha256]}, user=None)
    company.removals.create(
        kind="room", row=1, label="Hall", rows=f'[{{"photo": {undone.pk}, "text": ""}}]', links=[]
    )
    assert swept(django_capture_on_commit_callbacks)["file_rows"] == 0
    assert note.photo == pointed
    assert all(path_of(one.sha256).exists() for one in (pointed, named, undone))


def test_a_content_that_another_company_has_too_stays(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    lone = a_file(company)
    theirs = a_file(make_company("Other Floors"), old=False)
    swept(django_capture_on_commit_callbacks)
    assert not StoredFile.objects.filter(pk=lone.pk).exists()
    assert path_of(theirs.sha256).exists()


def test_contents_without_a_row_go_once_they_are_old(
    settings: Settings, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    folder = Path(settings.MEDIA_ROOT) / "ab"
    folder.mkdir(parents=True)
    for name in ("ab01", "ab02.1234.part", "ab03"):
        (folder / name).write_bytes(b"left")
    for name in ("ab01", "ab02.1234.part"):
        make_old(folder / name)
    assert swept(django_capture_on_commit_callbacks)["contents"] == 2
    assert [place.name for place in folder.iterdir()] == ["ab03"]


def test_photographs_go_when_the_owners_time_is_over(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    now = timezone.now()
    Company.objects.filter(pk=company.pk).update(photographs_months=6)
    rows = {}
    for title, days in (("old", 200), ("new", 100)):
        job = make_planned_job(company)
        Job.objects.filter(pk=job.pk).update(closed_at=now - timedelta(days=days))
        member = make_person(company, "crew")
        log = DayLog.objects.create(day=make_day(job, make_crew(company, member)), key=title)
        for side in ("after", "signed"):
            picture = a_file(company, f"{title} {side}".encode())
            rows[title, side] = LogPhoto.objects.create(log=log, file=picture, side=side)
    assert swept(django_capture_on_commit_callbacks)["photographs"] == 1
    kept = set(LogPhoto.objects.values_list("pk", flat=True))
    assert kept == {row.pk for key, row in rows.items() if key != ("old", "after")}
    assert not path_of(rows["old", "after"].file.sha256).exists()
    assert company.audit_lines.filter(act__startswith="Removed 1 photographs").count() == 1


def test_for_good_is_for_good(
    company: Company, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    job = make_job(company, closed_at=timezone.now() - timedelta(days=4000))
    RoomNote.objects.create(room=make_room(job), photo=a_file(company))
    assert swept(django_capture_on_commit_callbacks)["photographs"] == 0


def test_the_worker_sweeps_daily_and_keeps_its_figures(
    company: Company, settings: Settings, tmp_path: Path
) -> None:
    settings.BACKUP_HOUR, settings.BACKUP_FOLDER = 2, str(tmp_path / "backups")
    carry_out_waiting()  # by which the kinds of work are known
    kinds = {errand.kind for errand in ask_for_daily_work()}
    assert {KIND, "erase-clients"} <= kinds
    Errand.objects.exclude(kind=KIND).delete()
    carry_out_waiting()
    errand = Errand.objects.get(kind=KIND)
    assert errand.state == "done"
    assert '"contents":0' in errand.result.replace(" ", "")


def test_every_column_that_names_a_file_is_looked_at() -> None:
    named = {relation.field.name for relation in orphans._relations()}
    assert named >= {"photo", "pdf", "file", "logo", "sheet", "receipt", "attachment"}
