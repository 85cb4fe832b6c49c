"""The ground of a plan: the region in the working frame, and what stands in it."""

from __future__ import annotations

from dataclasses import replace

from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.values.outline import Hole, HoleKind, Ring, Zone
from layout.values.request import read_request
from tests.rooms import request

REGISTER: Ring = ((40, 30), (50, 30), (50, 34), (40, 34))
POST: Ring = ((70, 30), (76, 30), (76, 36), (70, 36))
DOORWAY: Ring = ((0, 20), (6, 20), (6, 50), (0, 50))


def ground(direction_deg: float = 0) -> Ground:
    corners = [[0, 0], [100, 0], [100, 80], [0, 80]]
    holes = (Hole(ring=REGISTER, kind=HoleKind.REGISTER), Hole(ring=POST))
    made = read_request(request(corners))
    zone = Zone(outline=made.zone.outline, holes=holes, no_joints=(DOORWAY,))
    return Ground.at_gaps(replace(made, zone=zone), Frame(direction_deg=direction_deg))


def test_a_ground_ends_at_the_gaps_of_its_walls() -> None:
    assert ground().region.bounds == (0.25, 0.25, 99.75, 79.75)


def test_rows_up_the_plan_turn_the_region() -> None:
    left, low, right, high = ground(90).region.bounds
    assert (right - left, high - low) == (79.5, 99.5)


def test_only_a_register_may_be_enclosed_by_a_piece() -> None:
    assert [shape.bounds for shape in ground().registers] == [(40, 30, 50, 34)]


def test_a_doorway_turns_with_its_ground() -> None:
    (doorway,) = ground(90).doorways
    left, low, right, high = doorway.bounds
    assert (right - left, high - low) == (30, 6)
