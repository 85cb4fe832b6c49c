"""Figures as a cut sheet writes them: whole inches and fractions, or whole millimeters."""

from __future__ import annotations

import re
from fractions import Fraction

_GLYPHS = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_SMALL = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉\u2044", "01234567890123456789/")
_RAISED = re.compile("[⁰¹²³⁴⁵⁶⁷⁸⁹]+\u2044[₀₁₂₃₄₅₆₇₈₉]+")
_TAPE = re.compile(r'(?:(\d+)(?: (\d+)/(\d+))?|(\d+)/(\d+))"')
_METRIC = re.compile(r"(\d+) mm")

# A figure in the middle of a sentence; `figure` reads what it matches.
FIGURE = '(?:[\\d½¼¾⅛⅜⅝⅞⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉\u2044/]+(?: \\d+/\\d+)?"|\\d+ mm)'


def figure(text: str) -> float:
    """Return a figure of a sheet in the unit that it is written in.

    Raises ValueError for anything that a tape does not show.
    """
    plain = _RAISED.sub(lambda group: f" {group[0].translate(_SMALL)}", text)
    for glyph, written in _GLYPHS.items():
        plain = plain.replace(glyph, f" {written}")
    plain = plain.strip()
    if metric := _METRIC.fullmatch(plain):
        return float(metric[1])
    tape = _TAPE.fullmatch(plain)
    if tape is None:
        message = f"no figure of a tape: {text}"
        raise ValueError(message)
    whole, above, below, top, bottom = tape.groups()
    part = Fraction(int(above or top or 0), int(below or bottom or 1))
    if part >= 1 or part.denominator > 16:
        message = f"no fraction of a tape: {text}"
        raise ValueError(message)
    return float(int(whole or 0) + part)
