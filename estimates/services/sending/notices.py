"""Mails that follow what happens to a quote: to the office, and copies to the homeowner."""

from __future__ import annotations

from collections.abc import Mapping

from estimates.models import Quote, QuoteEvent
from estimates.readers.sending.addressee import addressee_of
from estimates.services.sending.office import moment_words, office_addresses
from estimates.services.sending.words import office_page, place_of
from jobs.domain.documents import digest
from jobs.domain.figures import money
from jobs.models import Mail, StoredFile
from jobs.services.mail.outbox import LINK, mail_is_set, post

VERBS: Mapping[str, str] = {
    QuoteEvent.Kind.SEEN: "was opened",
    QuoteEvent.Kind.QUESTION: "has a question",
    QuoteEvent.Kind.ACCEPTED: "is accepted",
    QuoteEvent.Kind.DECLINED: "is declined",
}


def tell_office(event: QuoteEvent) -> list[Mail]:
    """Post the mails that tell the office what happened; none where no mail server is set."""
    if not mail_is_set():
        return []
    quote = event.quote
    subject = f"Quote {quote.called} {VERBS[event.kind]}, {place_of(quote.job)}"
    with_paper = event.kind == QuoteEvent.Kind.ACCEPTED
    return [
        post(
            company=quote.job.company,
            kind="quote-notice",
            about=about(quote),
            key=f"quote-event:{event.pk}:{digest(address)[:32]}",
            to=address,
            subject=subject,
            text=_office_words(event),
            attachment=quote.pdf if with_paper else None,
        )
        for address in office_addresses(quote.job.company, quote.issued_by)
    ]


def about(quote: Quote) -> str:
    """Return how mails name the quote that they are about."""
    return f"quote:{quote.pk}"


def agreed_words(event: QuoteEvent) -> str:
    """Return what an acceptance agreed to: the choice where there were several, and its total."""
    quote = event.quote
    option = quote.options.filter(key=event.choice).select_related("estimate").first()
    total = money(option.estimate.total if option else quote.total, quote.job.company.currency)
    return f"{option.name}, {total}" if option and option.name else total


def copy_to_homeowner(event: QuoteEvent) -> Mail | None:
    """Post the homeowner's copy of an acceptance, with the paper and the link; or None."""
    quote, to = event.quote, addressee_of(event.quote.job)
    company = quote.job.company
    text = (
        f"{to.greeting},\n\n{event.name} accepted our quote {quote.called} for "
        f"{place_of(quote.job)} on {_moment(event)}: {agreed_words(event)}. The quote is "
        f"attached; it can be read here:\n\n{LINK}\n\n{company.name} will call about the dates. "
        f"Once they are planned, your days stand here:\n\n{LINK}/days\n\n"
        f"{company.name}\n{company.phone}\n"
    )
    subject = f"You accepted quote {quote.called}, {place_of(quote.job)}"
    return to_homeowner(event, kind="quote-copy", subject=subject, text=text, paper=quote.pdf)


def answer_by_mail(event: QuoteEvent) -> Mail | None:
    """Post the answer to a homeowner's question, with the link; or None."""
    quote, question = event.quote, event.question
    quoted = "\n".join(f"> {line}" for line in (question.text if question else "").splitlines())
    text = (
        f"{addressee_of(quote.job).greeting},\n\n{event.text}\n\nYou asked:\n{quoted}\n\n"
        f"The quote:\n\n{LINK}\n\n{event.name}\n{quote.job.company.name}\n"
    )
    subject = f"Our answer, quote {quote.called}, {place_of(quote.job)}"
    return to_homeowner(event, kind="quote-answer", subject=subject, text=text)


def to_homeowner(
    event: QuoteEvent, *, kind: str, subject: str, text: str, paper: StoredFile | None = None
) -> Mail | None:
    """Post one mail to the homeowner about an event; None without a server or an address."""
    quote = event.quote
    to = addressee_of(quote.job)
    if not to.email or not mail_is_set():
        return None
    return post(
        company=quote.job.company,
        kind=kind,
        about=about(quote),
        key=f"quote-event:{event.pk}:homeowner",
        to=to.email,
        reply_to=quote.job.company.email,
        subject=subject,
        text=text,
        attachment=paper,
        link=("quote", quote.link.pk),
    )


def _office_words(event: QuoteEvent) -> str:
    quote = event.quote
    who = event.name or addressee_of(quote.job).name
    lines = [f"{who}, {_moment(event)}:", "", event.text] if event.text else []
    if not lines:
        lines = [f"Quote {quote.called} {VERBS[event.kind]}: {who}, {_moment(event)}."]
    if event.kind == QuoteEvent.Kind.ACCEPTED:
        lines.append(f"Agreed: {agreed_words(event)}.")
    return "\n".join([*lines, "", "Open the quote:", office_page("quote", quote.pk), ""])


def _moment(event: QuoteEvent) -> str:
    return moment_words(event.quote.job.company, event.at)
