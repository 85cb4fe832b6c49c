"""Which way a lead would lay twenty rooms and suites; written before the code that proposes it.

Common practice, no source: down a hall rather than across it, else along the longest wall.
"""

from __future__ import annotations

import pytest

from layout.planner.proposal import crosswise_halls, halls_of, proposed_direction
from layout.values.outline import Zone
from layout.values.units import INCH

Corners = list[tuple[float, float]]


def box(x: float, y: float, width: float, height: float) -> Corners:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


# Down the hall: 0 runs along x, 90 along y.
ROOMS: dict[str, tuple[Corners, float]] = {
    "a den longer across": (box(0, 0, 180, 120), 0),
    "a den longer up": (box(0, 0, 120, 180), 90),
    "a hall of 46 in": (box(0, 0, 46, 230), 90),
    "a hall of 42 in the other way": (box(0, 0, 160, 42), 0),
    "a wide hall of 5 ft is a room": (box(0, 0, 60, 200), 90),
    "a closet": (box(0, 0, 24, 60), 90),
    "a square bedroom": (box(0, 0, 144, 144), 0),
    "an ell with its long wall across": (
        [(0, 0), (240, 0), (240, 90), (120, 90), (120, 150), (0, 150)],
        0,
    ),
    "an ell with its long wall up": (
        [(0, 0), (100, 0), (100, 120), (160, 120), (160, 260), (0, 260)],
        90,
    ),
    "a den with a hall off its corner": (
        [(0, 0), (180, 0), (180, 120), (42, 120), (42, 260), (0, 260)],
        90,
    ),
    "a den with a hall to the right": (
        [(0, 0), (110, 0), (110, 40), (300, 40), (300, 82), (110, 82), (110, 190), (0, 190)],
        0,
    ),
    "two rooms off a hall across": (
        [
            (0, 0),
            (240, 0),
            (240, 44),
            (190, 44),
            (190, 48),
            (240, 48),
            (240, 170),
            (124, 170),
            (124, 48),
            (158, 48),
            (158, 44),
            (80, 44),
            (80, 48),
            (120, 48),
            (120, 170),
            (0, 170),
            (0, 48),
            (48, 48),
            (48, 44),
            (0, 44),
        ],
        0,
    ),
    "a tee of two halls, the longer one up": (
        [(0, 260), (0, 220), (58, 220), (58, 0), (98, 0), (98, 220), (156, 220), (156, 260)],
        90,
    ),
    "a doorway is no hall": (
        [
            (0, 0),
            (120, 0),
            (120, 50),
            (124.5, 50),
            (124.5, 0),
            (240, 0),
            (240, 110),
            (124.5, 110),
            (124.5, 82),
            (120, 82),
            (120, 110),
            (0, 110),
        ],
        0,
    ),
    "a bay": (
        [(0, 0), (200, 0), (200, 130), (170, 130), (150, 155), (50, 155), (30, 130), (0, 130)],
        0,
    ),
    "a kitchen along its counter": (box(0, 0, 102, 168), 90),
    "a room with a clipped corner": (
        [(0, 0), (210, 0), (210, 90), (160, 140), (0, 140)],
        0,
    ),
    "a turned hall": ([(0, 0), (120, 120), (92, 148), (-28, 28)], 45),
    "a turned den": ([(0, 0), (150, 150), (70, 230), (-80, 80)], 45),
    "a long room with a short passage": (
        [(0, 0), (260, 0), (260, 140), (150, 140), (150, 180), (110, 180), (110, 140), (0, 140)],
        0,
    ),
}


def zone_of(name: str) -> Zone:
    return Zone(outline=tuple(ROOMS[name][0]))


@pytest.mark.parametrize("name", ROOMS)
def test_the_direction_proposed_is_what_a_lead_would_choose(name: str) -> None:
    assert proposed_direction(zone_of(name), "in") == pytest.approx(ROOMS[name][1], abs=0.2)


def test_there_are_twenty_rooms() -> None:
    assert len(ROOMS) == 20


def test_a_hall_is_as_wide_as_it_is_measured() -> None:
    (hall,) = halls_of(zone_of("a den with a hall off its corner"), "in")
    assert hall.width == pytest.approx(42, abs=0.01)
    assert hall.direction_deg == 90
    assert hall.length == pytest.approx(140, abs=31)  # its end in the den is rounded off


def test_rows_across_a_hall_are_noticed_and_rows_down_it_are_not() -> None:
    hall = zone_of("a hall of 46 in")
    assert [one.width for one in crosswise_halls(hall, "in", 0)] == [pytest.approx(46)]
    assert crosswise_halls(hall, "in", 90) == ()


def test_a_hall_in_millimeters_is_told_by_the_same_width() -> None:
    corners = tuple((x * INCH["mm"], y * INCH["mm"]) for x, y in ROOMS["a hall of 46 in"][0])
    assert [one.width for one in halls_of(Zone(outline=corners), "mm")] == [pytest.approx(1168.4)]
