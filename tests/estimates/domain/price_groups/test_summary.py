"""What stands above a price, and its drawing, by figures that are reckoned in the head."""

from __future__ import annotations

import itertools
from decimal import Decimal

import pytest

from estimates.domain.price_groups.bar import SIDE, PriceBar, price_bar
from estimates.domain.price_groups.summary import PriceSummary, summary_of
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import Discount
from tests.estimates.a_price import a_book, a_scope, a_task, terms

AREA = Decimal(120)


def priced(**changes: object) -> Priced:
    """450 of material, 800 of labor, 125 overhead: 1 375 / 0.80 = 1 718.75."""
    shares = {"overhead": Decimal("0.10"), "margin": Decimal("0.20")}
    return price_scope(a_scope(), a_book(), terms(**shares | changes))


def summary(**changes: object) -> PriceSummary:
    return summary_of(priced(**changes), AREA)


def bar(width: int = 1008, **changes: object) -> PriceBar:
    drawn = price_bar(summary(**changes), width)
    assert drawn is not None
    return drawn


def test_the_shares_of_a_price_are_the_whole_of_it() -> None:
    shares = {part.label: part.amount for part in summary().shares}

    assert shares == {
        "Materials": 450,
        "Labor": 800,
        "Overhead": 125,
        "Margin": Decimal("343.75"),
    }
    assert sum(shares.values()) == summary().price


def test_tax_that_we_pay_is_a_part_of_material() -> None:
    taxed = summary(tax_mode="consumer", tax_rate=Decimal("0.08"))

    assert taxed.shares[0].amount == 486


def test_break_even_is_the_cost_and_by_the_day_its_overhead() -> None:
    # 16 h are a day of 16: overhead of 125 by one day. An hour is 50 with 10 % overhead, 55:
    # 343.75 / 55 = 6.25 h more, and nothing is left.
    assert summary().break_even == 1375
    assert summary().break_even_per_day == 125
    assert summary().hours_to_spare == Decimal("6.25")
    more = a_scope(tasks=(a_task("lay", "18.25", zone="up"), a_task("base", "4.00", zone="up")))
    assert price_scope(more, a_book(), terms(overhead=Decimal("0.10"))).cost == priced().subtotal


def test_a_price_by_the_foot_laid() -> None:
    # 1 718.75 / 120 = 14.3229.
    assert summary().per_ft2 == Decimal("14.32")
    assert summary_of(priced(), None).per_ft2 is None


def test_the_boards_fill_the_room_between_the_walls_to_scale() -> None:
    drawn = bar()

    # 1 000 units for 1 718.75: 450 are 261.8, 1 250 are 727.3, 1 375 are 800.
    assert [board.x for board in drawn.boards] == [4, 266, 731, 804]
    assert (drawn.left, drawn.right, drawn.wall) == (SIDE, 1004, 1004)
    assert drawn.direct_end == 731


def test_words_that_would_meet_stand_on_another_line() -> None:
    narrow = bar(358)

    lines: dict[int, list[tuple[int, int]]] = {}
    for board in narrow.boards:
        half = max(len(board.label), len(f"${board.amount:,.2f}")) * 7 // 2
        lines.setdefault(board.level, []).append((board.text_x - half, board.text_x + half))
    assert narrow.levels == len(lines) == 2
    assert all(
        left[1] <= right[0] for spans in lines.values() for left, right in itertools.pairwise(spans)
    )


def test_a_board_too_short_for_its_word_leaves_it_below() -> None:
    assert [board.fits for board in bar(358).boards] == [True, True, False, True]


def test_below_cost_the_wall_stands_inside_the_boards() -> None:
    # 5 000 off would be beyond the price: 800 off leaves 918.75 against 1 375 of cost.

    drawn = bar(discount=Discount(amount=Decimal(800), reason="a slip"))
    # 1 000 units for 1 375: 918.75 are 668.2.
    assert (drawn.right, drawn.wall) == (1004, 672)
    assert "Margin" not in {board.label for board in drawn.boards}


@pytest.mark.parametrize("width", [358, 1008])
def test_nothing_charged_draws_nothing(width: int) -> None:
    empty = price_scope(a_scope(quantities=(), tasks=()), a_book(), terms())

    assert price_bar(summary_of(empty, AREA), width) is None


def test_of_no_hours_nobody_says_how_many_are_to_spare() -> None:
    without = price_scope(a_scope(tasks=()), a_book(), terms())

    assert summary_of(without, AREA).hours_to_spare is None
    assert summary_of(without, AREA).break_even_per_day is None
