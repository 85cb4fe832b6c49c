"""Last pieces on strips: to the wall, less its gap, is the cut; limits, and the way out."""

from __future__ import annotations

from typing import Any

import pytest

from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.strips.rows import floor_strips, spares_of
from layout.cutsheet.strips.values import FloorStrips, WallPiece
from layout.planner.plan_floor import plan_floor
from layout.values.request import PlanRequest, read_request
from tests.rooms import request


def strips(data: dict[str, Any]) -> FloorStrips:
    plan_request: PlanRequest = read_request(data)
    plan = plan_floor(plan_request)
    return floor_strips(plan_request, plan, cut_sheet(plan_request, plan))


def room(**changes: Any) -> dict[str, Any]:
    # 161 in between walls: three planks of 48 and a last piece of 16 1/2 leave two gaps of 1/4.
    return request([[0, 0], [161, 0], [161, 60], [0, 60]], **changes)


def walls(floor: FloorStrips) -> list[WallPiece]:
    return [wall for row in floor.rows for wall in row.walls]


def eighths(text: str) -> float:
    glyphs = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
    return float(text.rstrip("".join(glyphs)) or 0) + glyphs.get(text[-1], 0.0)


def test_to_the_wall_less_the_gap_is_the_cut() -> None:
    floor = strips(room())
    assert walls(floor)
    for row in floor.rows:
        for wall in row.walls:
            piece = next(piece for piece in row.pieces if piece.id == wall.id)
            begins = piece.span[0]  # from the first end of the floor, 1/4 in off the wall
            assert eighths(wall.to_wall) == pytest.approx(161 - 0.25 - begins)
            assert wall.gap == "¼"
            assert eighths(wall.cut) == pytest.approx(161 - 0.5 - begins)


def test_a_wall_with_its_own_gap_takes_its_own_gap_off() -> None:
    edges = {"1": {"gap": 0.5, "max_gap": 0.75, "kind": "wall"}}
    floor = strips(room(zone={"edges": edges}))
    assert {wall.gap for wall in walls(floor)} == {"½"}
    for wall in walls(floor):
        assert eighths(wall.to_wall) - eighths(wall.cut) == 0.5


def test_a_row_that_ends_at_a_strip_says_so() -> None:
    edges = {"1": {"gap": 0.25, "kind": "transition"}}
    assert {wall.stop for wall in walls(strips(room(zone={"edges": edges})))} == {"line"}


def test_a_row_that_ends_at_a_post_is_measured_to_the_post() -> None:
    post = {"outline": [[80, 20], [96, 20], [96, 41], [80, 41]], "kind": "post"}
    floor = strips(room(zone={"holes": [post]}))
    assert "post" in {wall.stop for wall in walls(floor)}


def test_past_a_limit_set_by_a_later_piece_that_piece_comes_from_a_new_plank() -> None:
    floor = strips(room(spares=9))
    pieces = {piece.id: piece for row in floor.rows for piece in row.pieces}
    over = {wall.id: wall.over for wall in walls(floor)}
    leaving = [name for name, piece in pieces.items() if piece.rests and name in over]
    assert leaving
    for name in leaving:
        later = pieces[name].rests[0].name
        assert over[name] in (f"cut it, {later} new", "a new plank") or later in over[name]


def test_without_a_spare_plank_the_only_way_out_is_to_stop() -> None:
    floor = strips(room(spares=0, product={"length": 48, "width": 7, "per_carton": 1}))
    assert floor.spares == 0
    assert {wall.over for wall in walls(floor)} == {"stop, no spare"}


def test_spares_are_what_cartons_hold_beyond_the_planks_of_the_plan() -> None:
    plan_request = read_request(room(spares=5))
    plan = plan_floor(plan_request)
    left = 10 * plan.totals.cartons - plan.totals.planks
    assert left >= 5
    assert spares_of(plan_request, plan) == {7: left}


def test_past_a_whole_plank_the_piece_is_cut_shorter_and_a_new_one_ends_the_row() -> None:
    floor = strips(room(spares=9))
    ends = [wall.over for wall in walls(floor) if wall.limits.endswith(" to 48")]
    assert ends
    for over in ends:
        assert over.startswith("cut it ")
        long = float(over.split()[2].rstrip(","))
        assert 8 <= long <= 40  # both pieces keep the least length, 8 in of a plank of 48


def test_limits_without_slack_still_name_a_way_out() -> None:
    floor = strips(request([[0, 0], [150, 0], [150, 130], [0, 130]], spares=9))
    for wall in walls(floor):
        assert wall.over
        assert not wall.over.startswith("stop, no spare")
