"""What the log says of a request, and the number by which a page speaks of it."""

from __future__ import annotations

import json
import logging
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.db import OperationalError, connection
from django.test import Client
from pytest_django import Settings

from installer_site import env
from installer_site.log_lines import JsonLine, RequestNumber
from tests.builders import make_company, make_person
from tests.reading import words

pytestmark = pytest.mark.django_db


def a_record(said: str, *args: object) -> logging.LogRecord:
    """Return a line as a module hands it to the log."""
    return logging.LogRecord("django.request", logging.WARNING, "", 0, said, args, None)


def test_each_answer_has_a_number_of_its_own(client: Client) -> None:
    numbers = {client.get("/healthz")["X-Request-Id"] for _ in range(5)}
    assert len(numbers) == 5
    assert all(len(number) == 10 for number in numbers)


def test_a_line_tells_route_keys_status_and_person(
    client: Client, caplog: pytest.LogCaptureFixture
) -> None:
    owner = make_person(make_company())
    client.force_login(owner)
    with caplog.at_level(logging.INFO, "rowbook.requests"):
        client.get("/jobs/4711?secret=word")
    line = next(record for record in caplog.records if record.name == "rowbook.requests")
    facts = line.__dict__["facts"]
    assert (facts["method"], facts["route"], facts["status"]) == ("GET", "/jobs/<int:pk>", 404)
    assert (facts["keys"], facts["person"]) == ({"pk": 4711}, owner.pk)
    assert "word" not in line.getMessage()


@pytest.mark.parametrize("path", ["/q/w0rd", "/c/w0rd/file", "/p/w0rd", "/f/w0rd.ics"])
def test_the_word_of_a_link_is_in_no_line(
    client: Client, caplog: pytest.LogCaptureFixture, path: str
) -> None:
    hides = RequestNumber()
    caplog.handler.addFilter(hides)
    try:
        with caplog.at_level(logging.INFO):
            client.get(path)
    finally:
        caplog.handler.removeFilter(hides)
    assert caplog.records
    assert "w0rd" not in " ".join(record.getMessage() for record in caplog.records)


def test_other_addresses_are_written_whole() -> None:
    record = a_record("Not Found: %s", "/floors/q/3")
    RequestNumber().filter(record)
    assert record.getMessage() == "Not Found: /floors/q/3"


def test_a_line_of_json_can_be_read_by_programs() -> None:
    record = a_record("Not Found: %s", "/password/set/MQ/abc-def")
    record.facts = {"status": 404, "ms": 12}
    RequestNumber().filter(record)
    line = json.loads(JsonLine().format(record))
    assert (line["level"], line["from"], line["status"]) == ("WARNING", "django.request", 404)
    assert line["words"] == "Not Found: /password/set/…"


@pytest.mark.parametrize(
    ("path", "status"), [("/no-such-page", 404), ("/q/a%00b", 400), ("/company", 403)]
)
def test_an_error_page_shows_the_number_of_its_answer(path: str, status: int) -> None:
    visitor = Client(raise_request_exception=False)
    visitor.force_login(make_person(make_company(), role="crew"))
    answer = visitor.get(path)
    assert answer.status_code == status
    assert f"<code>{answer['X-Request-Id']}</code>" in words(answer)


@pytest.mark.parametrize(
    ("fault", "status"), [(OperationalError("database is locked"), 503), (ValueError("no"), 500)]
)
def test_so_does_a_page_about_trouble(
    monkeypatch: pytest.MonkeyPatch, fault: Exception, status: int
) -> None:
    def refuse(*_: object) -> None:
        raise fault

    monkeypatch.setattr("jobs.views.people.people.page_of", refuse)
    visitor = Client(raise_request_exception=False)
    visitor.force_login(make_person(make_company()))
    answer = visitor.get("/clients")
    assert answer.status_code == status
    assert f"<code>{answer['X-Request-Id']}</code>" in words(answer)


def test_a_log_format_that_is_none_is_refused_by_name() -> None:
    with pytest.raises(ImproperlyConfigured, match=r"LOG_FORMAT='xml' .* line, json"):
        env.read_choice({"LOG_FORMAT": "xml"}, "LOG_FORMAT", env.LOG_FORMATS, "line")


def test_a_site_with_its_tables_and_its_disk_is_ready(client: Client) -> None:
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["ready"]) == (200, True)


def test_a_site_that_lacks_a_migration_is_not_ready(client: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'estimates'")
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["ready"]) == (503, False)
    assert answer.json()["tables"].endswith("migrations are missing")


def test_a_site_without_tables_is_not_ready(client: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute("ALTER TABLE django_migrations RENAME TO put_away")
    assert client.get("/readyz").status_code == 503


def test_a_site_that_cannot_write_files_is_not_ready(
    client: Client, settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.MEDIA_ROOT = tmp_path / "files"
    monkeypatch.setattr("installer_site.health.os.access", lambda *_: False)
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["files"]) == (503, "can't be written")
