"""Paper and phone say the same: every sentence of the one stands on the other."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape

import pypdfium2
import pytest
from django.template.loader import render_to_string
from django.test import RequestFactory

from estimates.domain.quotes.content import IssuedQuote
from estimates.forms.answers import ChooseAndAcceptForm
from estimates.readers.quote_page import quote_page
from estimates.services.quote_pdf import paper_html, quote_pdf
from jobs.models import Company
from tests.builders import make_company
from tests.estimates.a_job import an_owner, company_of
from tests.quoted import quote_values as values
from tests.quoted.a_house import quoted

pytestmark = pytest.mark.django_db

EXAMPLES = [
    values.two_rooms,
    values.by_room,
    values.beyond,
    values.one_room,
    values.nine_rooms,
    values.by_unit,
    values.older,
]
RUNNING = re.compile(r"Job 4, quote 1|Fernwood Floors, license HG-0420|Page \d of \d")
PAPER_ONLY = {"You mark your choice beside your signature", "Name", "Signature", "Choice"}
PHONE_ONLY = {
    "Skip to the page",
    "Open the PDF",
    "Nothing chosen yet",
    "Open the choices",
    "Choose one to accept",
    "Go on to your name",
    "Your name",
    "Date and signature",
    "your name and today’s date",
    "They are kept with the fingerprint of this quote",
    "With the tick you also agree to sign here, and to get this agreement, electronically",
    "it stays at this link as a page and as a PDF, which any current browser opens and prints",
    "You may have it on paper instead, at no charge, or take this back before you accept",
    "tell us",
    "Accept the quote",
    "Not sure?",
}


@pytest.fixture
def company() -> Company:
    """A company on Letter."""
    return make_company()


def phone(quote: IssuedQuote, company: Company) -> str:
    """Return the page of a quote that may be accepted."""
    context = {
        "quote": quote,
        "page": quote_page(quote, company),
        "company_name": quote.letterhead.name,
        "state": "open",
        "answers": True,
        "form": ChooseAndAcceptForm(choices=quote.choices),
        "pdf_url": "/pdf",
    }
    request = RequestFactory().get("/")
    return render_to_string("estimates/public/quote.html", context, request=request)


def paper(quote: IssuedQuote, company: Company) -> str:
    """Return what is printed, before it is set, in the layout that is wanted first."""
    page = quote_page(quote, company)
    return paper_html(company, page, page.layouts[0][0])


def words(html: str) -> str:
    """Return what a page says, its head left out, every space plain."""
    body = re.sub(r"<head>.*?</head>", "", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).replace("\u00a0", " ").split())


def phrases(html: str) -> set[str]:
    """Return what stands between the tags of a page, sentence by sentence."""
    body = re.sub(r"<head>.*?</head>", "", html, flags=re.DOTALL)
    between = (words(part) for part in re.split(r"<[^>]+>", body))
    parts = (part for text in between for part in re.split(r"(?<=[.:;?])\s+", text))
    return {part.strip(" ,.:;") for part in parts} - {""}


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_phone_says_all_that_the_paper_says(
    company: Company, example: Callable[[], IssuedQuote]
) -> None:
    said = words(phone(example(), company))
    missing = {phrase for phrase in phrases(paper(example(), company)) if phrase not in said}
    assert missing <= PAPER_ONLY


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_phone_says_nothing_more_but_what_its_buttons_need(
    company: Company, example: Callable[[], IssuedQuote]
) -> None:
    printed = words(paper(example(), company))
    more = {phrase for phrase in phrases(phone(example(), company)) if phrase not in printed}
    assert more <= PHONE_ONLY


@pytest.mark.usefixtures("set_paper")
@pytest.mark.parametrize("example", EXAMPLES)
def test_every_word_of_the_pdf_is_on_the_phone(
    company: Company, example: Callable[[], IssuedQuote]
) -> None:
    read = pypdfium2.PdfDocument(quote_pdf(company, example()))
    text = " ".join(RUNNING.sub("", sheet.get_textpage().get_text_range()) for sheet in read)
    only = {word for phrase in PAPER_ONLY for word in phrase.split()} | {"–"}
    assert each(text) - each(words(phone(example(), company))) <= only


def test_a_house_from_its_measures_says_the_same_on_paper_and_phone() -> None:
    owner = an_owner()
    company = company_of(owner)
    by_room = quoted(owner, detail="room", second_way="base_new", color="Dune")
    for quote in (quoted(owner), by_room):
        on_phone, printed = phone(quote, company), paper(quote, company)
        missing = {phrase for phrase in phrases(printed) if phrase not in words(on_phone)}
        more = {phrase for phrase in phrases(on_phone) if phrase not in words(printed)}
        assert missing - PAPER_ONLY == set()
        assert more - PHONE_ONLY == set()


def each(text: str) -> set[str]:
    """Return the words of a text without the signs at their ends."""
    return {word.strip(".,:;") for word in text.split()}
