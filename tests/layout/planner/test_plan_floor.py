"""The planner: plans that the judge finds right, whatever the room, and that say what they are."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from layout.judge.check import check_plan
from layout.planner.effort import Progress
from layout.planner.plan_floor import plan_floor
from layout.values.errors import LayoutError, NoPlanError
from layout.values.plan import Plan
from layout.values.plan_form import plan_text
from layout.values.request import PlanRequest, read_request
from tests import rooms


def request(outline: Sequence[Sequence[float]], **changes: Any) -> PlanRequest:
    return read_request(rooms.request(outline, **{"effort_iterations": 40, **changes}))


def rectangle(width: float, height: float, **changes: Any) -> PlanRequest:
    return request([[0, 0], [width, 0], [width, height], [0, height]], **changes)


def judged(request: PlanRequest) -> Plan:
    """Return the plan of a request after the judge has found nothing wrong with it."""
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    return plan


@pytest.mark.parametrize("name", sorted(rooms.ROOMS))
def test_every_named_room_is_planned_without_a_fault(name: str) -> None:
    form = {**rooms.ROOMS[name](), "effort_iterations": 60}
    judged(read_request(form))


@pytest.mark.parametrize("start", ["low", "high"])
@pytest.mark.parametrize("first_end", ["left", "right"])
@pytest.mark.parametrize("direction", [0, 30, 45, 90])
def test_every_hand_and_direction_is_planned_without_a_fault(
    start: str, first_end: str, direction: float
) -> None:
    ell = [[0, 0], [120, 0], [120, 50], [70, 50], [70, 90], [0, 90]]
    lay = {"start": start, "first_end": first_end}
    judged(request(ell, lay=lay, rules={"direction_deg": direction}))


@pytest.mark.parametrize("stagger", ["half", "third"])
def test_fixed_steps_are_kept(stagger: str) -> None:
    judged(rectangle(180, 90, rules={"stagger": stagger}))


def test_walls_that_stand_off_break_no_rule() -> None:
    judged(rectangle(161, 100, rules={"wall_error": 0.5}))


@pytest.mark.parametrize("limit", [0, 1, 3])
def test_the_rack_is_never_fuller_than_allowed(limit: int) -> None:
    plan = judged(rectangle(161, 128.5, rules={"max_rack": limit}))
    assert plan.totals.rack_max <= limit


def test_no_end_joint_falls_in_a_doorway() -> None:
    doorway = [[[60, -1], [84, -1], [84, 30], [60, 30]]]
    plan = judged(rectangle(161, 60, zone={"no_joints": doorway}))
    assert not plan.warnings


def test_joints_that_a_doorway_leaves_two_places_take_them_in_turns() -> None:
    doorway = [[[70, -1], [110, -1], [110, 80], [70, 80]]]
    plan = judged(rectangle(180, 79.5, zone={"no_joints": doorway}))
    assert not plan.warnings


def test_no_piece_encloses_a_post() -> None:
    post = [[[70, 30], [76, 30], [76, 36], [70, 36]]]
    judged(rectangle(161, 100, zone={"holes": post}))


def test_two_posts_that_no_joint_can_both_pass_are_split_and_warned_of() -> None:
    posts = [[[40, 12], [42, 12], [42, 14], [40, 14]], [[60, 12], [62, 12], [62, 14], [60, 14]]]
    plan = judged(rectangle(161, 35.5, zone={"holes": posts}))
    assert any(piece.split for piece in plan.pieces) or not plan.warnings


def test_a_register_may_be_cut_out_of_a_piece() -> None:
    register = {"outline": [[70, 9], [71.25, 9], [71.25, 12], [70, 12]], "kind": "register"}
    plan = judged(rectangle(161, 35.5, zone={"holes": [register]}))
    assert any(piece.holes for piece in plan.pieces)


def test_a_room_shorter_than_a_board_reuses_leftovers_without_factory_ends() -> None:
    plan = judged(rectangle(20.5, 49.5))
    assert plan.totals.planks == 4  # seven pieces of 20 in, two to a board


def test_a_sliver_that_the_shape_forces_is_warned_of() -> None:
    request = rectangle(100, 1.9 + 0.5)
    assert [warning.rule for warning in judged(request).warnings] == ["min_row_width"]


def test_a_room_that_the_gaps_use_up_has_no_plan() -> None:
    with pytest.raises(NoPlanError):
        plan_floor(rectangle(100, 0.4))


def test_a_row_just_over_two_boards_takes_what_the_bound_proves() -> None:
    plan = judged(rectangle(98.5, 127, effort_iterations=400))
    assert (plan.status, plan.totals.planks) == ("proven", 40)


def test_the_same_request_gives_the_same_bytes() -> None:
    request = rectangle(131, 90)
    assert plan_text(plan_floor(request)) == plan_text(plan_floor(request))


def test_a_moved_room_takes_the_same_plan() -> None:
    here = plan_floor(rectangle(131, 90))
    there = plan_floor(request([[500, 40], [631, 40], [631, 130], [500, 130]]))
    assert there.totals == here.totals


def test_a_mirrored_room_laid_with_the_other_hand_takes_the_same_planks() -> None:
    ell = [[0, 0], [120, 0], [120, 50], [70, 50], [70, 90], [0, 90]]
    mirrored = [[-x, y] for x, y in ell]
    here = plan_floor(request(ell))
    there = plan_floor(request(mirrored, lay={"first_end": "right"}))
    assert there.totals.planks == here.totals.planks


def test_a_wider_gap_under_the_base_saves_a_row() -> None:
    # 35.3 across is five rows and a sliver: a gap of 0.55 at the far wall leaves five rows.
    edges = {"2": {"max_gap": 0.75}}
    plan = judged(rectangle(161, 35.8, zone={"edges": edges}))
    assert max(piece.row for piece in plan.pieces) == 5
    assert plan.totals.rips == 0


def test_a_casing_hides_no_wider_gap() -> None:
    plan = judged(rectangle(161, 35.8))
    assert max(piece.row for piece in plan.pieces) == 6


def test_spares_are_bought_and_counted_in_cartons() -> None:
    bare, spared = (judged(rectangle(131, 90, spares=n)) for n in (0, 25))
    assert spared.totals.cartons > bare.totals.cartons


def test_what_is_on_hand_leaves_a_shortage() -> None:
    plan = judged(rectangle(131, 90, on_hand={"planks": 20}))
    assert plan.totals.shortage_planks == plan.totals.planks - 20


def test_the_last_carton_may_be_spent_on_looks_and_cuts() -> None:
    fewest, whole = (judged(rectangle(131, 90, prefer=p)) for p in ("planks", "cartons"))
    assert whole.totals.cartons == fewest.totals.cartons
    assert whole.totals.crosscuts <= fewest.totals.crosscuts


def test_best_compares_the_main_wall_directions() -> None:
    plan = judged(rectangle(131, 90, rules={"direction_deg": "best"}))
    assert [cost.direction_deg for cost in plan.directions] in ([0], [90])
    assert all(cost.planks >= plan.totals.planks for cost in plan.directions)


def test_row_marks_are_measured_from_the_wall() -> None:
    plan = judged(rectangle(100, 21.5))
    assert [(m.source, m.marks) for m in plan.row_marks] == [
        ("edge 0", (7.25, 14.25)),
        ("edge 2", (7.25, 14.25)),
    ]


def test_progress_is_reported_from_the_first_plan_on() -> None:
    reports: list[Progress] = []
    plan = plan_floor(rectangle(131, 90), progress=reports.append)
    assert reports[0].planks >= reports[-1].planks == plan.totals.planks


def test_a_stop_gives_the_best_plan_so_far() -> None:
    request = rectangle(131, 90)
    plan = plan_floor(request, stop=lambda: True)
    assert check_plan(request, plan) == ()


def test_looks_are_mended_where_that_costs_no_plank() -> None:
    look = judged(rectangle(167.25, 139.5, effort_iterations=150)).totals.look
    assert (look.h_joints, look.staircases) == (0, 0)


@st.composite
def rectilinear(draw: st.DrawFn) -> dict[str, Any]:
    """Return the zone of a few rectangles grown together, with holes inside."""
    size = st.integers(min_value=6, max_value=90)
    shape = box(0, 0, draw(size) + 20, draw(size) + 20)
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(st.integers(-40, 80)), draw(st.integers(-40, 80))
        grown = shape.union(box(x, y, x + draw(size), y + draw(size)))
        shape = grown if isinstance(grown, Polygon) else shape
    shape = Polygon(shape.exterior).simplify(0)
    holes: list[Polygon] = []
    for _ in range(draw(st.integers(0, 2))):
        x, y = draw(st.integers(-30, 90)), draw(st.integers(-30, 90))
        hole = box(x, y, x + draw(st.integers(2, 15)), y + draw(st.integers(2, 15)))
        if shape.contains(hole.buffer(1)) and not any(hole.distance(h) < 1 for h in holes):
            holes.append(hole)
    rings = [[list(point) for point in ring.exterior.coords[:-1]] for ring in (shape, *holes)]
    return {"outline": rings[0], "holes": rings[1:]}


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(zone=rectilinear(), direction=st.sampled_from([0, 90]), seed=st.integers(0, 99))
def test_any_rectilinear_room_with_holes_is_planned_right_or_refused(
    zone: dict[str, Any], direction: float, seed: int
) -> None:
    form = rooms.request([], rules={"direction_deg": direction}, seed=seed)
    with suppress(LayoutError):
        judged(read_request({**form, "zone": zone, "effort_iterations": 10}))


def test_four_rows_of_a_hundred_and_eight_take_one_board_more_than_their_area() -> None:
    # The bound that layout/README.md works out by hand.
    plan = judged(rectangle(108.5, 28.5, effort_iterations=150))
    assert (plan.totals.planks, plan.totals.lower_bound, plan.status) == (10, 10, "proven")
    assert 108 * 28 / (48 * 7) == 9


def test_rows_are_counted_from_the_first_that_holds_a_piece() -> None:
    # A rip of nothing is a full row: the ledge at the top must not leave row 1 empty.
    ledge: list[list[float]] = [
        [0, 0],
        [110.25, 0],
        [110.25, 75.75],
        [102, 75.75],
        [102, 78.25],
        [31, 78.25],
    ]
    ledge += [[31, 75.75], [0, 75.75]]
    plan = judged(
        request(
            ledge,
            product={"length": 60, "width": 9, "per_carton": 10},
            lay={"start": "high"},
        )
    )
    assert min(piece.row for piece in plan.pieces) == 1
