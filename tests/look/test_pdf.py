"""Documents: tagged, self-contained, and deaf to everything outside our own assets."""

from io import BytesIO
from typing import Any

import page as page_validation
import pytest
from django.template import engines
from django.template.loader import render_to_string
from pypdf import PdfReader

from jobs.pdf import PdfError, render_pdf

SHELL = "<!doctype html><html lang='en'><head><title>Quote 3</title></head><body>{}</body></html>"
DOCUMENT = """{% extends "base_print.html" %}{% load look %}{% block content %}
<h1>Quote 3</h1><p>Longest wall 12′ 4½″, 162 ft², ⅛ ⅜ ⅝ ⅞ ✓</p>
{% figure_row %}
{% figure "13" unit="cartons" label="To buy" source="plan 3" %}
{% endfigure_row %}
<figure class="drawing"><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40">
<title>Plan</title><path class="wall" d="M5 5H55V35H5Z" fill="none" stroke="#000"/></svg></figure>
<p class="new-page">Second sheet</p>{% endblock %}"""
FONT_FROM_OUTSIDE = (
    "<style>@font-face {font-family: x; src: url(file:///etc/passwd)} p {font-family: x}</style><p>"
)
PICTURE_IN_DRAWING = (
    '<svg viewBox="0 0 9 9"><title>x</title>'
    '<image width="9" height="9" href="file:///etc/passwd"/></svg>'
)


def document(**context: Any) -> bytes:
    facts = {
        "title": "Quote 3",
        "job_number": 14,
        "issue": "quote 3",
        "company_name": "Hill Floors",
    }
    template: Any = engines["django"].from_string(DOCUMENT)
    return render_pdf(html=template.render({**facts, **context}))


def texts(pdf: bytes) -> list[str]:
    return [sheet.extract_text() for sheet in PdfReader(BytesIO(pdf)).pages]


def test_a_document_passes_the_pdf_ua_check() -> None:
    assert page_validation.validate_pdf_bytes(document(), profile="ua1").is_compliant


def test_the_check_itself_finds_an_untagged_document() -> None:
    import weasyprint

    untagged = weasyprint.HTML(string="<p>No title, no tags").write_pdf()
    assert not page_validation.validate_pdf_bytes(untagged, profile="ua1").is_compliant


def test_every_sheet_carries_job_issue_and_page_of_pages() -> None:
    for number, text in enumerate(texts(document()), start=1):
        assert "Job 14, quote 3" in text
        assert f"Page {number} of 2" in text


def test_fractions_superscripts_and_check_marks_come_through() -> None:
    assert "12′ 4½″, 162 ft², ⅛ ⅜ ⅝ ⅞ ✓" in texts(document())[0]


def test_the_lettering_is_inter_and_embedded() -> None:
    fonts: Any = PdfReader(BytesIO(document())).pages[0]["/Resources"]["/Font"]  # type: ignore[index]
    names = {font.get_object()["/BaseFont"].rpartition("+")[2] for font in fonts.values()}
    assert names == {"Inter", "Inter-Semi-Bold"}


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_documents_come_on_letter_and_on_a4(paper: str, size: tuple[int, int]) -> None:
    box = PdfReader(BytesIO(document(paper=paper))).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


@pytest.mark.parametrize(
    "reaching",
    [
        '<img alt="" src="file:///etc/passwd">',
        '<img alt="" src="http://example.com/a.png">',
        '<img alt="" src="https://example.com/a.png">',
        '<img alt="" src="//example.com/a.png">',
        '<img alt="" src="file://example.com/etc/passwd">',
        '<img alt="" src="../settings.py">',
        '<img alt="" src="css/../../settings.py">',
        '<img alt="" src="css/%2e%2e/%2e%2e/settings.py">',
        '<img alt="" src="css/missing.png">',
        '<link rel="stylesheet" href="ftp://example.com/a.css">',
        '<link rel="attachment" href="file:///etc/passwd">',
        '<object data="file:///etc/passwd"></object>',
        '<style>@import "https://example.com/a.css";</style>',
        FONT_FROM_OUTSIDE,
        PICTURE_IN_DRAWING,
    ],
)
def test_a_document_that_reaches_outside_is_refused(reaching: str) -> None:
    with pytest.raises(PdfError, match=r"The document asks for .*(allowed|does not exist)\."):
        render_pdf(html=SHELL.format(reaching))


def test_a_link_to_elsewhere_is_only_a_link() -> None:
    pdf = render_pdf(html=SHELL.format('<a href="https://example.com/care">Care sheet</a>'))
    assert texts(pdf) == ["Care sheet"]


def test_a_picture_may_come_along_in_the_document() -> None:
    dot = "R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7"
    picture = f'<img alt="Before" src="data:image/gif;base64,{dot}">'
    assert render_pdf(html=SHELL.format(picture)).startswith(b"%PDF")


def test_a_warning_of_the_renderer_is_raised_where_settings_say_so() -> None:
    with pytest.raises(PdfError, match=r"The renderer warns: .*no-such-property"):
        render_pdf(html=SHELL.format('<p style="no-such-property: 1">x'))


def test_a_warning_of_the_renderer_spoils_no_document_elsewhere(settings: Any) -> None:
    settings.PDF_WARNINGS_ARE_ERRORS = False
    assert render_pdf(html=SHELL.format('<p style="no-such-property: 1">y')).startswith(b"%PDF")


def test_names_in_the_running_lines_are_escaped() -> None:
    html = render_to_string("base_print.html", {"company_name": '"><script>', "title": "Quote"})
    assert "<script>" not in html
