"""What a homeowner answers through the link: seen, asked, accepted, declined. Each at most once.

Every word is taken under the lock of its job, so that of an acceptance, a refusal and a withdrawal
at the same moment one counts and the others come too late.
"""

from __future__ import annotations

from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from estimates.domain.quotes.states import OPEN
from estimates.models import Acceptance, Quote, QuoteEvent, QuoteLink
from estimates.readers.sending.states import state_of
from estimates.services.quotes import accept_quote
from estimates.services.sending.notices import copy_to_homeowner, tell_office
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.services.records import audit_job

LONGEST_WORDS = 2000
MOST_QUESTIONS = 20
"""So many questions a day are taken through one quote's links."""

LONGEST_AGENT = 300


@transaction.atomic
def accept(
    *, link: QuoteLink, name: str, choice: str, consent: bool, today: date, ip: str, agent: str
) -> Acceptance:
    """Return the acceptance given through a link; both get their copies. Again changes nothing.

    Raises:
        BadValueError: without consent, or as `accept_quote`, or the link is no longer one.
    """
    if not consent:
        accepted = "the box ticked; without it nothing is agreed"
        raise BadValueError(field="consent", value="not ticked", accepted=accepted)
    quote = _locked(link)
    acceptance = accept_quote(quote=quote, name=name, today=today, by_link=True, choice=choice)
    _note_accepted(quote, acceptance, link=link, ip=ip, agent=agent[:LONGEST_AGENT])
    return acceptance


@transaction.atomic
def record_acceptance(
    *, quote: Quote, name: str, choice: str, today: date, user: User
) -> Acceptance:
    """Return the acceptance that the office takes down; both get their copies.

    Raises:
        BadValueError: as `accept_quote`.
    """
    acceptance = accept_quote(
        quote=quote, name=name, today=today, by_link=False, user=user, choice=choice
    )
    _note_accepted(quote, acceptance, user=user)
    return acceptance


def _note_accepted(
    quote: Quote,
    acceptance: Acceptance,
    *,
    link: QuoteLink | None = None,
    user: User | None = None,
    ip: str = "",
    agent: str = "",
) -> None:
    """Write down an acceptance once: what, when, from where; and post the copies."""
    known = {"name": acceptance.name, "choice": acceptance.choice, "at": acceptance.at}
    event, new = quote.events.get_or_create(
        kind=QuoteEvent.Kind.ACCEPTED,
        defaults={**known, "link": link, "user": user, "ip": ip, "agent": agent},
    )
    if not new:
        return
    if link is not None:
        note_seen(link=link, silent=True)
    copy_to_homeowner(event)
    tell_office(event)


@transaction.atomic
def ask(*, link: QuoteLink, text: str, name: str) -> QuoteEvent:
    """Return a homeowner's question; the office is told. The same words again change nothing.

    Raises:
        BadValueError: no words, too many of them, or too many questions in a day.
    """
    words = _checked(text, field="text", needed=True)
    quote = _locked(link)
    questions = quote.events.filter(kind=QuoteEvent.Kind.QUESTION)
    since = timezone.now() - timedelta(days=1)
    again = questions.filter(text=words, at__gt=since).first()
    if again is not None:
        return again
    if questions.filter(at__gt=since).count() >= MOST_QUESTIONS:
        accepted = f"up to {MOST_QUESTIONS} questions a day; call us for more"
        raise BadValueError(field="text", value="one more question", accepted=accepted)
    event = quote.events.create(
        kind=QuoteEvent.Kind.QUESTION, text=words, name=name.strip()[:200], link=link
    )
    note_seen(link=link, silent=True)
    tell_office(event)
    return event


@transaction.atomic
def decline(*, link: QuoteLink, reason: str) -> QuoteEvent:
    """Return a homeowner's refusal; the office is told. A second one changes nothing.

    Raises:
        BadValueError: the quote is accepted, withdrawn, superseded or past its date, or the reason
            is too long.
    """
    words = _checked(reason, field="reason")
    quote = _locked(link)
    declined = quote.events.filter(kind=QuoteEvent.Kind.DECLINED).first()
    if declined is not None:
        return declined
    state = state_of(quote)
    if state not in OPEN:
        raise BadValueError(field="quote", value=state, accepted="a quote that stands")
    event = quote.events.create(kind=QuoteEvent.Kind.DECLINED, text=words, link=link)
    note_seen(link=link, silent=True)
    audit_job(job=quote.job, user=None, act=f"{quote} declined, by link")
    tell_office(event)
    return event


@transaction.atomic
def note_seen(*, link: QuoteLink, silent: bool = False) -> QuoteEvent:
    """Return when a person first saw the quote; the office is told, unless ``silent``.

    Only what a person did counts: a word given, or the page in sight for some seconds. Programs
    that open links of mails note nothing.
    """
    quote = link.quote
    event, new = quote.events.get_or_create(
        kind=QuoteEvent.Kind.SEEN,
        defaults={"link": link, "noted_at": timezone.now() if silent else None},
    )
    if new and not silent:
        tell_office(event)
    return event


def _locked(link: QuoteLink) -> Quote:
    """Return the quote of a link, its job locked. Raises BadValueError for a revoked link."""
    Job.objects.select_for_update().get(pk=link.quote.job_id)
    counts = QuoteLink.objects.filter(pk=link.pk, token_hash=link.token_hash, revoked_at=None)
    if not counts.exists():
        raise BadValueError(field="link", value="an older one", accepted="the newest link")
    rows = Quote.objects.select_related("job__company", "job__client", "pdf", "issued_by")
    return rows.get(pk=link.quote_id)


def _checked(text: str, *, field: str, needed: bool = False) -> str:
    """Return what was written. Raises BadValueError where it is too long, or missing."""
    words = text.replace("\x00", "").strip()
    accepted = f"{'a text of ' if needed else ''}up to {LONGEST_WORDS} characters"
    if needed and not words:
        raise BadValueError(field=field, value="empty", accepted=accepted)
    if len(words) > LONGEST_WORDS:
        raise BadValueError(field=field, value=f"{len(words)} characters", accepted=accepted)
    return words
