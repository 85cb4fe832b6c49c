"""The wall walk against published traverses, and on rooms."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout.values.errors import InputError
from layout.values.outline import crossing, ring_area
from layout.values.walk import (
    LEFT,
    RIGHT,
    Leg,
    Suspect,
    compass_rule,
    suspects,
    walk_outline,
)

# J. Mahun, Traverse Adjustment, problem 2: azimuth (degrees, minutes, seconds), length in feet,
# latitude, departure, adjusted latitude, departure, azimuth and length, as printed there.
LOOP = (
    ((226, 54, 23), 639.15, -436.662, -466.732, -436.631, -466.761, (226, 54, 36.6), 639.150),
    ((0, 0, 0), 523.69, 523.690, 0.000, 523.715, -0.023, (359, 59, 50.8), 523.715),
    ((235, 2, 29), 409.54, -234.660, -335.645, -234.640, -335.663, (235, 2, 42.5), 409.544),
    ((79, 35, 2), 815.93, 147.517, 802.484, 147.556, 802.447, (79, 34, 50.5), 815.901),
)


def degrees(angle: tuple[float, float, float]) -> float:
    whole, minutes, seconds = angle
    return whole + minutes / 60 + seconds / 3600


def latitude_departure(azimuth_deg: float, length: float) -> tuple[float, float]:
    angle = math.radians(azimuth_deg)
    return length * math.cos(angle), length * math.sin(angle)


STEPS = tuple(latitude_departure(degrees(line[0]), line[1]) for line in LOOP)
SPREAD = compass_rule(STEPS, [line[1] for line in LOOP])


def test_latitudes_and_departures_are_those_printed() -> None:
    printed = [(line[2], line[3]) for line in LOOP]
    assert [(round(a, 3) + 0.0, round(b, 3) + 0.0) for a, b in STEPS] == printed


def test_latitudes_and_departures_sum_up_to_the_misclosure_printed() -> None:
    printed = [(line[2], line[3]) for line in LOOP]
    assert [round(sum(part), 3) for part in zip(*printed, strict=True)] == [-0.115, 0.107]
    lat, dep = (sum(step[i] for step in STEPS) for i in (0, 1))
    assert round(math.hypot(lat, dep), 4) == 0.1577  # printed as 0.157
    assert round(2388.31 / math.hypot(lat, dep)) == 15_146  # printed as 1 in 15,200


def test_the_compass_rule_gives_the_adjusted_latitudes_and_departures_printed() -> None:
    printed = [(line[4], line[5]) for line in LOOP]
    assert [(round(a, 3), round(b, 3)) for a, b in SPREAD] == printed


def test_the_adjusted_azimuths_and_lengths_are_those_printed() -> None:
    for (lat, dep), line in zip(SPREAD, LOOP, strict=True):
        assert round(math.hypot(lat, dep), 3) == line[7]
        azimuth = math.degrees(math.atan2(dep, lat)) % 360
        assert round((azimuth - degrees(line[6])) * 3600, 1) == pytest.approx(0, abs=0.051)


def test_the_same_loop_walked_as_a_room_closes_by_the_same_rule() -> None:
    turns = [
        -((degrees(b[0]) - degrees(a[0]) + 180) % 360 - 180) for a, b in pairwise((*LOOP, LOOP[0]))
    ]
    walk = walk_outline([Leg(length=line[1], turn=t) for line, t in zip(LOOP, turns, strict=True)])
    assert round(walk.gap, 4) == 0.1577
    sides = [math.dist(a, b) for a, b in pairwise((*walk.outline, walk.outline[0]))]
    assert [round(side, 3) for side in sides] == [line[7] for line in LOOP]


def test_a_walk_between_two_known_points_is_adjusted_as_printed() -> None:
    # J. Mahun, Traverse Computations, chapter H, section 3: QR, RS, ST. The last departure is
    # printed as 413.034; from the printed bearings it is 413.035.
    lines = [
        (180 - degrees((56, 23, 38)), 398.75),
        (180 + degrees((75, 17, 42)), 422.89),
        (degrees((43, 5, 47)), 604.49),
    ]
    steps = [latitude_departure(azimuth, length) for azimuth, length in lines]
    spread = compass_rule(steps, [length for _, length in lines], end=(113.301, 336.141))
    assert [round(lat, 3) for lat, _ in spread] == [-220.715, -107.363, 441.379]
    assert [round(dep, 3) for _, dep in spread] == [332.124, -409.017, 413.035]


def test_a_published_chain_of_walls_closes_exactly() -> None:
    # US Navy, NAVEDTRA 14070 (Engineering Aid), figures 7-18 and 7-19: from D round to D.
    north = (591.64, 255.96, -153.53, -694.07)
    east = (-523.62, 125.66, 590.65, -192.69)
    assert (round(sum(north), 2), round(sum(east), 2)) == (0.0, 0.0)
    corners = [(556.30, 150.70)]
    for dn, de in zip(north[:-1], east[:-1], strict=True):
        corners.append((corners[-1][0] + de, corners[-1][1] + dn))
    assert abs(ring_area(corners)) == pytest.approx(323_953.70, abs=0.01)


def square(*lengths: float) -> list[Leg]:
    return [Leg(length=length) for length in lengths]


def test_a_rectangle_walked_to_the_left_closes() -> None:
    walk = walk_outline(square(160, 120, 160, 120))
    assert list(walk.outline) == [(0, 0), (160, 0), (160, 120), (0, 120)]
    assert math.isinf(walk.one_in)


def test_a_rectangle_walked_to_the_right_lies_on_the_other_side() -> None:
    legs = [Leg(length=length, turn="right") for length in (160, 120, 160, 120)]
    assert walk_outline(legs).outline == ((0, 0), (160, 0), (160, -120), (0, -120))


def test_a_small_misclosure_is_spread_over_the_walls() -> None:
    walk = walk_outline(square(160, 120, 160.25, 120))
    assert walk.misclosure == pytest.approx((-0.25, 0))
    assert walk.outline[1] == pytest.approx((160 + 0.25 * 160 / 560.25, 0))


def test_a_last_wall_that_is_sure_keeps_its_length_and_its_way() -> None:
    # Walls of 160, 120 and 160.25 in miss by 0.25 in along x; the last one, 120 in, is sure: the
    # others share the miss by their lengths, 440.25 in together.
    walk = walk_outline(square(160, 120, 160.25, 120), sure_last=True)
    assert list(walk.outline[0]) == [0, 0]
    assert walk.outline[1][0] == pytest.approx(160 + 0.25 * 160 / 440.25)
    assert walk.outline[3] == pytest.approx((0, 120))
    assert walk.misclosure == pytest.approx((-0.25, 0))


def test_one_more_wall_closes_an_open_walk() -> None:
    walk = walk_outline(square(160, 120, 90), close=True)
    assert walk.outline == ((0, 0), (160, 0), (160, 120), (70, 120))


@pytest.mark.parametrize(("legs", "corners"), [("llrlll", 6), ("lrllrlll", 8)])
def test_the_angles_of_a_room_sum_up(legs: str, corners: int) -> None:
    # Interior angles of n corners sum up to (n - 2) x 180 degrees: 720 for 6 corners, 1080 for 8.
    walked = [Leg(length=50, turn={"l": LEFT, "r": RIGHT}[way]) for way in legs]
    assert math.fsum(leg.turn_deg for leg in walked) == 360
    assert sum(180 - leg.turn_deg for leg in walked) == (corners - 2) * 180


def test_a_wall_typed_a_foot_short_is_suspected_with_its_length() -> None:
    ell = [Leg(length=218), Leg(length=113), Leg(length=84, turn=RIGHT), Leg(length=77)]
    ell += [Leg(length=134), Leg(length=178)]
    assert Suspect(leg=5, what="length", instead=190, gap=0) in suspects(ell, within=0.5)


def test_a_turn_typed_to_the_wrong_side_comes_first() -> None:
    ell = [Leg(length=218), Leg(length=113), Leg(length=84), Leg(length=77), Leg(length=134)]
    likeliest = suspects([*ell, Leg(length=190)], within=0.5)[0]
    assert (likeliest.leg, likeliest.what, likeliest.instead) == (2, "turn", RIGHT)


def test_a_walk_that_closes_has_no_suspects() -> None:
    assert suspects(square(160, 120, 160, 120), within=0.5) == ()


def test_a_walk_that_crosses_itself_is_named_by_its_edges() -> None:
    legs = [Leg(length=100), Leg(length=100), Leg(length=50), Leg(length=150)]
    crossed = walk_outline(legs, close=True)
    assert crossing(crossed.outline) == "edges 0 and 3 meet at (50, 0)"


@pytest.mark.parametrize("length", [0, -3, math.nan, math.inf])
def test_a_wall_without_a_length_is_refused(length: float) -> None:
    with pytest.raises(InputError, match="length"):
        Leg(length=length)


@pytest.mark.parametrize("turn", ["back", 180.0, -200.0, math.nan])
def test_a_turn_that_leads_nowhere_is_refused(turn: float | str) -> None:
    with pytest.raises(InputError, match="turn"):
        Leg(length=10, turn=turn)


def test_two_walls_are_no_room() -> None:
    with pytest.raises(InputError, match="walls: 2 walls; accepted: 3 or more"):
        walk_outline(square(10, 10))


@given(
    st.lists(st.integers(min_value=1, max_value=400), min_size=3, max_size=12),
    st.lists(st.floats(min_value=-170, max_value=170), min_size=12, max_size=12),
)
def test_every_walk_closes_once_its_misclosure_is_spread(
    lengths: list[int], turns: list[float]
) -> None:
    legs = [Leg(length=length, turn=t) for length, t in zip(lengths, turns, strict=False)]
    walk = walk_outline(legs)
    moved = max(math.dist(a, b) for a, b in zip(walk.outline, _open(legs), strict=True))
    assert moved <= walk.gap + 1e-6


def _open(legs: list[Leg]) -> list[tuple[float, float]]:
    return list(walk_outline(legs, close=True).outline)[:-1]
