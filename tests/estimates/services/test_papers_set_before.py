"""A paper is set in type before the transaction that keeps it, so that nobody waits for it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.db import connection, transaction

from estimates.models import Quote
from jobs import pdf
from jobs.models import AuditLine, Document
from jobs.services.files import read_file
from tests.estimates.a_job import a_quote, an_owner

pytestmark = pytest.mark.django_db(transaction=True)

Settings = list[bool]
"""For each paper that was set: whether a transaction was open."""


@pytest.fixture(name="inside")
def papers_set(monkeypatch: pytest.MonkeyPatch) -> Settings:
    """Set papers as one word, and note where it was done."""
    inside: Settings = []

    def set_in_type(html: str, last: str) -> tuple[bytes, int]:
        inside.append(connection.in_atomic_block)
        return b"Paper of " + str(len(html)).encode(), 1

    monkeypatch.setattr(pdf, "_laid_out", set_in_type)
    return inside


def test_a_quote_is_issued_once_and_set_outside(inside: Settings) -> None:
    owner = an_owner()
    quote = a_quote(owner)
    assert inside
    assert not any(inside)
    assert read_file(quote.pdf).startswith(b"Paper of ")
    assert Quote.objects.count() == 1
    assert Document.objects.filter(kind="quote").count() == 1
    assert AuditLine.objects.filter(act__startswith="Issued Quote ").count() == 1


def test_within_another_transaction_it_is_set_at_once(inside: Settings) -> None:
    owner = an_owner()
    with transaction.atomic():
        a_quote(owner)
    assert all(inside)
    assert Quote.objects.count() == 1


def test_words_that_differ_each_time_are_set_after_all(inside: Settings) -> None:
    words: Iterator[int] = iter(range(100))

    def write() -> bytes:
        with transaction.atomic():
            return pdf.render_pdf(html="x" * next(words))

    assert pdf.set_beforehand(write) == b"Paper of 4"
    assert inside == [False] * pdf.MOST_TRIES + [True]


def test_what_is_refused_is_refused_as_ever(inside: Settings) -> None:
    def write() -> bytes:
        pdf.render_pdf(html="x")
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        pdf.set_beforehand(write)
    assert inside == [False]
    assert pdf.render_pdf(html="x") == b"Paper of 1"
