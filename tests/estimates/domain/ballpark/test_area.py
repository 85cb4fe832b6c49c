"""The size of a floor as callers say it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.ballpark.area import size_said
from jobs.domain.checks import BadValueError


@pytest.mark.parametrize(
    ("said", "area", "around"),
    [
        ("12 x 14", "168", "52"),
        # 168 + 110 ft2; 2 x 26 + 2 x 21 ft of wall.
        ("12 x 14 + 10 x 11", "278", "94"),
        ("12 by 14 and 10 by 11", "278", "94"),
        ("12' 6\" × 10", "125", "45"),
        ("3.048 m x 3.048 m", "100", "40"),
        # 150 ft2 is one square room: 4 x 12.2474 ft.
        ("150", "150", "48.99"),
        # Three rooms of 123.33 ft2: 12 x 11.1056 ft.
        ("370", "370", "133.27"),
        ("370 sq ft", "370", "133.27"),
        ("1,200 ft2", "1200", "391.92"),
        # 35 / 0.09290304 = 376.737 ft2; three rooms of 125.579: 12 x 11.2062 ft.
        ("35 m2", "376.74", "134.47"),
        # 134 rooms of 149.254: 536 x 12.2169 ft.
        ("20000", "20000", "6548.28"),
    ],
)
def test_a_size_is_read_as_it_is_said(said: str, area: str, around: str) -> None:
    size = size_said(said)
    assert (size.area_ft2, size.around_ft) == (Decimal(area), Decimal(around))


def test_walls_are_guessed_where_only_feet_were_said() -> None:
    assert size_said("370").guessed
    assert size_said("12 x 14 + 60").guessed
    assert not size_said("12 x 14").guessed


@pytest.mark.parametrize(
    "said",
    [
        *("", "0", "-5", "ten", "10000000", "10 million", "20000.01", "12 x", "12 x 0", "0 x 0"),
        *("1 x 2 x 3", "7,05", "1e3", "nan", "12 x 14 +", "12 x ten", "<b>12</b>", "12; drop"),
        " + ".join(["10 x 10"] * 21),
        *("9" * 40, "9" * 40 + " m2", "9" * 40 + " x 1"),
    ],
)
def test_what_is_no_size_is_refused_with_what_is_accepted(said: str) -> None:
    with pytest.raises(BadValueError, match=r"such as 12 x 14 \+ 10 x 11"):
        size_said(said)
