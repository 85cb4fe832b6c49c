"""Outlines and the direction frame, against published areas."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout.values.errors import InputError
from layout.values.outline import (
    Edge,
    Hole,
    Point,
    Ring,
    Zone,
    crossing,
    from_frame,
    region_to_frame,
    ring_area,
    to_frame,
    wound,
)
from layout.values.regions import laying_region

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
