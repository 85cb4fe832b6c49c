"""Ends at a slant: what one cut parts, by hand, and a floor whose rows nest."""

from __future__ import annotations

from math import sqrt
from random import Random

import numpy as np
import pytest
from shapely.geometry import Polygon

from layout.joints.choices import NEVER, Site, Terms
from layout.joints.search import Search
from layout.joints.slants import SQUARE, Slants, counted, slants_of
from layout.rows.rows import floor_of
from layout.values.material import Board

TERMS = Terms(length=48, kerf=0.125, least_end=8, least_offset=6)
NO_KERF = Terms(length=48, kerf=0, least_end=8, least_offset=6)


def sites(*corners: tuple[float, float]) -> list[Site]:
    """The runs of a floor of 7 in boards, a whole first row."""
    floor = floor_of(Polygon(corners), Board(length=48, width=7, per_carton=10), 7)
    return [Site(run=run) for run in floor.runs]


def leaning(length: float, rows: int) -> list[Site]:
    """Rows between two walls that lean to the right at 45 degrees."""
    over = 7 * rows
    return sites((0, 0), (length, 0), (length + over, over), (over, over))


def nested(slants: Slants) -> float:
    """What an ender and a starter of the second pool may overlap by their boxes."""
    return dict(slants.left)[1] + dict(slants.right)[1]


def test_ends_of_one_slope_overlap_by_their_slant() -> None:
    # 7 in across at 45 degrees: the boxes of what one cut parts overlap by 7 in.
    (slants,) = slants_of(leaning(100, 1), NO_KERF)
    assert nested(slants) == pytest.approx(7)


def test_a_slope_the_other_way_overlaps_as_much() -> None:
    (slants,) = slants_of(sites((7, 0), (107, 0), (100, 7), (0, 7)), NO_KERF)
    assert nested(slants) == pytest.approx(7)


def test_a_saw_takes_more_along_a_plank_that_it_cuts_at_a_slant() -> None:
    # 1/8 in square to a cut at 45 degrees is 1/8 times the root of 2 along the plank.
    (slants,) = slants_of(leaning(100, 1), TERMS)
    assert nested(slants) == pytest.approx(7 - 0.125 * (sqrt(2) - 1))


def test_ends_that_no_other_leans_with_count_by_their_boxes() -> None:
    (slants,) = slants_of(sites((0, 0), (107, 0), (100, 7), (0, 7)), TERMS)
    assert slants.square


def test_a_step_in_a_wall_is_no_slant() -> None:
    stepped = ((0, 0), (100, 0), (100, 3), (112, 3), (112, 7), (12, 7), (12, 3), (0, 3))
    (slants,) = slants_of(sites(*stepped), TERMS)
    assert slants == Slants(left=SQUARE, right=SQUARE)


def test_rows_between_walls_that_curve_lean_as_their_chords() -> None:
    # The ends bulge 1 in beyond their chords at mid-row: each counts so much longer.
    bowed = ((0, 0), (100, 0), (104.5, 3.5), (107, 7), (7, 7), (2.5, 3.5))
    (slants,) = slants_of(sites(*bowed), NO_KERF)
    assert nested(slants) == pytest.approx(7 - 2)


def test_an_end_that_a_run_has_not_counts_in_no_pool() -> None:
    assert counted(np.array([20.0, NEVER]), 7.0).tolist() == [13.0, NEVER]


@pytest.mark.parametrize("rows", [4, 9])
def test_rows_that_nest_take_a_plank_each(rows: int) -> None:
    # A row is 55 in by its box and 48 of floor: one cut parts its two ends. By their boxes two
    # ends on a plank would be 48 in together at most, and those of a row are 55: a plank more.
    over = 7 * rows
    region = Polygon([(0, 0), (48, 0), (48 + over, over), (over, over)])
    floor = floor_of(region, Board(length=48, width=7, per_carton=10), 7)
    search = Search(floor, [Site(run=run) for run in floor.runs], NO_KERF, Random(3))
    search.improve(20, lambda: False)
    score = search.score
    assert (score.faults, score.clashes, score.planks) == (0, 0, rows)
