"""Pages of a packet's shapes as PDF, and what stands on them where."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
from django.template import engines

from jobs.pdf import render_pdf

MM = 72 / 25.4
"""Points in a millimeter."""

_PAGE = """{% extends "base_print.html" %}
{% block head %}<link rel="stylesheet" href="css/packet.css">
<link rel="stylesheet" href="css/packet-shapes.css">{% endblock %}
{% block content %}<p>First sheet</p>{% include part %}{% endblock %}"""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedText:
    """A run of text on a page: its box in millimeters from the lower left corner, its size."""

    page: int
    text: str
    left: float
    bottom: float
    right: float
    top: float
    points: float


def shapes_pdf(part: str, context: Mapping[str, Any], *, paper: str = "letter") -> bytes:
    """Return a part of a packet as PDF."""
    template = engines["django"].from_string(_PAGE)
    values = {
        "part": f"jobs/packets/{part}",
        "title": "Packet",
        "company_name": "Example Floors",
        "job_number": 4,
        "issue": "Packet 1",
        "paper": paper,
        **context,
    }
    return render_pdf(html=template.render(values))


def texts_of(pdf: bytes) -> list[PlacedText]:
    """Return every text object of a PDF where it stands."""
    document = pypdfium2.PdfDocument(pdf)
    return [text for number in range(len(document)) for text in _texts(document[number], number)]


def _texts(page: pypdfium2.PdfPage, number: int) -> Iterator[PlacedText]:
    words = page.get_textpage()
    for item in page.get_objects(filter=(pdfium.FPDF_PAGEOBJ_TEXT,), max_depth=8):
        left, bottom, right, top = item.get_bounds()
        text = words.get_text_bounded(left - 0.2, bottom - 0.2, right + 0.2, top + 0.2).strip()
        yield PlacedText(
            page=number,
            text=text,
            left=left / MM,
            bottom=bottom / MM,
            right=right / MM,
            top=top / MM,
            points=0.0,
        )
