"""Bars from a zero line: gains to the right, costs to the left, all rows on one scale."""

from decimal import Decimal

import pytest

from estimates.domain.options.chart import WIDTH, Bar, GainPart, bars_of, scale_for


def parts(material: str, labor: str) -> list[GainPart]:
    return [
        GainPart(label="material", amount=Decimal(material)),
        GainPart(label="labor", amount=Decimal(labor)),
    ]


@pytest.mark.parametrize(
    ("rows", "most"),
    [
        ([], "0.10"),
        ([parts("0", "0")], "0.10"),
        ([parts("0.30", "0.15"), parts("-0.71", "0.20")], "1"),
        ([parts("0.30", "0.21")], "1"),
        ([parts("-20", "-6")], "50"),
    ],
)
def test_the_scale_holds_the_longest_row(rows: list[list[GainPart]], most: str) -> None:
    assert scale_for(rows).most == Decimal(most)


def test_gains_follow_each_other_to_the_right() -> None:
    bars = bars_of(parts("0.25", "0.50"), scale_for([parts("0.50", "0.50")]))

    # Half the width less an edge of 8 is 152 for 1.00.
    places = [(int(bar.left), int(bar.length)) for bar in bars]
    assert places == [(160, 38), (198, 76)]
    assert all(bar.is_gain for bar in bars)


def test_what_costs_stands_to_the_left_of_what_gains() -> None:
    material, labor = bars_of(parts("-0.50", "0.25"), scale_for([parts("-1", "0")]))

    assert (int(material.left), int(material.length), material.is_gain) == (84, 76, False)
    assert (int(labor.left), int(labor.length), labor.is_gain) == (160, 38, True)


def test_nothing_has_no_bar() -> None:
    assert bars_of(parts("0", "0"), scale_for([])) == ()


def test_no_bar_leaves_the_drawing() -> None:
    rows = [parts("-0.37", "-0.61"), parts("0.09", "0.88"), parts("-0.97", "0.01")]
    scale = scale_for(rows)
    bars: list[Bar] = [bar for row in rows for bar in bars_of(row, scale)]

    assert min(bar.left for bar in bars) >= 0
    assert max(bar.left + bar.length for bar in bars) <= WIDTH
