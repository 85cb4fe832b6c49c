"""Where to start: what each start leaves trapped, and the proposal."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.values.advice import StartChoice
from layout.values.errors import InputError, NotYetError
from layout.values.material import Lay, Side
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

ROOM = [[0, 0], [150, 0], [150, 61], [0, 61]]
HALL = [[0, 0], [40, 0], [40, 120], [0, 120]]
ELL = [[0, 0], [150, 0], [150, 60], [90, 60], [90, 118], [0, 118]]
# Two rooms through a doorway with casings: edges 3 and 9 its sides.
DOORWAY = [
    [0, 0], [120, 0], [120, 60], [90, 60], [90, 66], [120, 66],
    [120, 130], [0, 130], [0, 66], [58, 66], [58, 60], [0, 60],
]  # fmt: skip
JAMB = [[0, 0], [150, 0], [150, 61], [0, 61], [0, 24], [4, 24], [4, 18], [0, 18]]

FLOORS: dict[str, tuple[Any, dict[str, str]]] = {
    "toe kick along the last row": (ROOM, {"2": "toe kick"}),
    "toe kick along the first row": (ROOM, {"0": "toe kick"}),
    "radiator here, cased opening there": (ROOM, {"0": "radiator", "2": "casing"}),
    "casings on both sides of a hall": (HALL, {"1": "casing", "3": "casing"}),
    "radiator in a hall with a casing": (HALL, {"1": "casing", "2": "radiator"}),
    "casing where rows end": (ROOM, {"1": "casing"}),
    "ell with toe kicks": (ELL, {"2": "toe kick", "4": "toe kick", "0": "radiator"}),
    "cased doorway": (DOORWAY, {"3": "casing", "9": "casing"}),
    "doorway with a radiator": (DOORWAY, {"3": "casing", "9": "casing", "6": "radiator"}),
    "jamb": (JAMB, {"4": "casing", "5": "casing", "6": "casing"}),
}
LOCKS = ["angle-angle", "angle-drop", "tap"]


def request_of(name: str, lock: str | None, lay: dict[str, Any] | None = None) -> PlanRequest:
    outline, kinds = FLOORS[name]
    edges = {index: {"kind": kind} for index, kind in kinds.items()}
    product = {**rooms.PLANK, "lock": lock, "backward": True}
    form = rooms.request(outline, zone={"edges": edges}, product=product, lay=lay or {})
    return read_request({**form, "effort_iterations": 12})


@cache
def judged(request_key: tuple[str, str | None, str]) -> Plan:
    name, lock, start = request_key
    request = request_of(name, lock, {"start": start})
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


def trapped(plan: Plan) -> int:
    return sum(piece.trapped for piece in plan.pieces)


def counted(plan: Plan, start: Side) -> int:
    return next(choice.trapped for choice in plan.starts if choice.start is start)


@pytest.mark.parametrize("lock", LOCKS)
@pytest.mark.parametrize("name", FLOORS)
def test_the_proposed_start_leaves_no_more_trapped_than_any_other(name: str, lock: str) -> None:
    counted = {side: trapped(judged((name, lock, side.value))) for side in Side}
    plan = judged((name, lock, "low"))
    proposed = min((c for c in plan.starts if c.start), key=lambda choice: choice.trapped)
    assert proposed.start is not None
    assert counted[proposed.start] == min(counted.values())


@pytest.mark.parametrize("lock", LOCKS)
@pytest.mark.parametrize("name", FLOORS)
def test_what_a_start_says_is_what_planning_from_it_gives(name: str, lock: str) -> None:
    low, high = (judged((name, lock, side.value)) for side in Side)
    assert (low.starts[0].start, low.starts[0].trapped) == (Side.LOW, trapped(low))
    if trapped(low):
        assert counted(low, Side.HIGH) == trapped(high)


@pytest.mark.parametrize("name", ["radiator here, cased opening there", "cased doorway", "jamb"])
def test_what_a_control_row_says_is_what_planning_from_it_gives(name: str) -> None:
    plan = judged((name, "angle-angle", "low"))
    choice = next(choice for choice in plan.starts if choice.control_row)
    request = request_of(name, "angle-angle", {"control_row": choice.control_row})
    there = plan_floor(request)
    assert check_plan(request, there) == ()
    assert trapped(there) == choice.trapped


def test_a_control_row_in_a_cased_doorway_leaves_fewer_trapped_than_either_side() -> None:
    low, high, control = judged(("cased doorway", "angle-drop", "low")).starts
    assert control.control_row
    assert control.trapped < min(low.trapped, high.trapped)


def test_a_better_start_is_proposed_in_words() -> None:
    (proposal,) = judged(("toe kick along the last row", "tap", "low")).warnings
    assert proposal.text == (
        "Started from the low side, 4 pieces are trapped; from the high side, no piece is."
    )


def test_the_start_of_the_plan_is_kept_in_a_tie() -> None:
    plan = judged(("casings on both sides of a hall", "tap", "low"))
    assert counted(plan, Side.LOW) == counted(plan, Side.HIGH)
    assert not any(warning.rule == "start" for warning in plan.warnings)


def test_where_nothing_overhangs_the_floor_no_start_is_listed() -> None:
    form = rooms.request(ROOM, effort_iterations=1)
    assert plan_floor(read_request(form)).starts == ()


def test_a_control_row_is_listed_only_where_rows_may_go_both_ways() -> None:
    request = request_of("toe kick along the last row", "tap")
    one_way = replace(request, product=replace(request.product, backward=False))
    starts = plan_floor(one_way).starts
    assert [choice.start for choice in starts] == [Side.LOW, Side.HIGH]


def test_each_direction_carries_the_trapped_pieces_of_a_plan_in_it() -> None:
    request = request_of("toe kick along the last row", "angle-drop")
    best = plan_floor(replace(request, rules=replace(request.rules, direction_deg=None)))
    (other,) = best.directions
    iterations = 6  # half of what both directions have
    there = replace(
        request,
        rules=replace(request.rules, direction_deg=other.direction_deg),
        effort_iterations=iterations,
    )
    assert other.trapped == trapped(plan_floor(there))


def test_rows_are_laid_from_the_control_row_on_and_then_back() -> None:
    request = request_of("toe kick along the first row", "tap", {"control_row": 4})
    rows = list(dict.fromkeys(piece.row for piece in plan_floor(request).pieces))
    assert rows == [4, 5, 6, 7, 8, 9, 3, 2, 1]


def test_row_one_as_control_row_is_the_start_wall() -> None:
    request = request_of("toe kick along the last row", "tap", {"control_row": 1})
    plain = judged(("toe kick along the last row", "tap", "low"))
    assert plan_floor(request).pieces == plain.pieces


def test_a_control_row_beyond_the_last_row_is_refused() -> None:
    request = request_of("toe kick along the last row", "tap", {"control_row": 10})
    with pytest.raises(InputError, match=r"lay\.control_row: 10 can't be used; accepted: 1 to 9"):
        plan_floor(request)


def test_a_control_row_with_a_product_laid_one_way_is_refused() -> None:
    form = rooms.request(ROOM, lay={"control_row": 4})
    with pytest.raises(InputError, match=r"lay\.control_row: 4 .*none, or .*product\.backward"):
        read_request(form)


@pytest.mark.parametrize(
    ("row", "text"), [(0, "0 can't be used; accepted: 1 or more"), (2.5, "a whole number")]
)
def test_a_control_row_that_is_no_row_is_refused(row: float, text: str) -> None:
    with pytest.raises(InputError, match=rf"lay\.control_row: .*{text}"):
        read_request(rooms.request(ROOM, lay={"control_row": row}))


def test_a_control_row_with_walls_that_may_stand_off_is_not_planned_yet() -> None:
    request = request_of("toe kick along the last row", "tap", {"control_row": 4})
    rules = replace(request.rules, wall_error=0.5)
    with pytest.raises(NotYetError, match=r"rules\.wall_error: 0\.5 .*0 where rows go both ways"):
        plan_floor(replace(request, rules=rules))


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"product": {**rooms.PLANK, "lock": "snap"}}, r"product\.lock: 'snap' .*\"angle-angle\""),
        ({"product": {**rooms.PLANK, "backward": 1}}, r"product\.backward: 1 .*true or false"),
        (
            {"zone": {"outline": ROOM, "edges": {"2": {"kind": "heater"}}}},
            r"zone\.edges\.2\.kind: 'heater' .*\"radiator\" or \"slider\"",
        ),
    ],
)
def test_what_does_not_exist_is_refused(change: dict[str, Any], text: str) -> None:
    with pytest.raises(InputError, match=text):
        read_request({**rooms.request(ROOM), **change})


def test_a_start_has_words() -> None:
    starts = [StartChoice(start=Side.HIGH, trapped=0), StartChoice(control_row=7, trapped=0)]
    assert [choice.words for choice in starts] == ["the high side", "row 7, both ways"]


def test_hands_know_the_turn_of_a_row_and_where_its_person_kneels() -> None:
    lay = Lay(control_row=3)
    assert sorted(range(1, 6), key=lay.turn) == [3, 4, 5, 2, 1]
    assert [lay.behind(row) for row in (2, 3)] == [Side.HIGH, Side.LOW]
