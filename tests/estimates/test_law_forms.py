"""The forms of the law as they are printed: prescribed words, bold, at least ten points, twice."""

from __future__ import annotations

import ctypes
import re
from datetime import date
from functools import cache
from io import BytesIO
from typing import Any

import page as page_validation
import pypdfium2.raw as pdfium
import pytest
from django.template import engines
from django.utils.html import strip_tags
from pypdf import PdfReader

from estimates.domain.law.cancel import cancel_right
from estimates.domain.law.lead import RECEIPT
from estimates.domain.quotes.content import LeadReceipt, Letterhead, QuoteSection
from jobs.pdf import render_pdf

FOLDER = "estimates/quotes/law"
PAPER = f"""{{% extends "base_print.html" %}}
{{% block head %}}<link rel="stylesheet" href="css/quote_terms.css">
<style>@page {{ margin: 13mm 16mm 16mm }}</style>{{% endblock %}}
{{% block content %}}<h1>Quote</h1>{{% include "{FOLDER}/_cancel_sentence.html" %}}
<div class="new-page">{{% include "{FOLDER}/_terms.html" %}}
{{% if lead %}}{{% include "{FOLDER}/_lead_receipt.html" %}}{{% endif %}}
{{% include "{FOLDER}/_cancel_notice.html" with copy=1 %}}
{{% include "{FOLDER}/_cancel_notice.html" with copy=2 %}}</div>{{% endblock %}}"""

# 16 CFR 429.1(b). The first paragraph and the one on what is returned were held against copies of
# the rule published by states; the others are from memory of the rule and such copies.
NOTICE = """
You may CANCEL this transaction, without any Penalty or Obligation, within THREE BUSINESS DAYS
from the above date.

If you cancel, any property traded in, any payments made by you under the contract or sale, and
any negotiable instrument executed by you will be returned within TEN BUSINESS DAYS following
receipt by the seller of your cancellation notice, and any security interest arising out of the
transaction will be cancelled.

If you cancel, you must make available to the seller at your residence, in substantially as good
condition as when received, any goods delivered to you under this contract or sale, or you may, if
you wish, comply with the instructions of the seller regarding the return shipment of the goods at
the seller's expense and risk.

If you do make the goods available to the seller and the seller does not pick them up within 20
days of the date of your Notice of Cancellation, you may retain or dispose of the goods without
any further obligation. If you fail to make the goods available to the seller, or if you agree to
return the goods to the seller and fail to do so, then you remain liable for performance of all
obligations under the contract.

To cancel this transaction, mail or deliver a signed and dated copy of this Cancellation Notice or
any other written notice, or send a telegram, to Example Floors, at 18 Example Road, Example Town,
PA 00000 NOT LATER THAN MIDNIGHT OF December 3, 2026.

I HEREBY CANCEL THIS TRANSACTION.
"""
PARAGRAPHS = [" ".join(paragraph.split()) for paragraph in NOTICE.strip().split("\n\n")]
LETTERHEAD = Letterhead(
    name="Example Floors",
    address=("18 Example Road", "Example Town, PA 00000"),
    phone="555-0100",
    email="office@example.com",
    license="DEMO-0420",
    registration="",
    insurance="",
    logo_sha256="",
)
CANCEL = cancel_right(
    LETTERHEAD,
    agreement="Quote 4-1, bedroom and hall, 230 Example Bend",
    signed_on=date(2026, 11, 30),
)
TERMS = """
What is agreed
This quote with the choice that you mark. Nothing said beside it counts until it is written and
signed.

Price
It stands until December 29, 2026, and after you sign it stays.

Low spots
Bags are counted on the day with you and shown on the bill one by one.

If we find something dangerous
Old tile or glue that may hold asbestos, or a wet floor: we stop, tell you the same day, and
nobody works on it until a qualified person has cleared it. Your dates move; your price does not,
unless you sign.

If dates move
We tell you as soon as we know. If we can’t start within 30 days of the agreed day, you may cancel
and the deposit comes back.

Your part
Rooms cleared as written, power and heat on, a grown-up within reach.

Old material
Carpet, pad and cut-offs leave with us. One carton is left with you.

Warranty
Two years on our work, from the day you look it over. Not for water, heavy scratches or a floor
that others changed.
"""
SECTIONS = tuple(
    QuoteSection(title=title, text=" ".join(text.split()))
    for title, _, text in (term.partition("\n") for term in TERMS.strip().split("\n\n"))
)
LEAD = LeadReceipt(
    firm="Example Floors",
    certificate="NAT-00000-1",
    pamphlet="Renovate Right",
    text=RECEIPT,
    source="40 CFR 745.84",
)


def html(source: str, **context: Any) -> str:
    """Return a template's text with the facts of a quote."""
    quote = {"terms": SECTIONS, "notices": (), "site": "230 Example Bend\nExample Town"}
    facts = {"quote": quote, "cancel": CANCEL, "title": "Quote", "company_name": "Example Floors"}
    template: Any = engines["django"].from_string(source)
    return str(template.render({**facts, **context}))


