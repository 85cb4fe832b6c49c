"""What is wiped of a client and of their jobs: which rows go, and which lose their words.

What was issued stays as it was issued: quotes, change orders, invoices, payments and slips, with
who accepted them. Tax law and the warranty ask for these for years; everything else of the person
goes. What is counted, measured and laid stays too: a floor without a name tells nobody's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from django.db.models import Q, QuerySet
from django.utils import timezone

from estimates.models import (
    Ballpark,
    ChangeDraft,
    ChangeLink,
    ChangeOffer,
    ChangeText,
    FloorPassport,
    Invoice,
    Purchase,
    Quote,
    QuoteDraft,
    QuoteEvent,
    QuoteLink,
)
from jobs.models import (
    AgreedNights,
    Callback,
    Client,
    DayLog,
    DaysChange,
    JobExtra,
    LogEntry,
    Mail,
    Packet,
    PublishedDay,
    PunchItem,
    Removal,
    RoomNote,
    SiteFacts,
)

ERASED = "Erased"
_FACTS = (
    *("access", "aquarium", "piano", "electronics", "pets", "parking"),
    *("saw_spot", "power", "disposal_place"),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Wiping:
    """Rows and what their columns say from then on; no columns: the rows go."""

    rows: QuerySet  # type: ignore[type-arg]  # of any table
    values: Mapping[str, object]


def _blank(rows: QuerySet, *names: str) -> Wiping:  # type: ignore[type-arg]
    return Wiping(rows=rows, values=dict.fromkeys(names, ""))


def _erased(rows: QuerySet, *names: str) -> Iterator[Wiping]:  # type: ignore[type-arg]
    """Yield that words of these columns are replaced where there are any."""
    for name in names:
        yield Wiping(rows=rows.exclude(**{name: ""}), values={name: ERASED})


def _gone(rows: QuerySet) -> Wiping:  # type: ignore[type-arg]
    return Wiping(rows=rows, values={})


def wipings(client: Client, jobs: list[int]) -> Iterator[Wiping]:
    """Yield all that is wiped of a client and of the jobs with these keys, in order."""
    yield from _of_time_and_place(jobs)
    yield from _of_money(jobs)
    yield from _of_mail(client, jobs)
    yield _gone(_removals(client, jobs))


def _of_time_and_place(jobs: list[int]) -> Iterator[Wiping]:
    yield _blank(SiteFacts.objects.filter(job__in=jobs), *_FACTS)
    yield _gone(RoomNote.objects.filter(room__job__in=jobs))
    logs = DayLog.objects.filter(day__job__in=jobs)
    yield _blank(logs, "note", "in_the_way", "signed_by")
    yield _blank(LogEntry.objects.filter(day__job__in=jobs), "note")
    yield from _erased(DaysChange.objects.filter(job__in=jobs), "reason")
    yield from _erased(PunchItem.objects.filter(job__in=jobs), "text")
    extras = JobExtra.objects.filter(job__in=jobs)
    yield from _erased(extras, "text")
    yield _blank(extras, "asked_by")
    yield from _erased(Callback.objects.filter(job__in=jobs), "what")
    yield _blank(AgreedNights.objects.filter(job__in=jobs), "by")
    published = PublishedDay.objects.filter(job_row__in=jobs)
    yield from _erased(published, "title")
    yield _blank(published, "place", "text")
    yield _gone(Packet.objects.filter(job__in=jobs))


def _of_money(jobs: list[int]) -> Iterator[Wiping]:
    now = timezone.now()
    events = QuoteEvent.objects.filter(quote__job__in=jobs)
    yield _blank(events, "name", "ip", "agent")
    yield from _erased(events, "text")
    for links in (
        QuoteLink.objects.filter(quote__job__in=jobs),
        ChangeLink.objects.filter(offer__job__in=jobs),
    ):
        yield Wiping(rows=links.filter(revoked_at__isnull=True), values={"revoked_at": now})
    yield _gone(FloorPassport.objects.filter(job__in=jobs))
    yield _gone(QuoteDraft.objects.filter(job__in=jobs))
    yield _gone(ChangeText.objects.filter(offer__job__in=jobs))
    yield _blank(ChangeOffer.objects.filter(job__in=jobs), "agent")
    drafts = ChangeDraft.objects.filter(job__in=jobs)
    issued = ChangeOffer.objects.filter(job__in=jobs).values("draft")
    yield _gone(drafts.exclude(pk__in=issued))
    yield _blank(drafts, "asked_by")
    yield _blank(Purchase.objects.filter(job__in=jobs), "note")
    yield _blank(Ballpark.objects.filter(job__in=jobs), "name", "phone")


def _of_mail(client: Client, jobs: list[int]) -> Iterator[Wiping]:
    about = [f"job:{pk}" for pk in jobs]
    for word, rows in (
        ("quote", Quote.objects.filter(job__in=jobs)),
        ("change", ChangeOffer.objects.filter(job__in=jobs)),
        ("invoice", Invoice.objects.filter(job__in=jobs)),
    ):
        about += [f"{word}:{pk}" for pk in rows.values_list("pk", flat=True)]
    theirs = Q(about__in=about)
    if client.email:
        theirs |= Q(to__iexact=client.email) | Q(reply_to__iexact=client.email)
    yield _gone(Mail.objects.filter(theirs, company=client.company))


def _removals(client: Client, jobs: list[int]) -> QuerySet[Removal]:
    """Return what Undo would bring back of the client or of one of these jobs."""
    theirs = Q(kind="client", row=client.pk) | Q(kind="job", row__in=jobs)
    for pk in jobs:
        theirs |= Q(rows__contains=f'"job": {pk},') | Q(rows__contains=f'"job": {pk}}}')
    theirs |= Q(rows__contains=f'"client": {client.pk},')
    return Removal.objects.filter(theirs, company=client.company)
