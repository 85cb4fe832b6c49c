"""A full disk, a shut disk, a busy or silent book: said in words, and nothing typed is lost."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from types import SimpleNamespace

import pytest
from django.db import (
    DatabaseError,
    InterfaceError,
    InternalError,
    OperationalError,
    ProgrammingError,
    connection,
)
from django.test import Client as Visitor
from django.urls import reverse

from jobs.models import AuditLine, Client, Job, Role, User
from jobs.unwritten import is_unwritten, trouble_words
from tests.builders import PASSWORD, make_crew, make_day
from tests.estimates.a_job import company_of
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
    "trouble",
    [OperationalError("database is locked"), OSError(errno.ENOSPC, "No space left on device")],
)
@pytest.mark.parametrize("kind", ["whole crew", "one person"])
def test_a_phone_keeps_a_log_that_could_not_be_written_and_sends_it_again(
    visitor: Visitor,
    owner: User,
    job: Job,
    monkeypatch: pytest.MonkeyPatch,
    trouble: Exception,
    kind: str,
) -> None:
    def refuse(**_: object) -> None:
        raise trouble

    monkeypatch.setattr("jobs.views.day_log.crew_log.record_crew_log", refuse)
    monkeypatch.setattr("jobs.views.log._record", lambda *_: refuse())
    crew = make_crew(company_of(owner), owner)
    scope = job.agreed_scope
    assert scope is not None
    day = make_day(job, crew, scope)
    fields = {"key": "log-1", "note": "A board clicks", "scope": str(scope.pk)}
    fields |= {"crew": "yes"} if kind == "whole crew" else {"who": str(owner.pk)}
    later = {"X-Rowbook-Log": "later"}
    answer = visitor.post(reverse("log-add", args=[day.pk]), fields, headers=later)
    # A phone drops what was taken (201), shows what was refused (422), and keeps the rest.
    assert answer.status_code == 503
    assert "so nothing was saved" in words(answer)


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


@pytest.fixture
def shut(transactional_db: None, job: Job, visitor: Visitor) -> Iterator[None]:
    """The database itself takes no writing; what was read before stands."""
    postgres = connection.vendor == "postgresql"
    shutting = "SET default_transaction_read_only = on" if postgres else "PRAGMA query_only = on"
    with connection.cursor() as cursor:
        cursor.execute(shutting)
    yield
    with connection.cursor() as cursor:
        cursor.execute(shutting.replace("= on", "= off"))


@pytest.mark.usefixtures("shut")
def test_a_database_that_only_reads_keeps_what_was_typed(visitor: Visitor) -> None:
    sent = {"key": "k1", "version": "1", "name": "Ada Lind", "address": "4 Example Lane"}
    lines, clients = AuditLine.objects.count(), Client.objects.count()
    answer = visitor.post(reverse("client-add"), sent | {"net_days": "30", "retainage": "0"})
    assert answer.status_code == 503
    said = words(answer)
    assert "can only be read" in said or "can't be written on" in said
    assert "so nothing was saved" in said
    assert "4 Example Lane" in said
    assert (AuditLine.objects.count(), Client.objects.count()) == (lines, clients)


@pytest.mark.usefixtures("shut")
def test_a_database_that_only_reads_shows_its_pages(visitor: Visitor, job: Job) -> None:
    assert visitor.get(reverse("job", args=[job.pk])).status_code == 200
    assert visitor.get(reverse("job-list")).status_code == 200


@pytest.mark.usefixtures("shut")
def test_who_signs_in_where_nothing_can_be_written_is_told_so(job: Job) -> None:
    stranger = Visitor(raise_request_exception=False)
    owner = User.objects.get(role=Role.OWNER)
    answer = stranger.post(reverse("sign-in"), {"username": owner.email, "password": PASSWORD})
    assert answer.status_code == 503
    assert "so nothing was saved" in words(answer)


def stated(trouble: DatabaseError | InterfaceError, state: str | None) -> Exception:
    """Return the trouble as the driver of PostgreSQL hands it on: with a state below it."""
    below = RuntimeError(str(trouble))
    below.sqlstate = state  # type: ignore[attr-defined]  # as the driver's own errors have
    trouble.__cause__ = below
    return trouble


@pytest.mark.parametrize(
    ("trouble", "sentence"),
    [
        (stated(InternalError("kann INSERT nicht ausführen"), "25006"), "can only be read"),
        (
            stated(ProgrammingError('could not open "base/1": Read-only file system'), "42501"),
            "can't be written on",
        ),
        (stated(OperationalError("kann Datei nicht erweitern"), "53100"), "no room left"),
        (stated(OperationalError("connection refused"), None), "doesn't answer"),
        (stated(OperationalError("terminating connection"), "57P01"), "doesn't answer"),
        (stated(InterfaceError("connection already closed"), None), "doesn't answer"),
        (stated(OperationalError("could not fsync"), "58030"), "can't be written on"),
        (stated(OperationalError("canceling statement"), "55P03"), "Somebody else is writing"),
    ],
)
def test_the_states_of_postgres_have_their_words(trouble: Exception, sentence: str) -> None:
    assert is_unwritten(trouble)
    assert sentence in trouble_words(trouble)


@pytest.mark.parametrize(
    "fault",
    [
        stated(ProgrammingError("permission denied for table jobs_job"), "42501"),
        stated(InternalError("current transaction is aborted"), "25P02"),
        ProgrammingError("no such column"),
        ValueError("read-only file system"),
        None,
    ],
)
def test_a_fault_of_the_program_stays_one(fault: Exception | None) -> None:
    assert not is_unwritten(fault)
