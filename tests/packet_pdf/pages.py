"""What stands on the pages of a PDF: words by place and size, lines by place and weight.

Nothing is known here of what made the pages. Places are in points, y upwards.
"""

from __future__ import annotations

import ctypes
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import sin

import pypdfium2 as pdfium
import pypdfium2.raw as raw

Point = tuple[float, float]
_EM = 0.96875 + 0.2412  # ascent and descent of Inter, by which a size shows in a loose box
_SMALL_SIGNS = "\u2044₀₁₂₃₄₅₆₇₈₉⁰¹²³⁴⁵⁶⁷⁸⁹"  # of a fraction, set close or apart
_SMALL = 18.0  # points: a box round a letter is no larger
_PARTED = 0.18  # sizes between two signs of one word


@dataclass(slots=True, kw_only=True)
class PageWord:
    """A word: from where to where it stands, its base line, its size.

    ``white`` on black or not; ``boxed`` by a line all round; ``turned`` to be read up the page.
    """

    text: str
    x0: float
    x1: float
    y: float
    size: float
    white: bool = False
    boxed: bool = False
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLine:
    """A drawn path: its corners, how thick it is drawn, whether it has curves or dashes."""

    points: tuple[Point, ...]
    weight: float
    curved: bool
    dashed: bool = False

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x and y, most x and y."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def closed(self) -> bool:
        """Whether it comes round to its beginning."""
        (ax, ay), (bx, by) = self.points[0], self.points[-1]
        return len(self.points) > 3 and abs(ax - bx) < 0.05 and abs(ay - by) < 0.05


@dataclass(slots=True, kw_only=True)
class ReadPage:
    """One page."""

    number: int
    size: tuple[float, float]
    words: list[PageWord] = field(default_factory=list)
    lines: list[PageLine] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All words of the page, from the top down."""
        ordered = sorted(self.words, key=lambda word: (-round(word.y), word.x0))
        return " ".join(word.text for word in ordered)


def read_pages(pdf: bytes) -> list[ReadPage]:
    """Return the pages of a PDF."""
    document = pdfium.PdfDocument(pdf)
    try:
        return [_read_page(document[i], i + 1) for i in range(len(document))]
    finally:
        document.close()


def _read_page(page: pdfium.PdfPage, number: int) -> ReadPage:
    words, lines = [*_words(page.get_textpage())], [*_lines(page)]
    small = [line.bounds for line in lines if line.closed and not line.curved]
    small = [b for b in small if b[2] - b[0] < _SMALL and b[3] - b[1] < _SMALL]
    for word in words:
        word.boxed = any(b[0] < word.x0 and word.x1 < b[2] and b[1] < word.y < b[3] for b in small)
    return ReadPage(number=number, size=page.get_size(), words=words, lines=lines)


def _words(text: pdfium.PdfTextPage) -> Iterator[PageWord]:
    """Yield the words of a page, line by line."""
    lines: dict[tuple[int, int, bool], list[PageWord]] = defaultdict(list)
    for sign in _signs(text):
        lines[round(sign.y * 4), round(sign.size * 2), sign.white].append(sign)
    for line in lines.values():
        word: PageWord | None = None
        for sign in sorted(line, key=lambda one: (one.x0, one.x1)):
            most = 0.5 if sign.text in _SMALL_SIGNS else _PARTED
            apart = word is None or (sign.x0 - word.x1) / sign.size > most
            if word is not None and (apart or sign.text.isspace()):
                yield word
            if sign.text.isspace():
                word = None
            elif apart or word is None:
                word = sign
            else:
                word.text += sign.text
                word.x1 = sign.x1
        if word is not None:
            yield word


def _signs(text: pdfium.PdfTextPage) -> Iterator[PageWord]:
    """Yield the signs of a page one by one; those that the reader adds are left out."""
    x, y = ctypes.c_double(), ctypes.c_double()
    loose = raw.FS_RECTF()
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    for i in range(text.count_chars()):
        if raw.FPDFText_IsGenerated(text, i) == 1:
            continue
        sign = chr(raw.FPDFText_GetUnicode(text, i))
        raw.FPDFText_GetCharOrigin(text, i, x, y)
        raw.FPDFText_GetLooseCharBox(text, i, loose)
        raw.FPDFText_GetFillColor(text, i, red, green, blue, alpha)
        turned = abs(sin(raw.FPDFText_GetCharAngle(text, i))) > 0.7
        tall = loose.right - loose.left if turned else loose.top - loose.bottom
        size = abs(tall) / _EM
        white = min(red.value, green.value, blue.value) > 200
        yield PageWord(
            text=sign,
            x0=loose.left,
            x1=loose.right,
            y=y.value,
            size=size,
            white=white,
            turned=turned,
        )


def _lines(page: pdfium.PdfPage) -> Iterator[PageLine]:
    """Yield the drawn paths of a page, in points."""
    for path in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=6):
        weight, matrix = ctypes.c_float(), raw.FS_MATRIX()
        raw.FPDFPageObj_GetStrokeWidth(path, weight)
        raw.FPDFPageObj_GetMatrix(path, matrix)
        points, curved = [], False
        for j in range(raw.FPDFPath_CountSegments(path)):
            segment = raw.FPDFPath_GetPathSegment(path, j)
            curved |= raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_BEZIERTO
            x, y = ctypes.c_float(), ctypes.c_float()
            raw.FPDFPathSegment_GetPoint(segment, x, y)
            points.append(
                (
                    matrix.a * x.value + matrix.c * y.value + matrix.e,
                    matrix.b * x.value + matrix.d * y.value + matrix.f,
                )
            )
        if points:
            yield PageLine(
                points=tuple(points),
                weight=weight.value * abs(matrix.a),
                curved=curved,
                dashed=raw.FPDFPageObj_GetDashCount(path) > 0,
            )
