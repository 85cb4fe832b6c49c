"""The answer at /healthz, and the headers every page carries."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from django.contrib.sessions.models import Session
from django.db import connection
from django.test import Client
from django.utils import timezone
from pytest_django import Settings

from jobs.models.work import ALIVE_FOR, WorkerBeat
from tests.builders import make_company, make_person

# The second is the framework's, of the sign-in.
KEPT_BY_NOBODY = {
    "private, no-store",
    "max-age=0, no-cache, no-store, must-revalidate, private",
}


@pytest.fixture(autouse=True)
def empty_shelf(settings: Settings, tmp_path: Path) -> None:
    """Leave the backups of other tests out."""
    settings.BACKUP_FOLDER = str(tmp_path)


@pytest.mark.django_db
def test_a_site_without_a_worker_says_so(client: Client) -> None:
    answer = client.get("/healthz").json()
    assert answer == {
        "database": "answers",
        "work": "silent",
        "backup": "none",
        "backup_age": "none yet",
    }


@pytest.mark.django_db
def test_a_worker_heard_of_lately_is_alive(client: Client) -> None:
    WorkerBeat.objects.create(name="here")
    assert client.get("/healthz").json()["work"] == "alive"


@pytest.mark.django_db
def test_a_worker_not_heard_of_for_too_long_is_silent(client: Client) -> None:
    long_ago = timezone.now() - ALIVE_FOR - timedelta(seconds=1)
    WorkerBeat.objects.create(name="gone", seen_at=long_ago)
    assert client.get("/healthz").json()["work"] == "silent"


@pytest.mark.django_db
def test_a_database_without_tables_is_a_503(client: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"ALTER TABLE {WorkerBeat._meta.db_table} RENAME TO put_away")
    answer = client.get("/healthz")
    assert answer.status_code == 503
    assert answer.json() == {"database": "does not answer"}


@pytest.mark.django_db
def test_a_database_without_tables_is_a_503_for_who_is_signed_in_too(client: Client) -> None:
    client.force_login(make_person(make_company()))
    with connection.cursor() as cursor:
        for model in (WorkerBeat, Session):
            cursor.execute(f"ALTER TABLE {model._meta.db_table} RENAME TO no_{model.__name__}")
    assert client.get("/healthz").status_code == 503


@pytest.mark.django_db
def test_nothing_is_posted_to_it(client: Client) -> None:
    assert client.post("/healthz").status_code == 405


@pytest.mark.django_db
def test_pages_forbid_inline_code_frames_and_foreign_files(client: Client) -> None:
    policy = client.get("/healthz").headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "object-src 'none'" in policy
    assert "unsafe" not in policy


@pytest.mark.django_db
def test_no_page_is_kept_by_a_browser_or_a_proxy(client: Client) -> None:
    company = make_company()
    for person in (None, make_person(company)):
        if person:
            client.force_login(person)
        for address in ("/", "/sign-in", "/help", "/no-such-page"):
            assert client.get(address).headers["Cache-Control"] in KEPT_BY_NOBODY
