"""What of quotes waits on the office: words of homeowners, and mail that did not go out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet
from django.urls import reverse

from estimates.models import ChangeOffer, Invoice, Quote, QuoteEvent, QuoteOption
from jobs.models import Company, Job, Mail
from jobs.readers import today
from jobs.readers.today import Waiting
from jobs.readers.together.keys import KeyList
from jobs.readers.together.round_trip import KindRows, RowKind

WORDS: Mapping[str, str] = {
    QuoteEvent.Kind.SEEN: "{quote} was opened",
    QuoteEvent.Kind.QUESTION: "A question about {quote}: “{text}”",
    QuoteEvent.Kind.ACCEPTED: "{quote} is accepted by {name}{chosen}",
    QuoteEvent.Kind.DECLINED: "{quote} is declined{reason}",
}
LONGEST_TEXT = 120


def _words_of_homeowners(companies: KeyList) -> QuerySet[QuoteEvent]:
    rows = QuoteEvent.objects.filter(
        quote__job__company__in=companies,
        quote__job__archived_at=None,
        noted_at=None,
        kind__in=list(WORDS),
    )
    return rows.order_by("-at")[: today.MOST_LINES]


def _failed(companies: KeyList) -> QuerySet[Mail]:
    rows = Mail.objects.filter(
        company__in=companies, state__in=[Mail.State.FAILED, Mail.State.UNSURE], noted_at=None
    )
    return rows.order_by("-pk")[: today.MOST_LINES]


EVENTS = RowKind(
    of=lambda companies: QuoteEvent.objects.filter(
        pk__in=_words_of_homeowners(companies).values("pk")
    ).select_related("quote__job__client")
)
OPTIONS = RowKind(
    of=lambda companies: QuoteOption.objects.filter(
        quote__events__in=_words_of_homeowners(companies).values("pk")
    ).distinct()
)
MAILS = RowKind(of=lambda companies: Mail.objects.filter(pk__in=_failed(companies).values("pk")))


def register() -> None:
    """Give the office's first page what waits of quotes."""
    today.register(_events, of_company=[EVENTS, OPTIONS])
    today.register(_mails, of_company=[MAILS])


def _events(_: Company, rows: KindRows) -> Iterator[Waiting]:
    names = {(option.quote_id, option.key): option.name for option in rows[OPTIONS]}
    for event in rows[EVENTS]:
        is_question = event.kind == QuoteEvent.Kind.QUESTION
        yield Waiting(
            text=_words(event, names.get((event.quote_id, event.choice), "")),
            url=reverse("quote", args=[event.quote_id]) + ("#questions" if is_question else ""),
            at=event.at,
            kind=event.kind,
            noted_url="" if is_question else reverse("quote-noted", args=[event.pk]),
        )


def _words(event: QuoteEvent, chosen: str) -> str:
    """Return what a homeowner did; ``chosen`` is empty where there was nothing to choose."""
    text = event.text if len(event.text) <= LONGEST_TEXT else event.text[:LONGEST_TEXT] + "…"
    return WORDS[event.kind].format(
        quote=_called(event.quote),
        text=text,
        name=event.name,
        reason=f": “{text}”" if text else "",
        chosen=f": {chosen}" if chosen else "",
    )


def _called(quote: Quote) -> str:
    return f"Quote {quote.called} ({_of_job(quote.job)})"


def _of_job(job: Job) -> str:
    return f"{job.client}, {job.title}"


def _mails(_: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the mails that did not go out, about papers of every kind."""
    mails = [(mail, *_about(mail)) for mail in rows[MAILS]]
    papers = _papers((kind, number) for _, kind, number in mails)
    for mail, kind, number in mails:
        if kind in papers and number in papers[kind]:
            row = papers[kind][number]
            yield Waiting(
                text=f"Mail to {mail.to} {_stands(mail)}: {PAPERS[kind].words(row)}",
                url=reverse(PAPERS[kind].page, args=[row.pk]) + "#mails",
                at=mail.posted_at,
                kind="mail",
                noted_url=reverse("mail-noted", args=[mail.pk]),
            )


def _papers(wanted: Iterable[tuple[str, int]]) -> dict[str, dict[int, Any]]:
    """Return papers by kind and key, in one query; none where no mail is about one."""
    keys: dict[str, list[int]] = defaultdict(list)
    for kind, number in wanted:
        if kind in PAPERS:
            keys[kind].append(number)
    rows = KindRows({PAPERS[kind].rows: those for kind, those in keys.items()})
    return {kind: {row.pk: row for row in rows[PAPERS[kind].rows]} for kind in keys}


def _about(mail: Mail) -> tuple[str, int]:
    """Return kind and key of the paper that a mail is about."""
    kind, _, number = mail.about.partition(":")
    return kind, int(number) if number.isdecimal() else 0


def _stands(mail: Mail) -> str:
    return "did not go out" if mail.state == Mail.State.FAILED else "may not have gone out"


@dataclass(frozen=True, kw_only=True, slots=True)
class MailedPaper:
    """A kind of paper that goes by mail: its rows, its page, and how one is called."""

    rows: RowKind[Any]
    page: str
    words: Callable[[Any], str]


PAPERS: Mapping[str, MailedPaper] = {
    "quote": MailedPaper(
        rows=RowKind(
            of=lambda keys: Quote.objects.filter(pk__in=keys).select_related("job__client")
        ),
        page="quote",
        words=_called,
    ),
    "change": MailedPaper(
        rows=RowKind(
            of=lambda keys: ChangeOffer.objects.filter(pk__in=keys).select_related("job__client")
        ),
        page="change-offer",
        words=lambda row: f"Change order {row.number}, {_of_job(row.job)}",
    ),
    "invoice": MailedPaper(
        rows=RowKind(
            of=lambda keys: Invoice.objects.filter(pk__in=keys).select_related("job__client")
        ),
        page="invoice",
        words=lambda row: f"{row}, {_of_job(row.job)}",
    ),
}
