"""Laying regions: every edge keeps its gap, and the widest gaps say what must be covered."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest
from shapely.geometry import Polygon, box

from layout.values.outline import Edge, Hole, HoleKind, Ring, Zone, polygons_of, zone_polygon
from layout.values.regions import laying_region, widest_region
from layout.values.request import read_request
from tests.rooms import ROOMS, Request

SQUARE: Ring = ((0, 0), (100, 0), (100, 80), (0, 80))
ELL: Ring = ((0, 0), (100, 0), (100, 40), (60, 40), (60, 80), (0, 80))


@pytest.mark.parametrize("room", ROOMS.values(), ids=ROOMS)
def test_an_even_gap_is_what_shapely_makes_of_it(room: Callable[[], Request]) -> None:
    request = read_request(room())
    gap = request.rules.expansion_gap
    witness = zone_polygon(request.zone).buffer(-gap, join_style="mitre")
    region = laying_region(request.zone, gap)
    assert region.symmetric_difference(witness).area < 1e-6
    assert region.is_valid


@pytest.mark.parametrize("ring", [SQUARE, SQUARE[::-1]])
def test_every_edge_keeps_its_gap(ring: Ring) -> None:
    right = next(i for i, (a, b) in enumerate(pairwise((*ring, ring[0]))) if a[0] == b[0] == 100)
    zone = Zone(outline=ring, edges={right: Edge(gap=0.5)})
    assert laying_region(zone, 0.25).bounds == (0.25, 0.25, 99.5, 79.75)


def test_gaps_meet_in_mitered_corners_on_a_corner_that_juts_in() -> None:
    zone = Zone(outline=ELL, edges={2: Edge(gap=2.0), 3: Edge(gap=1.0)})
    inside_corner = (59.0, 38.0)
    assert inside_corner in polygons_of(laying_region(zone, 0.25))[0].exterior.coords


def test_a_gap_larger_on_one_side_of_an_obtuse_corner_is_kept_to_its_line() -> None:
    zone = Zone(outline=((0, 0), (10, 0), (20, 10), (0, 10)), edges={0: Edge(gap=1.0)})
    low = min(y for _, y in polygons_of(laying_region(zone, 0.25))[0].exterior.coords)
    assert low == 1.0


def test_holes_are_pulled_back_from_by_the_gap() -> None:
    hole = Hole(ring=((40, 30), (50, 30), (50, 40), (40, 40)), kind=HoleKind.REGISTER)
    region = laying_region(Zone(outline=SQUARE, holes=(hole,)), 0.25)
    assert Polygon(polygons_of(region)[0].interiors[0]).equals(box(39.75, 29.75, 50.25, 40.25))


def test_a_room_narrower_than_its_gaps_leaves_nothing() -> None:
    assert laying_region(Zone(outline=((0, 0), (100, 0), (100, 0.4), (0, 0.4))), 0.25).is_empty


def test_a_doorway_narrower_than_its_gaps_parts_the_floor() -> None:
    neck: Ring = ((0, 0), (50, 0), (50, 20), (60, 20), (60, 0), (110, 0))
    neck += ((110, 40), (60, 40), (60, 20.4), (50, 20.4), (50, 40), (0, 40))
    assert len(polygons_of(laying_region(Zone(outline=neck), 0.25))) == 2


def test_what_must_be_covered_ends_at_the_widest_gaps() -> None:
    zone = Zone(outline=SQUARE, edges={1: Edge(gap=0.5, max_gap=0.75), 2: Edge(max_gap=1.0)})
    assert laying_region(zone, 0.25).bounds == (0.25, 0.25, 99.5, 79.75)
    assert widest_region(zone, 0.25).bounds == (0.25, 0.25, 99.25, 79.0)
