"""Last pieces on strips: to the wall, less its gap, is the cut; limits, and the way out."""

from __future__ import annotations

import re
from typing import Any

import pytest

from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.strips.rows import floor_strips, spares_of
from layout.cutsheet.strips.values import FloorStrips, WallPiece
from layout.planner.plan_floor import plan_floor
from layout.values.request import PlanRequest, read_request
from tests.rooms import request

APART = r"stop, joints \S+ apart"


def strips(data: dict[str, Any]) -> FloorStrips:
    plan_request: PlanRequest = read_request(data)
    plan = plan_floor(plan_request)
    return floor_strips(plan_request, plan, cut_sheet(plan_request, plan))


def room(**changes: Any) -> dict[str, Any]:
    # 161 in between walls: three planks of 48 and a last piece of 16 1/2 leave two gaps of 1/4.
    return request([[0, 0], [161, 0], [161, 60], [0, 60]], **changes)


def walls(floor: FloorStrips, *, across: bool = False) -> list[WallPiece]:
    """All boxes at the ends of rows; ``across``: those of the last row's width."""
    return [wall for row in floor.rows for wall in row.walls if (wall.kind == "rip") == across]


def eighths(text: str) -> float:
    glyphs = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
    return float(text.rstrip("".join(glyphs)) or 0) + glyphs.get(text[-1], 0.0)


def test_to_the_wall_less_the_gap_is_the_cut() -> None:
    floor = strips(room())
    assert walls(floor)
    for row in floor.rows:
        for wall in row.walls:
            if wall.kind == "rip":
                continue
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
    assert {wall.stop for wall in walls(strips(room(zone={"edges": edges})))} == {"end line"}


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


def test_past_a_whole_plank_the_row_is_begun_shorter_so_that_a_new_one_ends_it() -> None:
    floor = strips(room(spares=9))
    firsts = {row.row: min(row.pieces, key=lambda piece: piece.span) for row in floor.rows}
    ends = [wall for wall in walls(floor) if wall.limits.endswith(" to 48")]
    ways = [(wall, re.fullmatch(r"row up, cut (\d+)-1 to (.+)", wall.over)) for wall in ends]
    assert any(way for _, way in ways)
    for wall, way in ways:
        if way is None:
            assert re.fullmatch(rf"row up, \d+-1 new to .+|{APART}", wall.over)
            continue
        low, high = firsts[int(way[1])].span
        assert wall.id.startswith(f"{way[1]}-")
        assert 8 <= eighths(way[2]) <= high - low - 8  # both keep the least length


def test_limits_without_slack_still_name_a_way_out() -> None:
    floor = strips(request([[0, 0], [150, 0], [150, 130], [0, 130]], spares=9))
    for wall in walls(floor):
        assert wall.over
        assert not wall.over.startswith("stop, no spare")


_AT_THE_DOOR: list[list[float]] = [[254, 8], [256.25, 8], [256.25, 38], [254, 38]]
HALL: list[list[float]] = [[0, 0], [254, 0], *_AT_THE_DOOR, [254, 46.25], [0, 46.25]]


def hall() -> FloorStrips:
    """A hall 254 x 46 1/4 whose far end has a doorway: its line lies 2 1/4 past the wall's face."""
    return strips(hall_request())


def hall_request() -> dict[str, Any]:
    """The request of the hall."""
    return request(HALL, spares=4, zone={"edges": {"3": {"kind": "transition"}}})


def test_every_row_has_a_box_at_its_end() -> None:
    for floor in (strips(room(spares=9)), hall()):
        for row in floor.rows:
            last = max(row.pieces, key=lambda piece: piece.span[1])
            assert last.id in {wall.id for wall in row.walls if not wall.part}, row.row


