"""All that is kept of one client, as one file to hand over: rows as JSON, papers, photographs.

What is ours is left out: costs, margins, hours, who of the crew did what.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile

from django.db.models import Model, QuerySet

from estimates.models import (
    Acceptance,
    Ballpark,
    ChangeDraft,
    ChangeOffer,
    CompletionSlip,
    Invoice,
    InvoicePayment,
    Quote,
    QuoteEvent,
)
from jobs.domain.formats import BrokenDocumentError
from jobs.models import (
    AgreedNights,
    Callback,
    Client,
    HoldClearance,
    Job,
    JobExtra,
    LogEntry,
    LogPhoto,
    Mail,
    PunchItem,
    Room,
    RoomNote,
    SiteFacts,
    StoredFile,
    User,
    WorkDay,
)
from jobs.services.files import read_file
from jobs.services.records import audit


@dataclass(frozen=True, kw_only=True, slots=True)
class Handed:
    """Rows of one kind that are handed over, their columns, and the columns that name files."""

    title: str
    rows: QuerySet[Model]
    columns: tuple[str, ...]
    files: tuple[str, ...] = ()


_FACTS = (
    *("job", "access", "aquarium", "piano", "electronics", "pets", "parking", "saw_spot"),
    *("power", "disposal_place"),
)


def handed_over(client: Client) -> Iterator[Handed]:
    """Yield every kind of row that is kept of a client."""
    particulars = ("name", "kind", "email", "phone", "address", "note", "created_at", "changed_at")
    yield _all("client", Client.objects.filter(pk=client.pk), particulars)
    jobs = Job.objects.filter(client=client)
    job_columns = ("id", "number", "title", "address", "closed_at", "archived_at")
    yield _all("jobs", jobs, job_columns)
    yield from _of_the_house(client)
    yield from _of_the_work(client)
    yield from _of_the_papers(client)


def _of_the_house(client: Client) -> Iterator[Handed]:
    yield _all("site facts", SiteFacts.objects.filter(job__client=client), _FACTS)
    yield _all("rooms", Room.objects.filter(job__client=client), ("job", "name", "measured"))
    notes = RoomNote.objects.filter(room__job__client=client)
    yield _all("notes of rooms", notes, ("room", "text", "created_at"), "photo")
    cleared = HoldClearance.objects.filter(job__client=client)
    yield _all("holds cleared", cleared, ("job", "code", "by", "note"))
    yield _all("nights agreed", AgreedNights.objects.filter(job__client=client), ("job", "by"))


def _of_the_work(client: Client) -> Iterator[Handed]:
    yield _all("days", WorkDay.objects.filter(job__client=client), ("job", "number", "date"))
    entries = LogEntry.objects.filter(day__job__client=client)
    yield _all("log", entries.exclude(note="", photo=None), ("day", "note", "at"), "photo")
    shots = LogPhoto.objects.filter(log__day__job__client=client)
    yield _all("photographs", shots, ("side",), "file")
    extras = JobExtra.objects.filter(job__client=client)
    yield _all("extra work", extras, ("job", "text", "asked_by", "at"), "photo")
    yield _all("punch list", PunchItem.objects.filter(job__client=client), ("job", "text"))
    yield _all("callbacks", Callback.objects.filter(job__client=client), ("job", "what"))


def _of_the_papers(client: Client) -> Iterator[Handed]:
    quotes = Quote.objects.filter(job__client=client)
    yield _all("quotes", quotes, ("job", "number", "issued_at"), "pdf")
    events = QuoteEvent.objects.filter(quote__job__client=client)
    event_columns = ("quote", "kind", "at", "name", "text", "choice", "ip", "agent")
    yield _all("events of quotes", events, event_columns)
    accepted = Acceptance.objects.filter(quote__job__client=client)
    yield _all("acceptances", accepted, ("quote", "name", "at", "choice"))
    drafts = ChangeDraft.objects.filter(job__client=client)
    yield _all("changes noted", drafts, ("job", "text", "why", "asked_by"), "photo")
    offers = ChangeOffer.objects.filter(job__client=client)
    yield _all("change orders", offers, ("job", "answer", "answered_by", "reason"), "pdf")
    bills = Invoice.objects.filter(job__client=client)
    yield _all("invoices", bills, ("job", "number", "bill_to", "void_reason"), "pdf")
    paid = InvoicePayment.objects.filter(invoice__job__client=client)
    yield _all("payments", paid, ("invoice", "amount", "received_on", "note"))
    slips = CompletionSlip.objects.filter(job__client=client)
    yield _all("completion slips", slips, ("job", "signed_by", "open_points"), "pdf")
    sent = Mail.objects.filter(company=client.company, to__iexact=client.email or "-")
    yield _all("mails", sent, ("to", "subject", "text", "posted_at", "sent_at"))
    said = Ballpark.objects.filter(job__client=client)
    yield _all("ranges said at the phone", said, ("name", "phone", "size"))


def _all(title: str, rows: object, columns: tuple[str, ...], *files: str) -> Handed:
    ordered: QuerySet[Model] = rows.order_by("pk")  # type: ignore[attr-defined]  # of any table
    return Handed(title=title, rows=ordered, columns=columns, files=files)


def archive_of(*, client: Client, user: User) -> bytes:
    """Return the file with all that is kept of a client; a line says who took it."""
    written = BytesIO()
    with ZipFile(written, "w", ZIP_DEFLATED) as archive:
        rows = {one.title: _rows(one, archive) for one in handed_over(client)}
        text = json.dumps(rows, default=str, ensure_ascii=False, indent=1)
        archive.writestr("kept.json", text)
    subject = f"client {client.pk}"
    audit(user=user, company=client.company, subject=subject, act=f"Handed over all of {client}")
    return written.getvalue()


def _rows(handed: Handed, archive: ZipFile) -> list[dict[str, object]]:
    rows: list[dict[str, object]] = []
    for values in handed.rows.values("pk", *handed.columns, *handed.files):
        for name in handed.files:
            if values[name]:
                values[name] = _put_file(archive, int(values[name]))
        rows.append(dict(values))
    return rows


def _put_file(archive: ZipFile, key: int) -> str:
    """Write a file into the archive, once; return its name there, or why it is not."""
    stored = StoredFile.objects.get(pk=key)
    name = f"files/{key}-{stored.name}"
    if name in archive.namelist():
        return name
    try:
        archive.writestr(name, read_file(stored))
    except BrokenDocumentError as broken:
        return str(broken)
    return name
