"""Quotes and what happened to them, in so many rows more, for the lists of `tests.growing`."""

from __future__ import annotations

import json

from estimates.models import QuoteEvent
from estimates.services.sending.notices import about
from jobs.models import Mail
from tests.growing import OwnersBook
from tests.stages import accept, make_quote


def quotes(book: OwnersBook, number: int) -> None:
    """Quotes of the accepted job, every other one accepted too."""
    first = book.accepted.quotes.earliest()
    quote = make_quote(book.accepted, json.loads(first.document.text))
    if number % 2:
        accept(quote)


def questions(book: OwnersBook, number: int) -> None:
    """Questions about a quote, every other one answered; all still wait on the office."""
    question = QuoteEvent.objects.create(quote=book.quote, kind="asked", text=f"Question {number}?")
    if number % 2:
        answer = {"text": "Yes.", "user": book.owner, "question": question}
        QuoteEvent.objects.create(quote=book.quote, kind="answered", **answer)


def mails(book: OwnersBook, number: int) -> None:
    """Mails about a quote that did not go out."""
    to = {"to": f"ines{number}@example.com", "key": str(number), "kind": "quote"}
    values = {"about": about(book.quote), "subject": "Quote", "text": "Hello", "state": "failed"}
    Mail.objects.create(company=book.company, **to, **values)
