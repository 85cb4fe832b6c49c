"""The letters of a PDF with the size in which they stand on the paper."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import pypdfium2 as pdfium
import pypdfium2.raw as raw


@dataclass(frozen=True, kw_only=True, slots=True)
class SetLetter:
    """A letter on a page (from 1) and how many points it is set in."""

    page: int
    sign: str
    points: float


def letters(pdf: bytes) -> Iterator[SetLetter]:
    """Yield every letter of a PDF; blanks are left out."""
    document = pdfium.PdfDocument(pdf)
    try:
        for number, page in enumerate(document, start=1):
            text = page.get_textpage()
            for place in range(text.count_chars()):
                sign = chr(raw.FPDFText_GetUnicode(text.raw, place))
                if sign.strip() and not raw.FPDFText_IsGenerated(text.raw, place):
                    yield SetLetter(page=number, sign=sign, points=_points(text.raw, place))
            text.close()
            page.close()
    finally:
        document.close()


def _points(text: object, place: int) -> float:
    """Return the size of a letter: its font's, stretched as its matrix stretches upright lines."""
    matrix = raw.FS_MATRIX()
    raw.FPDFText_GetMatrix(text, place, ctypes.byref(matrix))
    return float(raw.FPDFText_GetFontSize(text, place)) * hypot(matrix.c, matrix.d)
