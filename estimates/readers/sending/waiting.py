"""What of quotes waits on the office: words of homeowners, and mail that did not go out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from django.urls import reverse

from estimates.models import Quote, QuoteEvent
from jobs.models import Company, Mail
from jobs.readers import today
from jobs.readers.today import Waiting

WORDS: Mapping[str, str] = {
    QuoteEvent.Kind.SEEN: "{quote} was opened",
    QuoteEvent.Kind.QUESTION: "A question about {quote}: “{text}”",
    QuoteEvent.Kind.ACCEPTED: "{quote} is accepted by {name}",
    QuoteEvent.Kind.DECLINED: "{quote} is declined{reason}",
}
LONGEST_TEXT = 120
ABOUT = "quote:"


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
    newest = rows.select_related("quote__job__client").order_by("-at")
    for event in newest[: today.MOST_LINES]:
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
    )


def _called(quote: Quote) -> str:
    job = quote.job
    return f"Quote {quote.called}, {job.client}, {job.title}"


def _mails(company: Company) -> Iterator[Waiting]:
    failed = Mail.objects.filter(
        company=company,
        about__startswith=ABOUT,
        state__in=[Mail.State.FAILED, Mail.State.UNSURE],
        noted_at=None,
    ).order_by("-pk")[: today.MOST_LINES]
    by_quote = {mail: int(mail.about.removeprefix(ABOUT)) for mail in failed}
    quotes = Quote.objects.select_related("job__client").in_bulk(by_quote.values())
    for mail, pk in by_quote.items():
        if pk in quotes:
            yield Waiting(
                text=f"Mail to {mail.to} {_stands(mail)}: {_called(quotes[pk])}",
                url=reverse("quote", args=[pk]) + "#mails",
                at=mail.posted_at,
                kind="mail",
                noted_url=reverse("mail-noted", args=[mail.pk]),
            )


def _stands(mail: Mail) -> str:
    return "did not go out" if mail.state == Mail.State.FAILED else "may not have gone out"
