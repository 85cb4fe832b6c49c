"""What stands on the pages of a PDF: words by place and size, lines by place and weight.

Nothing is known here of what made the pages. Places are in points, y upwards.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass, field

import pypdfium2 as pdfium
import pypdfium2.raw as raw

Point = tuple[float, float]
_EM = 0.96875 + 0.2412  # ascent and descent of Inter, by which a size shows in a loose box
_PARTED = 0.18  # sizes between two signs of one word


@dataclass(slots=True, kw_only=True)
class PageWord:
    """A word: from where to where it stands, its base line, its size; white on black or not."""

    text: str
    x0: float
    x1: float
    y: float
    size: float
    white: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLine:
    """A drawn path: its corners, how thick it is drawn, whether it comes round to its beginning."""

    points: tuple[Point, ...]
    weight: float
    curved: bool

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
    return ReadPage(
        number=number,
        size=page.get_size(),
        words=[*_words(page.get_textpage())],
        lines=[*_lines(page)],
    )


def _words(text: pdfium.PdfTextPage) -> Iterator[PageWord]:
    """Yield the words of a page in the order they were written."""
    word: PageWord | None = None
    for sign in _signs(text):
        near = word is not None and abs(sign.y - word.y) < 0.2 and abs(sign.size - word.size) < 0.2
        follows = near and word is not None and -0.3 < (sign.x0 - word.x1) / sign.size < _PARTED
        if sign.text.isspace() or not follows or (word and word.white != sign.white):
            if word is not None:
                yield word
            word = None if sign.text.isspace() else sign
        elif word is not None:
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
        size = abs(loose.top - loose.bottom) / _EM
        white = min(red.value, green.value, blue.value) > 200
        yield PageWord(text=sign, x0=loose.left, x1=loose.right, y=y.value, size=size, white=white)


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
            yield PageLine(points=tuple(points), weight=weight.value * abs(matrix.a), curved=curved)
