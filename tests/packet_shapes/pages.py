"""Pages of a packet's shapes as PDF, and what stands on them where, read from the PDF alone."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
from django.template import engines

from jobs.pdf import render_pdf
from layout.values.units import INCH

MM = 72 / INCH["mm"]
"""Points in a millimeter."""

_PAGE = """{% extends "base_print.html" %}
{% block head %}<link rel="stylesheet" href="css/packet.css">
<link rel="stylesheet" href="css/packet-shapes.css">{% endblock %}
{% block content %}<p>First sheet</p>
{% for part in parts %}{% include part %}{% endfor %}{% endblock %}"""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedWord:
    """A word on a page: its box in millimeters from the lower left corner, its size in points."""

    page: int
    text: str
    left: float
    bottom: float
    right: float
    top: float
    points: float

    @property
    def middle(self) -> float:
        """The middle of the word along the page."""
        return (self.left + self.right) / 2


def shapes_pdf(
    parts: str | Sequence[str], context: Mapping[str, Any], *, paper: str = "letter"
) -> bytes:
    """Return a part of a packet, or several one after another, as PDF."""
    named = [parts] if isinstance(parts, str) else parts
    template = engines["django"].from_string(_PAGE)
    values = {
        "parts": [f"jobs/packets/{part}" for part in named],
        "title": "Packet",
        "company_name": "Example Floors",
        "job_number": 4,
        "issue": "Packet 1",
        "paper": paper,
        **context,
    }
    return render_pdf(html=template.render(values))


def words_of(pdf: bytes) -> list[PlacedWord]:
    """Return every word of a PDF where it stands, page after page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [w for number in range(len(document)) for w in _words(document[number], number)]
    finally:
        document.close()


def text_of(pdf: bytes) -> str:
    """Return the words of a PDF in their order, in single spaces."""
    return " ".join(word.text for word in words_of(pdf))


def _words(page: pypdfium2.PdfPage, number: int) -> Iterator[PlacedWord]:
    text = page.get_textpage()
    letters: list[tuple[str, tuple[float, float, float, float], float]] = []
    for place in range(text.count_chars()):
        sign = chr(pdfium.FPDFText_GetUnicode(text.raw, place))
        box, size = text.get_charbox(place), _points(text, place)
        if letters and (sign.isspace() or _apart(letters[-1], box, size)):
            yield _word(letters, number)
            letters = []
        if not sign.isspace():
            letters.append((sign, box, size))
    if letters:
        yield _word(letters, number)


def _apart(
    last: tuple[str, tuple[float, float, float, float], float],
    box: tuple[float, float, float, float],
    size: float,
) -> bool:
    """Whether a letter begins another word than the last one: another line, size, or a gap."""
    _, one, points = last
    along = max(box[0] - one[2], one[0] - box[2])
    across = max(box[1] - one[3], one[1] - box[3])
    return max(along, across) > 0.4 * points or abs(size - points) > 1


def _points(text: pypdfium2.PdfTextPage, place: int) -> float:
    """Return the size of a letter in points, whatever its drawing is scaled by."""
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFText_GetMatrix(text.raw, place, ctypes.byref(matrix))
    scale = float((matrix.c**2 + matrix.d**2) ** 0.5)
    return float(pdfium.FPDFText_GetFontSize(text.raw, place)) * scale


def _word(
    letters: list[tuple[str, tuple[float, float, float, float], float]], number: int
) -> PlacedWord:
    boxes = [box for _, box, _ in letters]
    return PlacedWord(
        page=number,
        text="".join(sign for sign, _, _ in letters),
        left=min(box[0] for box in boxes) / MM,
        bottom=min(box[1] for box in boxes) / MM,
        right=max(box[2] for box in boxes) / MM,
        top=max(box[3] for box in boxes) / MM,
        points=max(points for _, _, points in letters),
    )


def paths_of(pdf: bytes, page: int) -> list[list[tuple[float, float]]]:
    """Return the corners of all paths of a page, in millimeters from its lower left corner."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        items = document[page].get_objects(filter=(pdfium.FPDF_PAGEOBJ_PATH,), max_depth=1)
        return [_corners(item) for item in items]
    finally:
        document.close()


def _corners(item: pypdfium2.PdfObject) -> list[tuple[float, float]]:
    """Return the corners of one path where its own matrix puts them."""
    matrix, corners = item.get_matrix(), []
    for place in range(pdfium.FPDFPath_CountSegments(item.raw)):
        x, y = ctypes.c_float(), ctypes.c_float()
        segment = pdfium.FPDFPath_GetPathSegment(item.raw, place)
        pdfium.FPDFPathSegment_GetPoint(segment, ctypes.byref(x), ctypes.byref(y))
        along, up = matrix.on_point(x.value, y.value)
        corners.append((along / MM, up / MM))
    return corners


def strokes_of(pdf: bytes, page: int) -> list[tuple[float, float, float, float]]:
    """Return the boxes of all paths of a page in millimeters: left, bottom, right, top."""
    boxes = []
    for corners in paths_of(pdf, page):
        if corners:
            xs, ys = zip(*corners, strict=True)
            boxes.append((min(xs), min(ys), max(xs), max(ys)))
    return boxes
