"""A full disk, a shut disk, a busy book: said in words, and nothing typed is lost."""

from __future__ import annotations

import errno
from types import SimpleNamespace

import pytest
from django.db import OperationalError
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import AuditLine, Client, Job
from tests.reading import words

pytestmark = pytest.mark.django_db

SAID = {
    "database or disk is full": "There is no room left on the disk",
    "attempt to write a readonly database": "can't be written on",
    "database is locked": "Somebody else is writing in the book",
}


@pytest.mark.parametrize(("trouble", "sentence"), SAID.items())
def test_a_form_keeps_what_was_typed_when_nothing_can_be_written(
    visitor: Visitor, job: Job, monkeypatch: pytest.MonkeyPatch, trouble: str, sentence: str
) -> None:
    def refuse(**_: object) -> None:
        raise OperationalError(trouble)

    monkeypatch.setattr("jobs.services.people.audit", refuse)
    lines = AuditLine.objects.count()
    sent = {"key": "k1", "version": "1", "name": "Ada Lind", "address": "4 Example Lane"}
    answer = visitor.post(reverse("client-add"), sent)
    assert answer.status_code == 503
    assert sentence in words(answer)
    assert "4 Example Lane" in words(answer)
    assert not Client.objects.filter(name="Ada Lind").exists()
    assert AuditLine.objects.count() == lines


@pytest.mark.parametrize(
    ("trouble", "sentence"),
    [
        (OperationalError("unable to open database file"), "can't be written on"),
        (OperationalError("disk I/O error"), "can't be written on"),
        (OperationalError("database is locked"), SAID["database is locked"]),
        (OSError(errno.ENOSPC, "No space left on device"), SAID["database or disk is full"]),
        (OSError(errno.EROFS, "Read-only file system"), "can't be written on"),
    ],
)
def test_a_page_without_a_form_says_it_too(
    visitor: Visitor, job: Job, monkeypatch: pytest.MonkeyPatch, trouble: Exception, sentence: str
) -> None:
    def refuse(*_: object) -> None:
        raise trouble

    monkeypatch.setattr("jobs.views.jobs.path_context", refuse)
    answer = visitor.get(reverse("job", args=[job.pk]))
    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "10"
    assert sentence in words(answer)


def test_where_sqlite_says_little_the_disk_is_looked_at(
    visitor: Visitor, job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        message = "disk I/O error"
        raise OperationalError(message)

    monkeypatch.setattr("jobs.views.jobs.path_context", refuse)
    monkeypatch.setattr("shutil.disk_usage", lambda _: SimpleNamespace(free=0))
    assert SAID["database or disk is full"] in words(visitor.get(reverse("job", args=[job.pk])))


def test_a_fault_of_the_program_is_not_taken_for_a_full_disk(
    visitor: Visitor, job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.EACCES, "Permission denied")

    monkeypatch.setattr("jobs.views.jobs.path_context", refuse)
    answer = visitor.get(reverse("job", args=[job.pk]))
    assert answer.status_code == 500
    assert "The fault is in the program" in words(answer)
