"""A price by room: every line goes where its work is, and the rooms sum to the total."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimates.domain.priced import Priced
from estimates.domain.quotes.rooms import room_amounts
from estimates.domain.quotes.sold import SoldRoom
from tests.estimates.domain.quotes.a_sale import HALL, ROOMS, at_cost, two_rooms


def test_two_rooms_by_hand() -> None:
    """900 of cartons by area is 600 and 300, 600 of laying 400 and 200.

    An hour for the bedroom's furniture is 50, three hours of carpet are 100 and 50, the hall's
    nails 0.40: 1,150.00 and 550.40 of 1,700.40.
    """
    priced = at_cost(two_rooms())
    assert priced.total == Decimal("1700.40")
    assert room_amounts(two_rooms(), priced, ROOMS) == (Decimal("1150.00"), Decimal("550.40"))


def test_tax_margin_and_discount_follow_the_work() -> None:
    """Twice the price is twice each room's."""
    priced = at_cost(two_rooms())
    doubled = replace(priced, total=priced.total * 2)
    assert room_amounts(two_rooms(), doubled, ROOMS) == (Decimal("2300.00"), Decimal("1100.80"))


def three_rooms() -> tuple[SoldRoom, ...]:
    return tuple(replace(HALL, name=name) for name in ("One", "Two", "Three"))


def shared(total: str) -> Priced:
    """A price of which every line is shared by area."""
    priced = at_cost(two_rooms())
    lines = tuple(line for line in priced.lines if line.code == "cartons")
    return replace(priced, lines=lines, total=Decimal(total))


def test_a_cent_that_can_not_be_shared_goes_to_the_first() -> None:
    amounts = room_amounts(two_rooms(), shared("100.00"), three_rooms())
    assert amounts == (Decimal("33.34"), Decimal("33.33"), Decimal("33.33"))


@pytest.mark.parametrize("total", ["0.01", "0.02", "1.00", "4655.33", "99999.99", "0"])
def test_rooms_sum_to_the_total_to_the_cent(total: str) -> None:
    for rooms in (ROOMS, three_rooms(), (HALL,)):
        amounts = room_amounts(two_rooms(), shared(total), rooms)
        assert sum(amounts) == Decimal(total)
        assert all(amount == amount.quantize(Decimal("0.01")) for amount in amounts)


def test_a_price_without_lines_is_shared_by_area() -> None:
    priced = replace(at_cost(two_rooms()), lines=(), total=Decimal("450.00"))
    assert room_amounts(two_rooms(), priced, ROOMS) == (Decimal("300.00"), Decimal("150.00"))


def test_a_scope_without_rates_shares_work_by_area() -> None:
    scope = two_rooms(rates=())
    priced = at_cost(scope)
    bedroom, hall = room_amounts(scope, priced, ROOMS)
    assert (bedroom, hall) == (Decimal("1133.33"), Decimal("567.07"))
