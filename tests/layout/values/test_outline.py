"""Outlines, laying regions and the direction frame, against published areas and shapely."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from layout.values.errors import InputError
from layout.values.outline import (
    Edge,
    Hole,
    HoleKind,
    Point,
    Ring,
    Zone,
    crossing,
    from_frame,
    polygons_of,
    region_to_frame,
    ring_area,
    to_frame,
    wound,
    zone_polygon,
)
from layout.values.regions import laying_region, widest_region
from tests.rooms import ROOMS

SQUARE: Ring = ((0, 0), (100, 0), (100, 80), (0, 80))
ELL: Ring = ((0, 0), (100, 0), (100, 40), (60, 40), (60, 80), (0, 80))

# J. Mahun, Traverse Computations, chapter G, section 3, example 1: N and E in feet.
FOUR = ((500.0, 2000.0), (323.614, 1561.426), (526.996, 1488.321), (719.336, 1686.956))
# The same author, COGO, chapter H: N and E in feet, corners C, D, E, A, B.
FIVE = (
    (406.31, 1259.97),
    (235.12, 1489.47),
    (65.81, 1126.40),
    (317.89, 942.04),
    (675.32, 1282.54),
)


@pytest.mark.parametrize(
    ("corners", "exact", "printed", "slack"),
    [(FOUR, 102_935.7226, 102_935.75, 0.05), (FIVE, 140_493.107, 140_494.0, 1.5)],
)
def test_areas_by_coordinates_are_those_published(
    corners: Ring, exact: float, printed: float, slack: float
) -> None:
    # The page rounds each product; the exact figure is the same sum without rounding.
    area = abs(ring_area(corners))
    assert area == pytest.approx(exact, abs=1e-3)
    assert area == pytest.approx(printed, abs=slack)


@pytest.mark.parametrize("corners", [FOUR, FIVE])
def test_an_area_depends_on_no_direction_start_or_axis(corners: Ring) -> None:
    area = abs(ring_area(corners))
    turns = [corners[i:] + corners[:i] for i in range(len(corners))]
    swapped = tuple((b, a) for a, b in corners)
    for ring in (*turns, corners[::-1], swapped):
        assert abs(ring_area(ring)) == pytest.approx(area, rel=1e-12)


def test_a_diagonal_is_the_distance_published() -> None:
    # J. Mahun, Traverse Computations, chapter F, section 3: from A to C 512.39 ft.
    assert math.dist(FOUR[0], FOUR[2]) == pytest.approx(512.39, abs=0.005)


def test_three_tape_lengths_give_the_area_of_heron() -> None:
    # Heron, Metrica I.8: sides 13, 14, 15 enclose 84 (from memory; recomputed here).
    assert ring_area(((0, 0), (14, 0), (5, 12))) == 84


@pytest.mark.parametrize("room", ROOMS.values(), ids=ROOMS)
def test_an_even_gap_is_what_shapely_makes_of_it(room: object) -> None:
    from layout.values.request import read_request

    request = read_request(room())  # type: ignore[operator]
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


@given(st.sampled_from([0, 90, 180, 270, 360, -90]))
def test_quarter_turns_are_exact(turn: float) -> None:
    assert from_frame(to_frame(ELL, turn), turn) == ELL
    assert all(x == int(x) and y == int(y) for x, y in to_frame(ELL, turn))


@given(st.floats(min_value=-360, max_value=360))
def test_the_direction_frame_moves_nothing(turn: float) -> None:
    region = laying_region(Zone(outline=ELL), 0.25)
    turned = region_to_frame(region, turn)
    assert turned.area == pytest.approx(region.area)
    back: list[Point] = [*from_frame(to_frame(ELL, turn), turn)]
    assert [c for p in back for c in p] == pytest.approx([c for p in ELL for c in p], abs=1e-9)


def test_planks_turned_by_ninety_degrees_run_up_the_plan() -> None:
    assert to_frame([(0.0, 48.0)], 90) == ((48.0, 0.0),)


def test_winding_keeps_the_first_corner() -> None:
    assert wound(SQUARE[::-1]) == (SQUARE[3], *SQUARE[:3])
    assert wound(SQUARE) == SQUARE


def test_a_crossing_is_named_by_the_edges_that_meet() -> None:
    assert crossing(((0, 0), (10, 10), (10, 0), (0, 10))) == "edges 0 and 2 meet at (5, 5)"
    assert crossing(SQUARE) is None


@pytest.mark.parametrize(
    ("ring", "message"),
    [
        (((0, 0), (10, 10), (10, 0), (0, 10)), "zone.outline: edges 0 and 2 meet"),
        (((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)), "zone.outline: edges 0 and 2 meet"),
        ((*SQUARE, (0, 0)), "zone.outline.0.: .* away from corner 4"),
        (((0, 0), (10, 0), (20, 0)), "zone.outline: encloses no area"),
        (((0, 0), (10, 0)), "zone.outline: 2 corners; accepted: 3 to 2000"),
        (((0, 0), (math.nan, 0), (10, 10)), "two finite numbers"),
        (((0, 0), (10, 0), (10, 5), (10, 0), (0, 10)), "meet"),
    ],
)
def test_an_outline_that_encloses_no_room_is_refused(ring: Ring, message: str) -> None:
    with pytest.raises(InputError, match=message):
        Zone(outline=ring)


@pytest.mark.parametrize(
    ("hole", "message"),
    [
        (((40, 0), (50, 0), (50, 10), (40, 10)), "touches the outline"),
        (((95, 30), (110, 30), (110, 40), (95, 40)), "touches the outline"),
        (((200, 30), (210, 30), (210, 40), (200, 40)), "lies outside"),
        (((15, 15), (25, 15), (25, 25), (15, 25)), "meets hole 0"),
        (((20, 10), (30, 10), (30, 20), (20, 20)), "meets hole 0"),
    ],
)
def test_a_hole_stands_clear_inside_the_room(hole: Ring, message: str) -> None:
    first = Hole(ring=((10, 10), (20, 10), (20, 20), (10, 20)))
    with pytest.raises(InputError, match=message):
        Zone(outline=SQUARE, holes=(first, Hole(ring=hole)))


@pytest.mark.parametrize(
    ("edges", "message"),
    [
        ({4: Edge()}, "zone.edges.4: 4 .* an edge from 0 to 3"),
        ({-1: Edge()}, "an edge from 0 to 3"),
        ({1: Edge(gap=-0.25)}, "zone.edges.1.gap: -0.25"),
        ({1: Edge(gap=0.5, max_gap=0.25)}, "at least the gap, 0.5"),
    ],
)
def test_an_edge_that_contradicts_the_outline_or_itself_is_refused(
    edges: dict[int, Edge], message: str
) -> None:
    with pytest.raises(InputError, match=message):
        Zone(outline=SQUARE, edges=edges)
