"""A client erased: no row speaks of the person any more but the papers that were issued."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from django.utils import timezone

from estimates.models import Quote, QuoteLink
from estimates.services.privacy.erasing import (
    clients_past_their_time,
    erase_client,
    erase_past_their_time,
)
from jobs.domain.checks import BadValueError
from jobs.models import (
    AuditLine,
    Client,
    Company,
    Document,
    Job,
    Mail,
    Packet,
    SiteFacts,
    StoredFile,
)
from jobs.services.backups.rows import applied_steps, lines_of, tables_at
from jobs.services.records import audit_job
from tests.access_world import World, build_world
from tests.builders import make_client, make_company, make_job

pytestmark = pytest.mark.django_db

MARK = "Zerafina Quill"
"""A name that nothing else in the book has."""
PAPERS = {
    "jobs_document",  # the issued papers themselves
    "estimates_acceptance",
    "estimates_changeoffer",
    "estimates_completionslip",
    "estimates_invoice",
}


def client_of(world: World) -> Client:
    """Return the client of the world's job."""
    return Client.objects.get(pk=str(world.rows["client"][0]))


@pytest.fixture(name="world")
def a_world() -> World:
    """One of everything, the person's name in every text that the office and the crew type."""
    world = build_world()
    client = client_of(world)
    values = {"email": "zerafina@example.com", "phone": "555-0142", "address": f"{MARK} House"}
    Client.objects.filter(pk=client.pk).update(name=MARK, note=f"Ask {MARK}", **values)
    jobs = Job.objects.filter(client=client)
    jobs.update(title=f"{MARK}, hall", address=f"{MARK} House", closed_at=timezone.now())
    for job in jobs:
        audit_job(job=job, user=None, act=f"Renamed {MARK}, hall")
        SiteFacts.objects.filter(job=job).update(access=f"{MARK} has the key", pets=MARK)
    _into_every_text(jobs)
    return world


def _into_every_text(jobs: object) -> None:
    """Write the name into each text column of the rows that hang on a job, papers left alone."""
    from estimates.models import Ballpark, Purchase, QuoteEvent
    from jobs.models import (
        AgreedNights,
        Callback,
        DayLog,
        DaysChange,
        JobExtra,
        LogEntry,
        RoomNote,
    )

    for rows, columns in (
        (AgreedNights.objects.all(), ["by"]),
        (Callback.objects.all(), ["what"]),
        (DaysChange.objects.all(), ["reason"]),
        (DayLog.objects.all(), ["note", "in_the_way", "signed_by"]),
        (LogEntry.objects.all(), ["note"]),
        (RoomNote.objects.all(), ["text"]),
        (JobExtra.objects.all(), ["text", "asked_by"]),
        (Purchase.objects.all(), ["note"]),
        (Ballpark.objects.filter(job__isnull=False), ["name"]),
        (QuoteEvent.objects.all(), ["name", "text"]),
        (Mail.objects.exclude(about__startswith="person"), ["subject", "text"]),
    ):
        rows.update(**dict.fromkeys(columns, MARK))


def tables_that_speak_of(*words: str) -> set[str]:
    """Return the tables in which a row has one of these words."""
    return {
        model._meta.db_table
        for model in tables_at(applied_steps())
        for line in lines_of(model)
        if any(word in line.decode() for word in words)
    }


def test_no_row_speaks_of_the_person_but_the_papers(world: World) -> None:
    client = client_of(world)
    words = (MARK, "zerafina@example.com", "555-0142")
    assert len(tables_that_speak_of(*words)) > 12
    erase_client(client=client, user=None)
    assert tables_that_speak_of(*words) - PAPERS == set()
    client.refresh_from_db()
    assert client.name == f"Erased {client.pk}"
    assert AuditLine.objects.filter(act="Renamed Erased").exists()


def test_what_was_issued_stays_as_it_was(world: World) -> None:
    client = client_of(world)
    papers = {row.pk: (row.document.sha256, row.pdf.sha256) for row in Quote.objects.all()}
    erase_client(client=client, user=None)
    rows = Quote.objects.all()
    assert {row.pk: (row.document.sha256, row.pdf.sha256) for row in rows} == papers
    assert not Packet.objects.filter(job__client=client).exists()
    assert not QuoteLink.objects.filter(quote__job__client=client, revoked_at=None).exists()
    assert StoredFile.objects.filter(sha256__in=[pdf for _, pdf in papers.values()]).count() > 0


def test_every_page_still_opens_for_the_owner(world: World) -> None:
    client = client_of(world)
    erase_client(client=client, user=None)
    owner: Visitor = world.browsers["owner"]
    job = world.rows["job"]
    for name in ("job", "job-quotes", "job-days", "job-log", "job-invoices", "packet-list"):
        assert owner.get(reverse(name, args=job)).status_code == 200, name
    for name in ("job-list", "client-list", "invoice-list", "removed-list", "audit-list"):
        assert owner.get(reverse(name)).status_code == 200, name


def test_an_open_job_keeps_its_client(world: World) -> None:
    client = client_of(world)
    client_of(world).jobs.update(closed_at=None)
    with pytest.raises(BadValueError, match="not closed"):
        erase_client(client=client, user=None)
    client.refresh_from_db()
    assert client.name == MARK


@pytest.fixture(name="company")
def the_company() -> Company:
    """A company that keeps clients for three years."""
    company = make_company()
    Company.objects.filter(pk=company.pk).update(clients_months=36)
    return Company.objects.get(pk=company.pk)


def closed_so_long_ago(company: Company, name: str, days: int | None) -> Client:
    client = make_client(company, name)
    closed = None if days is None else timezone.now() - timedelta(days=days)
    make_job(company, client=client, closed_at=closed)
    return client


def test_clients_go_once_their_last_job_is_closed_long_enough(company: Company) -> None:
    # Three years are 1,095 or 1,096 days: 1,200 is beyond, 1,000 is not.
    old = closed_so_long_ago(company, "Old", 1200)
    closed_so_long_ago(company, "New", 1000)
    closed_so_long_ago(company, "Open", None)
    twice = closed_so_long_ago(company, "Twice", 1200)
    make_job(company, client=twice)
    make_client(company, "Never")
    assert clients_past_their_time(company, timezone.now()) == [old]
    assert erase_past_their_time(timezone.now()) == {"clients": 1}
    assert sorted(company.clients.filter(erased_at=None).values_list("name", flat=True)) == [
        "Never",
        "New",
        "Open",
        "Twice",
    ]
    assert erase_past_their_time(timezone.now()) == {"clients": 0}


def test_for_good_is_for_good(company: Company) -> None:
    closed_so_long_ago(company, "Old", 4000)
    Company.objects.update(clients_months=None)
    assert erase_past_their_time(timezone.now()) == {"clients": 0}


def test_of_frozen_documents_only_the_issued_speak_of_the_person(world: World) -> None:
    # The world froze its documents under these.
    client = client_of(world)
    erase_client(client=client, user=None)
    said = Document.objects.filter(text__contains="Ines Okafor") | Document.objects.filter(
        text__contains="4 Cooper Lane"
    )
    assert set(said.values_list("kind", flat=True)) <= {
        *("quote", "change-order", "invoice", "completion-slip")
    }
