"""Slivers: strips narrower than the rule, and tips, which are none. Figures worked out by hand."""

from __future__ import annotations

from math import radians, tan

import pytest
from shapely.geometry import Polygon, box

from layout.rows.slivers import slivers

LEAST_RUN = 2.0


def test_a_strip_narrower_than_the_rule_is_a_sliver() -> None:
    (sliver,) = slivers(box(0, 0, 100, 1.5), 2.0, LEAST_RUN)
    assert (sliver.x0, sliver.x1, sliver.width) == pytest.approx((0, 100, 1.5), abs=1e-3)


def test_a_narrow_place_of_two_inches_is_no_sliver() -> None:
    shape = box(0, 0, 100, 7).difference(box(40, 1, 42, 7))
    assert slivers(shape, 2.0, LEAST_RUN) == ()


def test_a_narrow_place_beside_a_post_is_a_sliver() -> None:
    shape = box(0, 0, 100, 7).difference(box(40, 1, 46, 7))
    (sliver,) = slivers(shape, 2.0, LEAST_RUN)
    assert (sliver.x0, sliver.x1) == (40, 46)


def test_a_tapering_strip_counts_where_it_lasts() -> None:
    # 0 to 4 wide over 100: under 2 for 50, and under 0.08 for more than 2.
    (sliver,) = slivers(Polygon([(0, 0), (100, 0), (100, 4)]), 2.0, LEAST_RUN)
    assert sliver.x1 == pytest.approx(50, abs=0.5)
    assert sliver.width == pytest.approx(0.08, abs=0.01)


def tip(rise: float) -> Polygon:
    """Return the end of a row that a wall cuts off, rising so much over 100 in."""
    return Polygon([(0, 0), (100, 0), (100, 7), (700 / rise, 7)])


def test_a_wall_at_more_than_fifteen_degrees_makes_a_tip_and_no_sliver() -> None:
    assert slivers(tip(27), 2.0, LEAST_RUN) == ()


def test_a_wall_at_less_than_fifteen_degrees_makes_a_sliver() -> None:
    assert len(slivers(tip(26.5), 2.0, LEAST_RUN)) == 1


def test_a_wall_at_fifteen_degrees_makes_a_sliver() -> None:
    assert len(slivers(tip(100 * tan(radians(15))), 2.0, LEAST_RUN)) == 1


def test_a_thin_strip_beside_a_tip_is_still_a_sliver() -> None:
    shape = Polygon([(49, 0), (100, 0), (100, 1), (50, 1)])
    (sliver,) = slivers(shape, 2.0, LEAST_RUN)
    assert (sliver.x0, sliver.x1) == (50, 100)
