"""A quote goes out: by mail through the outbox, or as a text from the owner's own phone."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from estimates.domain.quotes.states import OPEN
from estimates.models import Quote, QuoteEvent, QuoteEventKind
from estimates.readers.sending.states import state_of
from estimates.services.sending.by_mail import Letter, mail_to_each
from estimates.services.sending.notices import about, answer_by_mail
from estimates.services.sending.words import letter_words, subject_of
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.services.mail.outbox import LINK
from jobs.services.records import audit_job, writes_once


@writes_once(QuoteEvent, "mail quote")
def mail_quote(*, quote: Quote, user: User, key: str, to: Sequence[str]) -> QuoteEvent:
    """Return that a quote was mailed: one mail an address, each with the PDF and the link.

    Raises:
        BadValueError: the quote no longer stands, an address is none, or no mail server is set.
    """
    link = _standing(quote).link
    letter = Letter(
        kind="quote",
        about=about(quote),
        subject=subject_of(quote),
        text=letter_words(quote, LINK, user.name),
        paper=quote.pdf,
        link=("quote", link.pk),
    )
    addresses = mail_to_each(letter, company=quote.job.company, user=user, key=key, to=to)
    return _sent(quote, user, QuoteEventKind.MAILED, ", ".join(addresses))


@writes_once(QuoteEvent, "text quote")
def note_texted(*, quote: Quote, user: User, key: str, to: str) -> QuoteEvent:
    """Return that a quote was sent from somebody's phone, as they say.

    Raises:
        BadValueError: the quote no longer stands.
    """
    return _sent(_standing(quote), user, QuoteEventKind.TEXTED, to)


@writes_once(QuoteEvent, "answer question")
def answer_question(*, question: QuoteEvent, user: User, key: str, text: str) -> QuoteEvent:
    """Return the answer to a homeowner's question: it stands on the link's page, and is mailed.

    Raises:
        BadValueError: what is answered is no question.
    """
    if question.kind != QuoteEvent.Kind.QUESTION:
        raise BadValueError(field="question", value=question.kind, accepted="a question")
    event = question.quote.events.create(
        kind=QuoteEvent.Kind.ANSWERED, question=question, text=text, user=user, name=user.name
    )
    put_aside(event=question)
    answer_by_mail(event)
    audit_job(job=question.quote.job, user=user, act=f"Answered a question on {question.quote}")
    return event


@transaction.atomic
def put_aside(*, event: QuoteEvent) -> None:
    """Note that the office knows of what happened, so that it waits on nobody."""
    QuoteEvent.objects.filter(pk=event.pk, noted_at=None).update(noted_at=timezone.now())


def _standing(quote: Quote) -> Quote:
    """Return the quote, its job locked. Raises BadValueError where it can no longer be accepted."""
    Job.objects.select_for_update().get(pk=quote.job_id)
    state = state_of(Quote.objects.select_related("job__company").get(pk=quote.pk))
    if state not in OPEN:
        raise BadValueError(field="quote", value=state, accepted="a quote that can be accepted")
    return quote


def _sent(quote: Quote, user: User, kind: QuoteEventKind, to: str) -> QuoteEvent:
    event = quote.events.create(kind=kind, user=user, name=user.name, text=to)
    audit_job(job=quote.job, user=user, act=f"{kind.label} {quote} to {to}")
    return event
