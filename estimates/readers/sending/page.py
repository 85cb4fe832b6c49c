"""What the office's page of a quote shows beside the quote: how to send it, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Prefetch

from estimates.domain.quotes.states import OPEN, QuoteState
from estimates.domain.quotes.texting import sms_address
from estimates.models import Quote, QuoteEvent
from estimates.readers.sending.addressee import Addressee, addressee_of
from estimates.readers.sending.states import state_of
from jobs.models import Mail


@dataclass(frozen=True, kw_only=True, slots=True)
class Answered:
    """A question with the answers it got, each with the address that texts it."""

    event: QuoteEvent
    answers: tuple[tuple[QuoteEvent, str], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class OfficeQuote:
    """A quote as the office sees it: where it stands, to whom it goes, what happened to it."""

    state: QuoteState
    to: Addressee
    events: tuple[QuoteEvent, ...]
    questions: tuple[Answered, ...]
    mails: tuple[Mail, ...]

    @property
    def can_be_sent(self) -> bool:
        """Whether it can still be accepted, so that sending it makes sense."""
        return self.state in OPEN

    @property
    def has_mail_waiting(self) -> bool:
        """Whether a mail waits for the worker."""
        return any(mail.state == Mail.State.QUEUED for mail in self.mails)


def office_quote(quote: Quote, link: str) -> OfficeQuote:
    """Return a quote for its page; ``link`` is its address for the homeowner."""
    to = addressee_of(quote.job)
    answers = Prefetch("answers", QuoteEvent.objects.order_by("at", "pk"))
    events = tuple(quote.events.select_related("user").prefetch_related(answers))
    questions = [event for event in events if event.kind == QuoteEvent.Kind.QUESTION]
    company = quote.job.company
    return OfficeQuote(
        state=state_of(quote),
        to=to,
        events=events,
        questions=tuple(
            Answered(
                event=event,
                answers=tuple(
                    (answer, sms_address(to.phone, f"{answer.text} {link} {company.name}"))
                    for answer in event.answers.all()
                ),
            )
            for event in questions
        ),
        mails=tuple(Mail.objects.filter(company=company, about=f"quote:{quote.pk}")),
    )
