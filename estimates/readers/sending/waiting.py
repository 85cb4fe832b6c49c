"""What of quotes waits on the office: words of homeowners, and mail that did not go out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet
from django.urls import reverse

from estimates.models import ChangeOffer, Invoice, Quote, QuoteEvent
from jobs.models import Company, Job, Mail
from jobs.readers import today
from jobs.readers.today import Waiting

WORDS: Mapping[str, str] = {
    QuoteEvent.Kind.SEEN: "{quote} was opened",
    QuoteEvent.Kind.QUESTION: "A question about {quote}: “{text}”",
    QuoteEvent.Kind.ACCEPTED: "{quote} is accepted by {name}{chosen}",
    QuoteEvent.Kind.DECLINED: "{quote} is declined{reason}",
}
LONGEST_TEXT = 120


def register() -> None:
    """Give the office's first page what waits of quotes."""
    today.register(_events)
    today.register(_mails)


def _events(company: Company) -> Iterator[Waiting]:
    rows = QuoteEvent.objects.filter(
        quote__job__company=company,
        quote__job__archived_at=None,
        noted_at=None,
        kind__in=list(WORDS),
    )
    newest = rows.select_related("quote__job__client").prefetch_related("quote__options")
    for event in newest.order_by("-at")[: today.MOST_LINES]:
        is_question = event.kind == QuoteEvent.Kind.QUESTION
        yield Waiting(
            text=_words(event),
            url=reverse("quote", args=[event.quote_id]) + ("#questions" if is_question else ""),
            at=event.at,
            kind=event.kind,
            noted_url="" if is_question else reverse("quote-noted", args=[event.pk]),
        )


def _words(event: QuoteEvent) -> str:
    text = event.text if len(event.text) <= LONGEST_TEXT else event.text[:LONGEST_TEXT] + "…"
    return WORDS[event.kind].format(
        quote=_called(event.quote),
        text=text,
        name=event.name,
        reason=f": “{text}”" if text else "",
        chosen=f": {_chosen(event)}" if _chosen(event) else "",
    )


def _chosen(event: QuoteEvent) -> str:
    """Return what was accepted among several; empty where there was nothing to choose."""
    names = {option.key: option.name for option in event.quote.options.all()}
    return names.get(event.choice, "")


def _called(quote: Quote) -> str:
    return f"Quote {quote.called} ({_of_job(quote.job)})"


def _of_job(job: Job) -> str:
    return f"{job.client}, {job.title}"


def _mails(company: Company) -> Iterator[Waiting]:
    """Yield the mails that did not go out, about papers of every kind."""
    failed = Mail.objects.filter(
        company=company, state__in=[Mail.State.FAILED, Mail.State.UNSURE], noted_at=None
    ).order_by("-pk")[: today.MOST_LINES]
    mails = [(mail, *_about(mail)) for mail in failed]
    papers = {
        kind: paper.rows().in_bulk({number for _, of, number in mails if of == kind})
        for kind, paper in PAPERS.items()
    }
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


def _about(mail: Mail) -> tuple[str, int]:
    """Return kind and key of the paper that a mail is about."""
    kind, _, number = mail.about.partition(":")
    return kind, int(number) if number.isdecimal() else 0


def _stands(mail: Mail) -> str:
    return "did not go out" if mail.state == Mail.State.FAILED else "may not have gone out"


@dataclass(frozen=True, kw_only=True, slots=True)
class MailedPaper:
    """A kind of paper that goes by mail: its rows, its page, and how one is called."""

    rows: Callable[[], QuerySet[Any]]
    page: str
    words: Callable[[Any], str]


PAPERS: Mapping[str, MailedPaper] = {
    "quote": MailedPaper(
        rows=lambda: Quote.objects.select_related("job__client"), page="quote", words=_called
    ),
    "change": MailedPaper(
        rows=lambda: ChangeOffer.objects.select_related("job__client"),
        page="change-offer",
        words=lambda row: f"Change order {row.number}, {_of_job(row.job)}",
    ),
    "invoice": MailedPaper(
        rows=lambda: Invoice.objects.select_related("job__client"),
        page="invoice",
        words=lambda row: f"{row}, {_of_job(row.job)}",
    ),
}