def test_a_row_that_ends_in_a_whole_plank_expects_it_and_its_gap() -> None:
    # 193 in between walls: rows that begin whole end whole, 4 x 48 = 192 and two gaps leave 1/2.
    floor = strips(request([[0, 0], [192.5, 0], [192.5, 60], [0, 60]], spares=9))
    whole = [wall for wall in walls(floor) if wall.kind == "expect"]
    assert whole
    assert {(wall.to_wall, wall.gap, wall.cut) for wall in whole} == {("48¼", "¼", "48")}
    # A gap of 3/8 is still hidden by baseboard: up to 48 1/8 the plank just stays.
    assert {wall.limits for wall in whole} == {"8 to 48⅛"}


def test_a_whole_plank_stays_up_to_what_its_cover_hides() -> None:
    edges = {"1": {"gap": 0.25, "max_gap": 0.5, "kind": "wall"}}
    ring: list[list[float]] = [[0, 0], [192.5, 0], [192.5, 60], [0, 60]]
    floor = strips(request(ring, spares=9, zone={"edges": edges}))
    whole = [wall for wall in walls(floor) if wall.kind == "expect" and wall.cut == "48"]
    assert whole
    for wall in whole:
        assert eighths(wall.limits.rpartition(" ")[2]) == 48 + 0.5 - eighths(wall.gap)


def test_a_notch_at_the_end_is_measured_to_its_own_wall() -> None:
    # The wall's face stands 2 1/4 nearer than the line: 48 to the line, 45 3/4 in the notch.
    notches = {wall.id: wall for wall in walls(hall()) if wall.part == "from left end"}
    ends = {wall.id: wall for wall in walls(hall()) if not wall.part}
    assert len(notches) == 2
    for name, notch in notches.items():
        assert eighths(ends[name].to_wall) - eighths(notch.to_wall) == pytest.approx(2.25)
        assert (ends[name].stop, notch.stop, notch.gap) == ("end line", "wall", "¼")


def test_the_last_row_is_measured_across_less_its_gap() -> None:
    # Row 7 of the hall: 46 is its far edge, 40 1/2 that of row 6, the wall stands at 46 1/4.
    (across,) = walls(hall(), across=True)
    assert (across.id, across.to_wall, across.gap, across.cut) == ("row 7", "5¾", "¼", "5½")


def test_the_line_lies_so_far_past_the_face_of_the_wall() -> None:
    (line,) = hall().lines
    assert line.words == (
        "The end line: 2¼ past the face of the wall beside it; the floor stops ¼ short of it, at 2."
    )
    assert strips(room()).lines == ()


def test_a_last_piece_that_may_come_out_too_short_says_how_the_row_is_begun() -> None:
    # Rows that end in 8 in, the least: their first piece is cut shorter where joints allow it.
    floor = strips(request([[0, 0], [152.5, 0], [152.5, 60], [0, 60]], spares=9))
    short = [wall for wall in walls(floor) if eighths(wall.cut) < 9]
    assert short
    ways = [
        re.fullmatch(r"under 8: row up, cut (\d+)-1 to (.+), lay again", wall.under)
        for wall in short
    ]
    assert any(ways)
    for wall, way in zip(short, ways, strict=True):
        if way is None:
            assert re.fullmatch(
                rf"under 8: (row up, \d+-1 new to .+, no {wall.id}|{APART})", wall.under
            )
        else:
            assert wall.id.startswith(f"{way[1]}-")
            assert 8 <= eighths(way[2]) <= 47  # an inch goes at least, for a wall an inch nearer
    assert {wall.under for wall in walls(floor) if eighths(wall.cut) >= 9} == {""}


def test_rips_that_are_last_on_each_piece_are_told_once() -> None:
    ring: list[list[float]] = [[0, 0], [128, 0], [128, 46.5], [90, 46.5]]
    ring += [[90, 51], [60, 51], [60, 46.5], [0, 46.5]]
    last = strips(request(ring, spares=4)).rows[-1]
    assert last.rip_last
    numbers = sorted(c.n for p in last.pieces for c in p.cuts if c.kind != "rip" and c.n)
    assert numbers == [1, 2]
