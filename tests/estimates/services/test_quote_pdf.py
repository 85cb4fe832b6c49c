"""The quote on paper: what the homeowner is told and nothing else, on both papers."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO

import page as page_validation
import pytest
from pypdf import PdfReader

from estimates.domain.quotes.content import IssuedQuote, QuotePhoto
from estimates.models import Quote
from estimates.readers.quote import stored_quote
from estimates.services.quote_pdf import quote_pdf
from jobs.models import Company
from jobs.services.files import read_file
from tests.builders import make_company, make_photo
from tests.estimates.a_job import a_quote, an_owner
from tests.quoted import quote_values as values

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("set_paper")]

OURS = ("margin", "overhead", "burdened", "cost", "profit", "contribution", "crew-day")


@pytest.fixture
def company() -> Company:
    """A company on Letter."""
    return make_company()


def sheets(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]


def an_issued_quote(**company: str) -> Quote:
    return a_quote(an_owner(name="Fernwood Floors", license="HG-0420", **company))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_two_rooms_at_one_price_take_one_sheet_and_one_of_terms(paper: str) -> None:
    first, terms = sheets(quote_pdf(make_company(paper=paper), values.two_rooms()))
    assert all(word in first for word in ("$4,655.33", "Warranty", "Signature"))
    assert terms.count("I HEREBY CANCEL") == 2


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_two_rooms_with_choices_take_two_sheets_and_one_of_terms(paper: str) -> None:
    first, second, terms = sheets(quote_pdf(make_company(paper=paper), values.by_room()))
    assert all(word in first for word in ("Choose one", "$5,217.60", "$3,439.04"))
    assert "Signature" in second
    assert terms.count("I HEREBY CANCEL") == 2


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize(
    "example", [values.two_rooms, values.by_room, values.nine_rooms, values.by_unit, values.older]
)
def test_the_quote_passes_the_pdf_ua_check(paper: str, example: Callable[[], IssuedQuote]) -> None:
    pdf = quote_pdf(make_company(paper=paper), example())
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


def test_every_sheet_carries_job_quote_and_number(company: Company) -> None:
    texts = sheets(quote_pdf(company, values.nine_rooms()))
    for number, text in enumerate(texts, start=1):
        assert "Quote 4-1" in text
        assert f"Page {number} of {len(texts)}" in text


def test_nothing_is_lettered_smaller_than_nine_points(company: Company) -> None:
    for example in (values.two_rooms, values.by_room):
        assert min(_sizes(quote_pdf(company, example()))) >= 9


def _sizes(pdf: bytes) -> set[float]:
    """Return the sizes of all lettering, in points."""
    sizes: set[float] = set()

    def note(text: str, outer: list[float], inner: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes.add(round(abs(outer[3] * inner[3] * size), 2))

    for sheet in PdfReader(BytesIO(pdf)).pages:
        sheet.extract_text(visitor_text=note)
    return sizes


def test_a_whole_house_is_printed(company: Company) -> None:
    quote_pdf(company, values.one_room())  # fonts are read once
    began = time.process_time()
    assert len(PdfReader(BytesIO(quote_pdf(company, values.nine_rooms()))).pages) <= 5
    print(f"nine rooms in {time.process_time() - began:.2f} s, aim 2 s")  # noqa: T201


def test_markup_that_was_typed_is_printed_and_nothing_is_fetched(company: Company) -> None:
    text = " ".join(sheets(quote_pdf(company, values.hostile())))
    assert "<script>alert(1)</script>" in re.sub(r"\s+", "", text)


@pytest.mark.parametrize("address", ["http://example.com/a.png", "file:///etc/passwd"])
def test_a_picture_that_a_note_asks_for_is_no_picture(company: Company, address: str) -> None:
    pdf = quote_pdf(company, values.hostile(f'<img src="{address}">'))
    assert not any(page.images for page in PdfReader(BytesIO(pdf)).pages)


def test_names_of_200_characters_keep_within_the_sheet(company: Company) -> None:
    texts = sheets(quote_pdf(company, values.long_named()))
    assert len(texts) <= 4
    assert "Wilhelmina" in texts[0]


def test_logo_and_photographs_stand_in_the_document(company: Company) -> None:
    kept = make_photo(company)
    quote = values.two_rooms()
    letterhead = replace(quote.letterhead, logo_sha256=kept.sha256)
    photo = QuotePhoto(sha256=kept.sha256, caption="The step at the bathroom")
    pdf = quote_pdf(company, replace(quote, letterhead=letterhead, photos=(photo,)))
    assert "The step at the bathroom" in " ".join(" ".join(sheets(pdf)).split())
    assert any(page.images for page in PdfReader(BytesIO(pdf)).pages)
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


def test_pictures_of_another_company_stay_out(company: Company) -> None:
    kept = make_photo(make_company("Other"))
    letterhead = replace(values.two_rooms().letterhead, logo_sha256=kept.sha256)
    pdf = quote_pdf(company, replace(values.two_rooms(), letterhead=letterhead))
    assert not any(page.images for page in PdfReader(BytesIO(pdf)).pages)


def test_an_issued_quote_says_who_what_and_how_much() -> None:
    quote = an_issued_quote()
    text = sheets(read_file(quote.pdf))[0]
    for words in ("Fernwood Floors", "HG-0420", "Ines Okafor", "4 Cooper Lane"):
        assert words in text
    assert f"${quote.total:,.2f}" in text


def test_an_issued_quote_has_no_word_of_our_side_of_the_price() -> None:
    quote = an_issued_quote()
    text = " ".join(sheets(read_file(quote.pdf))).lower() + quote.document.text.lower()
    assert [word for word in OURS if word in text] == []


def test_the_pdf_is_made_of_the_frozen_content_alone() -> None:
    quote = an_issued_quote()
    quote.job.client.name = "Another Name"
    quote.job.client.save()
    again = quote_pdf(quote.job.company, stored_quote(Quote.objects.get(pk=quote.pk)))
    text = " ".join(sheets(again))
    assert "Ines Okafor" in text
    assert "Another Name" not in text
