"""Two rooms from their measures to the sheet: pages, seconds, PDF/UA, bold lettering."""

from __future__ import annotations

import time
from ctypes import c_int, create_string_buffer
from dataclasses import replace
from io import BytesIO

import page as page_validation
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from pypdf import PdfReader

from estimates.domain.quotes.content import IssuedQuote
from estimates.services.quote_pdf import quote_pdf
from jobs.models import Company, User
from tests.builders import make_photo
from tests.estimates.a_job import an_owner, company_of
from tests.estimates.trade_words import trade_words
from tests.quoted.a_house import quoted

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("set_paper")]

CANCEL = "You, the buyer, may cancel"


@pytest.fixture
def owner() -> User:
    """The owner of a company with prices."""
    return an_owner()


def sheets(company: Company, quote: IssuedQuote) -> list[str]:
    """Print a quote and say how long it took; return what stands on each sheet."""
    began = time.process_time()
    pdf = quote_pdf(company, quote)
    print(f"printed in {time.process_time() - began:.2f} s, aim 2 s")  # noqa: T201
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").failures == []
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


def on_both_papers(owner: User, quote: IssuedQuote) -> list[list[str]]:
    company = company_of(owner)
    quote_pdf(company, quote)  # fonts are read once
    printed = []
    for paper in ("letter", "a4"):
        company.paper = paper
        printed.append(sheets(company, quote))
    return printed


def with_logo(owner: User, quote: IssuedQuote) -> IssuedQuote:
    logo = make_photo(company_of(owner)).sha256
    return replace(quote, letterhead=replace(quote.letterhead, logo_sha256=logo))


def test_one_price_takes_one_sheet_and_one_of_terms_on_both_papers(owner: User) -> None:
    quote = quoted(owner)
    for each in (quote, with_logo(owner, quote)):
        for first, terms in on_both_papers(owner, each):
            assert "Your bedroom can't be slept in" in first
            assert all(part in first for part in ("Warranty", "Good to know", CANCEL, "Signature"))
            assert terms.count("I HEREBY CANCEL") == 2


def test_two_floors_at_one_price_take_two_sheets_at_most(owner: User) -> None:
    """Two drawings beside each other would be lettered too small on one."""
    for printed in on_both_papers(owner, quoted(owner, one_floor=False)):
        assert len(printed) == 3
        assert "Signature" in printed[1]


def test_choices_by_room_take_two_sheets_and_one_of_terms_on_both_papers(owner: User) -> None:
    quote = quoted(owner, detail="room", second_way="base_new", third_way="pad_separate")
    assert len(quote.choices) == 3
    assert sum(room.amount or 0 for room in quote.rooms) == quote.total
    for first, second, terms in on_both_papers(owner, with_logo(owner, quote)):
        assert "Choose one" in first
        assert "Signature" in second
        assert terms.count("I HEREBY CANCEL") == 2


def test_the_right_to_cancel_is_printed_bold_in_ten_points(owner: User) -> None:
    """16 CFR 429.1(a): in immediate proximity to the signature, bold, of at least 10 points."""
    document = pypdfium2.PdfDocument(quote_pdf(company_of(owner), quoted(owner)))
    text = document[0].get_textpage()
    letters = text.get_text_range()
    begins = letters.index(CANCEL)
    ends = letters.index("explanation of this right", begins)
    assert begins < ends < letters.index("Signature", begins)
    for place in (at for at in range(begins, ends, 7) if letters[at].isalpha()):
        size, font = _set_in(text, place)
        assert round(size, 2) >= 10
        assert font.endswith("Bold")
        assert not font.endswith("SemiBold")


@pytest.mark.parametrize("times", [1, 2])
def test_a_sheet_that_holds_all_is_lettered_in_nine_points_at_least(
    owner: User, times: int
) -> None:
    """The names and measures in its drawing too; with twice the lists the tightest layout."""
    quote = quoted(owner)
    longer = replace(quote, exclusions=quote.exclusions * times)
    document = pypdfium2.PdfDocument(quote_pdf(company_of(owner), longer))
    text = document[0].get_textpage()
    letters = text.get_text_range()
    assert "Bedroom" in letters
    small = {
        (letter, round(_set_in(text, place)[0], 2))
        for place, letter in enumerate(letters)
        if letter.isalnum() and _set_in(text, place)[0] < 8.99
    }
    assert small == set()


def test_days_fill_the_first_sheet_of_a_quote_with_choices(owner: User) -> None:
    quote = quoted(owner, detail="room", second_way="base_new")
    for first, second, _ in on_both_papers(owner, quote):
        assert "The days, and what we need from you" in first
        assert "The days, and what we need from you" not in second


def _set_in(text: pypdfium2.PdfTextPage, place: int) -> tuple[float, str]:
    """Return the size in points and the font of a letter."""
    matrix, name, flags = pdfium.FS_MATRIX(), create_string_buffer(100), c_int()
    pdfium.FPDFText_GetMatrix(text, place, matrix)
    pdfium.FPDFText_GetFontInfo(text, place, name, 100, flags)
    scale = max(abs(matrix.d), abs(matrix.b))  # upright lettering is turned
    return pdfium.FPDFText_GetFontSize(text, place) * scale, name.value.decode()


def test_no_word_of_the_trade_and_nothing_said_twice(owner: User) -> None:
    quote = quoted(owner)
    cautions = [f"{caution.title} {caution.text}" for caution in quote.cautions]
    said = " ".join([*quote.inclusions, *cautions, *quote.clear, *quote.nights])
    assert trade_words(said) == []
    assert ".." not in said
    assert len(set(quote.inclusions)) == len(quote.inclusions)
    assert quote.inclusions[:3] == (
        "Material and labor",
        "Moving the furniture, and back",
        "Old floor out and hauled away",
    )
    assert [caution.title for caution in quote.cautions] == [
        "A door is trimmed",
        "A step between two floors",
        "Local codes",
    ]