def words(source: str, **context: Any) -> str:
    """Return what is read, with single spaces."""
    shown = re.sub(r"</(dt|dd|p)>", " ", html(source, **context))
    return " ".join(strip_tags(shown).split())


@cache
def paper(sheet: str = "letter") -> bytes:
    """Return the forms of a quote on paper."""
    return render_pdf(html=html(PAPER, paper=sheet))


def letters(pdf: bytes) -> list[tuple[str, str, float]]:
    """Return every letter with its font and the size at which it is printed, in points."""
    document = pdfium.FPDF_LoadMemDocument(pdf, len(pdf), None)
    made = []
    for number in range(pdfium.FPDF_GetPageCount(document)):
        text = pdfium.FPDFText_LoadPage(pdfium.FPDF_LoadPage(document, number))
        for place in range(pdfium.FPDFText_CountChars(text)):
            letter = chr(pdfium.FPDFText_GetUnicode(text, place))
            name = ctypes.create_string_buffer(80)
            pdfium.FPDFText_GetFontInfo(text, place, name, 80, None)
            if letter.strip():
                made.append((letter, name.value.decode(), points(text, place)))
    return made


def points(text: Any, place: int) -> float:
    """Return the size of a letter on the sheet: that of its font, scaled as the sheet is."""
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFText_GetMatrix(text, place, matrix)
    return float(round(abs(matrix.d) * pdfium.FPDFText_GetFontSize(text, place), 2))


def printed(pdf: bytes, sentence: str) -> list[list[tuple[str, float]]]:
    """Return font and size of the letters of a sentence, for each time that it is printed."""
    marked = letters(pdf)
    whole = "".join(letter for letter, _, _ in marked)
    sought = re.sub(r"\s", "", sentence)
    starts = [match.start() for match in re.finditer(re.escape(sought), whole)]
    return [[mark[1:] for mark in marked[at : at + len(sought)]] for at in starts]


@pytest.mark.parametrize("paragraph", PARAGRAPHS)
def test_the_notice_holds_the_words_of_the_rule(paragraph: str) -> None:
    assert paragraph in words(f'{{% include "{FOLDER}/_cancel_notice.html" with copy=1 %}}')


@pytest.mark.usefixtures("set_paper")
def test_the_sentence_is_printed_in_bold_of_ten_points() -> None:
    (once,) = printed(paper(), CANCEL.sentence)
    assert all("Bold" in font and size >= 10 for font, size in once)


@pytest.mark.usefixtures("set_paper")
@pytest.mark.parametrize("paragraph", PARAGRAPHS)
def test_both_notices_are_printed_in_bold_of_ten_points(paragraph: str) -> None:
    copies = printed(paper(), paragraph)
    assert len(copies) == 2
    assert all("Bold" in font and size >= 10 for copy in copies for font, size in copy)


@pytest.mark.usefixtures("set_paper")
def test_what_is_our_own_stands_apart_and_no_smaller_than_nine_points() -> None:
    (later, _) = printed(paper(), "Signed on a later day: date of transaction")
    assert not any("Bold" in font for font, _ in later)
    assert min(size for _, _, size in letters(paper())) >= 9


@pytest.mark.usefixtures("set_paper")
@pytest.mark.parametrize("sheet", ["letter", "a4"])
def test_terms_and_both_notices_take_one_sheet(sheet: str) -> None:
    first, second = PdfReader(BytesIO(paper(sheet))).pages
    assert "Terms" not in first.extract_text()
    assert second.extract_text().count("I HEREBY CANCEL") == 2


@pytest.mark.usefixtures("set_paper")
def test_the_forms_pass_the_pdf_ua_check() -> None:
    pdf = render_pdf(html=html(PAPER, lead=LEAD))
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


def test_the_two_copies_say_which_is_whose() -> None:
    source = f'{{% include "{FOLDER}/_cancel_notice.html" %}}'
    assert "Copy 1 of 2, sent to us only if you cancel" in words(source, copy=1)
    assert "Copy 2 of 2, yours to keep" in words(source, copy=2)


def test_the_dates_stand_beside_the_signature_and_move_with_it() -> None:
    said = words(f'{{% include "{FOLDER}/_cancel_sentence.html" %}}')
    assert "Signed on Monday, November 30, 2026: until midnight of Thursday, December 3" in said
    assert "third business day after you sign" in said


def test_the_receipt_names_firm_certificate_pamphlet_and_home() -> None:
    said = words(f'{{% include "{FOLDER}/_lead_receipt.html" %}}', lead=LEAD)
    assert "Firm: Example Floors, lead-safe certificate NAT-00000-1. Pamphlet: Renovate" in said
    assert RECEIPT in said
    assert "Home: 230 Example Bend, Example Town." in said


def test_terms_and_notices_of_a_state_are_escaped() -> None:
    hostile = QuoteSection(title="<b>Pay</b>", text='<img src="file:///etc/passwd">')
    quote = {"terms": (hostile,), "notices": (hostile,)}
    shown = html(f'{{% include "{FOLDER}/_terms.html" %}}', quote=quote)
    assert "<img" not in shown
    assert shown.count("&lt;b&gt;Pay&lt;/b&gt;") == 2
