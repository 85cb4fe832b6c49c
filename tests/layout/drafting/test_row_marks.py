"""Row marks: the story stick of a room worked out by hand, a bowed start wall, a judge's eye."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from layout.drafting.row_marks import row_marks_of
from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.rows.frame import Frame
from layout.rows.ground import Ground
from layout.rows.rows import floor_of
from layout.values.material import End, Lay, Side
from layout.values.outline import polygons_of
from layout.values.plan import Plan, RowMarks
from layout.values.plan_form import plan_to_json, read_plan
from layout.values.request import PlanRequest, read_request
from tests.rooms import request

# A kitchen 120 x 56 1/2 in with a cased opening 4 1/2 in deep and an island, gap 1/4 in, boards
# 7 in, the first row ripped to 5 in:
#
#   61     +------+              edge 4, the opening
#   56.5 +-+      +----+         edges 6 and 2, the wall beside it
#   54.25 ---------------        row lines: 1/4 + 5, then every 7
#   47.25 ---------------
#   40.25 ---------------
#   38     |+--------+ |         hole 0, edge 2
#   33.25 -||        |---
#   26.25 -||        |---
#   22     |+--------+ |         hole 0, edge 0
#   19.25 ---------------
#   12.25 ---------------
#    5.25 ---------------
#    0     +-----------+         edge 0, the start wall
#
# From the wall 56 1/2: 56.5 - 54.25 = 2.25, and so on; from the opening 61 - 54.25 = 6.75; from
# the near side of the island 22 - 19.25 = 2.75; from its far side 40.25 - 38 = 2.25.
KITCHEN: list[list[float]] = [
    [0, 0],
    [120, 0],
    [120, 56.5],
    [72, 56.5],
    [72, 61],
    [40, 61],
    [40, 56.5],
    [0, 56.5],
]
ISLAND = {"outline": [[30, 22], [80, 22], [80, 38], [30, 38]], "kind": "cabinet"}
BY_HAND = {
    "edge 0": (5.25, 12.25, 19.25, 26.25, 33.25, 40.25, 47.25, 54.25),
    "edge 2": (2.25, 9.25, 16.25, 23.25, 30.25, 37.25, 44.25, 51.25),
    "edge 4": (6.75, 13.75, 20.75, 27.75, 34.75, 41.75, 48.75, 55.75),
    "edge 6": (2.25, 9.25, 16.25, 23.25, 30.25, 37.25, 44.25, 51.25),
    "hole 0 edge 0": (2.75, 9.75, 16.75),
    "hole 0 edge 2": (2.25, 9.25, 16.25),
}

# A start wall that bows in by 3/4 in at its middle.
BOWED: list[list[float]] = [
    [0, 0],
    [40, 0.5],
    [80, 0.75],
    [120, 0.375],
    [160, 0],
    [160, 70],
    [0, 70],
]


def marks_by_hand(holes: list[Any]) -> dict[str, RowMarks]:
    plan_request = read_request(request(KITCHEN, zone={"holes": holes}))
    ground = Ground.at_gaps(plan_request, Frame(direction_deg=0.0))
    (region,) = polygons_of(ground.region)
    floor = floor_of(region, plan_request.product.board, 5.0)
    return {one.source: one for one in row_marks_of(ground, floor)}


def test_the_story_stick_of_a_kitchen_is_as_worked_by_hand() -> None:
    marks = marks_by_hand([ISLAND])
    assert {source: one.marks for source, one in marks.items()} == BY_HAND
    assert next(iter(marks)) == "edge 0"


def test_a_register_stops_no_row() -> None:
    assert set(marks_by_hand([{**ISLAND, "kind": "register"}])) == set(list(BY_HAND)[:4])


def test_straight_walls_need_no_scribing() -> None:
    assert all(not one.scribe for one in marks_by_hand([ISLAND]).values())


def planned(**changes: Any) -> tuple[PlanRequest, Plan]:
    plan_request = read_request(request(BOWED, effort_iterations=5, **changes))
    return plan_request, plan_floor(plan_request)


def test_a_bowed_start_wall_is_scribed_at_its_corners() -> None:
    start, _ = planned()[1].row_marks
    assert start.source == "edge 0"
    assert start.scribe == ((0, 0), (40, 0.5), (80, 0.75), (120, 0.375), (160, 0))


def test_stations_are_counted_from_the_end_where_rows_begin() -> None:
    start, _ = planned(lay={"first_end": "right"})[1].row_marks
    assert start.scribe == ((0, 0), (40, 0.375), (80, 0.75), (120, 0.5), (160, 0))


def test_the_start_wall_is_the_high_one_where_rows_start_there() -> None:
    first, second = planned(lay={"start": "high"})[1].row_marks
    assert (first.source, first.scribe) == ("edge 5", ())
    assert max(offset for _, offset in second.scribe) == 0.75


def test_mark_less_offset_less_gap_is_what_row_one_keeps_there() -> None:
    plan_request, plan = planned()
    mark, gap = plan.row_marks[0].marks[0], plan_request.rules.expansion_gap
    row = unary_union([Polygon(piece.outline) for piece in plan.pieces if piece.row == 1])
    for along, offset in plan.row_marks[0].scribe[1:-1]:
        across = row.intersection(LineString([(along, -9), (along, 99)])).length
        assert across == pytest.approx(mark - offset - gap, abs=0.01)


def test_a_wall_out_of_square_is_scribed_at_both_ends() -> None:
    outline: list[list[float]] = [[0, 0], [100, 0.5], [100, 50], [0, 50]]
    marks = plan_floor(read_request(request(outline, effort_iterations=5))).row_marks
    assert marks[0].scribe == ((0, 0), (100, 0.5))


def test_scribe_offsets_survive_the_form() -> None:
    marks = (RowMarks(source="edge 0", marks=(7.25,), scribe=((0, 0), (40, 0.5))),)
    data = plan_to_json(replace(planned()[1], row_marks=marks))
    assert data["row_marks"] == [{"from": "edge 0", "marks": [7.25], "scribe": [[0, 0], [40, 0.5]]}]
    assert read_plan(data).row_marks == marks


HANDS = [Lay(start=start, first_end=end) for start in Side for end in End]


@pytest.mark.parametrize("lay", HANDS)
@pytest.mark.parametrize("direction", [0, 90])
def test_the_judge_finds_the_same_marks(lay: Lay, direction: float) -> None:
    plan_request = read_request(
        request(
            BOWED,
            zone={"holes": [{"outline": [[60, 30], [90, 30.5], [90, 50], [60, 50]]}]},
            rules={"direction_deg": direction},
            lay={"start": lay.start.value, "first_end": lay.first_end.value},
            effort_iterations=2,
        )
    )
    assert [
        f for f in check_plan(plan_request, plan_floor(plan_request)) if f.rule == "row_marks"
    ] == []


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"marks": (7.25, 14.25)}, "its marks are not the row lines"),
        ({"scribe": ((0, 0), (40, 0.25), (160, 0))}, "its scribe offsets are not those"),
        ({"scribe": ()}, "its scribe offsets are not those"),
        ({"source": "edge 4"}, "it names no edge that rows stop at"),
        ({"source": "edge 99"}, "it names no edge that rows stop at"),
        ({"source": "hole 0 edge 0"}, "it names no edge that rows stop at"),
        ({"source": "the window"}, "it names no edge that rows stop at"),
    ],
)
def test_the_judge_refuses_marks_that_are_wrong(change: dict[str, Any], words: str) -> None:
    plan_request, plan = planned()
    start, *others = plan.row_marks
    changed = replace(plan, row_marks=(replace(start, **change), *others))
    (fault,) = check_plan(plan_request, changed)
    assert (fault.rule, words in fault.text) == ("row_marks", True)
