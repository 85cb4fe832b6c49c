"""The section through a strip: which way a reducer runs down."""

from __future__ import annotations

import re

import pytest

from layout.drawing.section import StripSection, draw_section


def profile(rise: float) -> list[tuple[float, float]]:
    """The corners of a reducer's upper side, 1 3/4 in wide over a joint 2 1/4 in from the face."""
    drawn = draw_section(
        StripSection(
            depth=114.3,
            joint=57.15,
            floor_ends=50.8,
            covers=(34.925, 79.375),
            rise=rise,
            near_face="Hall face",
            far_face="far face",
            strip="reducer, bathroom door",
            figures=('2"', '1⅜"', '3⅛"'),
        )
    )
    path = re.search(r'<path[^>]*class="strip"[^>]* d="([^"]+)"', drawn) or re.search(
        r'<path[^>]* d="([^"]+)"[^>]*class="strip"', drawn
    )
    assert path is not None
    numbers = [float(number) for number in re.findall(r"-?[\d.]+", path[1])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


@pytest.mark.parametrize("rise", [9.525, 12.7])
def test_a_reducer_to_a_higher_floor_slopes_on_this_side(rise: float) -> None:
    # Half size: 3/8 in are 4.76 mm, and 2.4 mm of strip over it: a ramp of 14.3 mm at 1:2.
    (a, low), (near_top, crest), (far_top, _), (b, high) = profile(rise)
    assert low - high == pytest.approx(rise / 2, abs=0.06)
    assert near_top - a == pytest.approx(2 * (rise / 2 + 2.4), abs=0.15)
    assert near_top - a >= 2 * (low - crest) - 0.15  # no steeper than 1:2
    assert b - far_top == pytest.approx(2, abs=0.06)  # the lip on the floor beyond


def test_a_reducer_to_a_lower_floor_slopes_on_the_far_side() -> None:
    (a, low), (near_top, crest), (far_top, _), (b, down) = profile(-6.35)
    assert down - low == pytest.approx(3.175, abs=0.06)
    assert near_top - a == pytest.approx(2, abs=0.06)
    assert b - far_top >= 2 * (down - crest) - 0.15
