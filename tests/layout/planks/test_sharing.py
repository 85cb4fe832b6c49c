"""Sharing a plank: what no order of cuts makes is refused while planning."""

from __future__ import annotations

from dataclasses import replace

from shapely.geometry import Polygon, box

from layout.planks.parts import Part, Plank, Stock
from layout.planks.sharing import clear, comes_out, sawable, sawn_apart

STOCK = Stock(length=48, width=7, kerf=0.125)


def part(order: int, left: float, low: float, right: float, high: float) -> Part:
    return Part(order=order, left=left, right=right, low=low, high=high)


def shaped(order: int, *corners: tuple[float, float]) -> Part:
    shape = Polygon(corners)
    left, low, right, high = shape.bounds
    return replace(part(order, left, low, right, high), shape=shape)


PINWHEEL = (
    part(0, 0, 0, 30, 3),
    part(1, 30.2, 0, 48, 4),
    part(2, 18, 4.2, 48, 7),
    part(3, 0, 3.2, 17, 7),
)


def test_boxes_a_kerf_apart_share_a_plank() -> None:
    assert clear(part(0, 0, 0, 20, 7), part(1, 20.125, 0, 48, 7), STOCK)
    assert not clear(part(0, 0, 0, 20, 7), part(1, 20.1, 0, 48, 7), STOCK)


def test_strips_lie_apart_by_what_a_rip_takes() -> None:
    scored = Stock(length=48, width=7, kerf=0, rip=0.25)
    assert clear(part(0, 0, 0, 48, 3), part(1, 0, 3.25, 48, 7), scored)
    assert not clear(part(0, 0, 0, 48, 3), part(1, 0, 3.2, 48, 7), scored)


def test_slanted_ends_share_a_plank_where_the_slanted_kerf_fits() -> None:
    ender = shaped(0, (0, 0), (20, 0), (24, 7), (0, 7))
    assert clear(ender, shaped(1, (20.2, 0), (48, 0), (48, 7), (24.2, 7)), STOCK)
    assert not clear(ender, shaped(1, (20.1, 0), (48, 0), (48, 7), (24.1, 7)), STOCK)


def test_four_that_are_clear_two_by_two_may_have_no_order_together() -> None:
    assert all(clear(a, b, STOCK) for a in PINWHEEL for b in PINWHEEL if a.order < b.order)
    assert not sawable(PINWHEEL, STOCK)


def test_what_can_not_be_sawn_together_takes_another_plank() -> None:
    planks = sawn_apart(Plank(stock=STOCK, parts=PINWHEEL))
    assert [[p.order for p in plank.parts] for plank in planks] == [[0, 1, 2], [3]]


def test_a_leftover_at_hand_has_its_true_shape() -> None:
    slanted = Polygon([(20, 0), (48, 0), (48, 7), (24, 7)])
    gone = replace(part(-1, 0, 0, 23.875, 7), left_over=slanted)
    assert clear(gone, part(0, 30, 0, 48, 7), STOCK)
    assert not clear(gone, part(0, 21, 0, 48, 7), STOCK)


def test_two_leftovers_at_hand_make_no_plank() -> None:
    ends = (replace(part(-1, 30, 0, 48, 7), left_over=box(0, 0, 29, 7)), part(-2, 0, 0, 10, 7))
    assert not sawable(ends, STOCK)


def test_what_is_notched_comes_out_of_its_cuts_as_wanted() -> None:
    notched = shaped(0, (0, 0), (20, 0), (20, 5), (15, 5), (15, 7), (0, 7))
    assert comes_out((notched, part(1, 27, 0, 48, 7)), STOCK)


def test_what_is_notched_does_not_come_out_where_nothing_makes_it() -> None:
    notched = shaped(0, (0, 0), (30, 0), (30, 2), (28, 2), (28, 3), (0, 3))
    assert not comes_out((notched, *PINWHEEL[1:]), STOCK)
