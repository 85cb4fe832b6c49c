"""Spreading variants: like pieces apart as far as the cartons allow, counted independently."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

from shapely.geometry import Polygon

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import read_request
from tests import rooms


def plan(shades: dict[str, int], width: float = 130) -> Plan:
    outline: list[list[float]] = [[0, 0], [width, 0], [width, 80], [0, 80]]
    product = {"length": 48, "width": 7, "per_carton": sum(shades.values()), "variants": shades}
    request = read_request(rooms.request(outline, product=product, effort_iterations=30))
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


def alike(of: Plan) -> int:
    """Count touching pairs of one variant by shapely alone."""
    shapes = [(Polygon(piece.outline), piece.variant) for piece in of.pieces]
    return sum(
        one.buffer(0.01).intersection(two.buffer(0.01)).area > 0.05 and shade == other
        for (one, shade), (two, other) in combinations(shapes, 2)
    )


def test_four_variants_touch_no_like_piece() -> None:
    laid = plan({"A": 3, "B": 3, "C": 2, "D": 2})
    assert alike(laid) == 0
    assert not laid.warnings


def test_what_two_variants_cannot_avoid_is_reported_as_counted() -> None:
    laid = plan({"A": 5, "B": 5})
    (warning,) = laid.warnings
    assert (warning.rule, warning.value) == ("variants", alike(laid))


def test_no_more_of_a_variant_is_used_than_the_cartons_hold() -> None:
    laid = plan({"A": 6, "B": 2, "C": 2})
    used = Counter({piece.plank: piece.variant for piece in laid.pieces}.values())
    cartons = laid.totals.cartons
    assert all(used[name] <= cartons * count for name, count in (("A", 6), ("B", 2), ("C", 2)))


def test_pieces_of_one_plank_share_its_variant() -> None:
    shades: dict[int, set[str | None]] = {}
    for piece in plan({"A": 4, "B": 3, "C": 3}).pieces:
        shades.setdefault(piece.plank, set()).add(piece.variant)
    assert all(len(names) == 1 for names in shades.values())
