"""The figures over a story stick: none touches the next, and none is too small to read."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from layout.cutsheet.placings import Placing, StorySticks
from layout.drawing.stick import StickFace, draw_stick
from layout.drawing.strips.inter import inter_width

FIGURE = re.compile(r'<text class="far" x="([\d.]+)"[^>]*font-size="([\d.]+)"[^>]*>([^<]+)</text>')


def figures(pitch: float, first: float) -> list[tuple[float, float, str]]:
    """Return where the figures stand, how large, and what they say: thirteen rows of a pitch."""
    marks = tuple((60 + n, 7.0 + pitch * n) for n in range(1, 13))
    placing = Placing(base=60, rests=7.0, marks=marks)
    words = {60 + n: f"{first + pitch * n:.0f}¼" for n in range(13)}
    face = StickFace(placing=placing, zero=first - 7.0, figures=words, notes=())
    sticks = StorySticks(length=96.0, scale=12, pitch=pitch, placings=(placing,))
    svg = draw_stick(sticks, face, unit="in", title="Stick")
    placed = [(float(x), float(size), text) for x, size, text in FIGURE.findall(svg)]
    assert len(placed) == 13
    return placed


@pytest.mark.parametrize("first", [7.0, 84.0, 427.0])
def test_figures_do_not_touch(first: float) -> None:
    spans = [
        (x - inter_width(text, size, bold=True) / 2, x + inter_width(text, size, bold=True) / 2)
        for x, size, text in figures(7.0, first)
    ]
    assert all(other[0] - one[1] > 1 for one, other in pairwise(spans))


def test_figures_are_14_pt_and_never_under_12() -> None:
    assert {size for _, size, _ in figures(7.0, 7.0)} == {4.94}
    assert all(4.24 <= size < 4.94 for _, size, _ in figures(7.0, 427.0))
    assert {size for _, size, _ in figures(3.0, 427.0)} == {4.94}  # on their side
