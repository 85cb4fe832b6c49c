"""Words of a page as they stand in lines, and as one text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from tests.packet_pdf.pages import PageLine, PageWord


def in_lines(words: Sequence[PageWord]) -> Iterator[list[PageWord]]:
    """Yield words line by line from the top down, each from left to right."""
    line: list[PageWord] = []
    for word in sorted(words, key=lambda one: -one.y):
        if line and line[0].y - word.y > 2.4:
            yield sorted(line, key=lambda one: one.x0)
            line = []
        line.append(word)
    if line:
        yield sorted(line, key=lambda one: one.x0)


def joined(words: Sequence[PageWord]) -> tuple[str, list[int]]:
    """Return words as one text, cut numbers in brackets, and where each begins in it."""
    text, starts = "", []
    for word in words:
        text += " " if text else ""
        starts.append(len(text))
        letter = word.boxed and word.text.isalpha()
        text += f"({word.text})" if word.white else f"[{word.text}]" if letter else word.text
    return text, starts


def span_of(
    words: Sequence[PageWord], starts: Sequence[int], read: re.Match[str]
) -> tuple[float, float]:
    """Return from where to where what was read stands on the page."""
    inside = [
        word
        for word, start in zip(words, starts, strict=True)
        if read.start() <= start < read.end()
    ]
    return min(word.x0 for word in inside), max(word.x1 for word in inside)


def longest(line: PageLine) -> float:
    """Return how far a drawn line reaches, across or up."""
    x0, y0, x1, y1 = line.bounds
    return max(x1 - x0, y1 - y0)


def begins_left(beside: Sequence[str], page: str) -> bool:
    """Whether a row begins at the left, by the words beside its ring, else by the page's."""
    for side in ("left", "right"):
        if ["from", side] in [beside[i : i + 2] for i in range(len(beside))]:
            return side == "left"
    begins = re.search(r"[Bb]egin at the (left|right)", page)
    return begins is None or begins[1] == "left"


def within(lines: Sequence[PageLine], bounds: tuple[float, float, float, float]) -> list[PageLine]:
    """Return the lines that lie within bounds: left, bottom, right, top."""
    left, low, right, high = bounds
    return [
        line
        for line in lines
        if line.bounds[0] > left and line.bounds[2] < right
        if line.bounds[1] > low and line.bounds[3] < high
    ]
