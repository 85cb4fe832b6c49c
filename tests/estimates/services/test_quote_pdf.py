"""The quote on paper: what the homeowner is told and nothing else, on both papers."""

from __future__ import annotations

from io import BytesIO

import page as page_validation
import pytest
from pypdf import PdfReader

from estimates.models import Quote
from estimates.readers.quote import stored_quote
from estimates.services.quote_pdf import quote_pdf
from jobs.services.files import read_file
from tests.estimates.a_job import a_quote, an_owner

pytestmark = pytest.mark.django_db

OURS = ("margin", "overhead", "burdened", "cost", "profit", "contribution", "crew-day")


def an_issued_quote(**company: str) -> Quote:
    return a_quote(an_owner(name="Fernwood Floors", license="HG-0420", **company))


def pages(quote: Quote) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(read_file(quote.pdf))).pages]


def test_the_quote_says_who_what_and_how_much() -> None:
    quote = an_issued_quote()
    text = " ".join(pages(quote))
    for words in ("Fernwood Floors", "License HG-0420", "Ines Okafor", "4 Cooper Lane"):
        assert words in text
    assert f"I accept this quote of ${quote.total:,.2f}" in text


def test_the_total_stands_on_the_first_page() -> None:
    quote = an_issued_quote()
    assert f"${quote.total:,.2f}" in pages(quote)[0]


def test_the_payments_of_a_quote_sum_to_its_total() -> None:
    quote = stored_quote(an_issued_quote())
    assert sum(stage.amount for stage in quote.stages) == quote.total


def test_the_quote_has_no_word_of_our_side_of_the_price() -> None:
    quote = an_issued_quote()
    text = " ".join(pages(quote)).lower() + quote.document.text.lower()
    assert [word for word in OURS if word in text] == []


def test_every_page_carries_job_quote_and_number() -> None:
    quote = an_issued_quote()
    texts = pages(quote)
    for number, text in enumerate(texts, start=1):
        assert f"Job {quote.job.number}, Quote {quote.number}" in text
        assert f"Page {number} of {len(texts)}" in text


def test_a_quote_of_one_small_room_has_two_or_three_pages() -> None:
    assert len(pages(an_issued_quote())) in (2, 3)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_quote_passes_the_pdf_ua_check(paper: str) -> None:
    pdf = read_file(an_issued_quote(paper=paper).pdf)
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


def test_the_pdf_is_made_of_the_frozen_content_alone() -> None:
    quote = an_issued_quote()
    quote.job.client.name = "Another Name"
    quote.job.client.save()
    again = quote_pdf(quote.job.company, stored_quote(Quote.objects.get(pk=quote.pk)))
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(again)).pages)
    assert "Ines Okafor" in text
    assert "Another Name" not in text
