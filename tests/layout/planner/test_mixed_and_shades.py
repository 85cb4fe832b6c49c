"""Floors of several widths and of several shades, held against counts made here alone."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from random import Random
from typing import Any

import pytest
from shapely.geometry import Polygon

from layout.bounds.find import lower_bound
from layout.judge.check import check_plan
from layout.planner.plan_floor import plan_floor
from layout.proof.certificate import check
from layout.proof.floor import area_bound
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

WIDTHS = {9.0: 3, 7.0: 4, 5.0: 3}  # boards of each width in a carton
SHADES = {"A": 4, "B": 4, "C": 2, "D": 2}


def boards(widths: dict[float, int], length: float = 48) -> dict[str, Any]:
    return {"boards": [{"length": length, "width": w, "per_carton": n} for w, n in widths.items()]}


def gallery() -> PlanRequest:
    """A room for three widths.

    +----------------+
    | 210 x 174      |  cartons of 3 boards 9 wide, 4 boards 7 wide, 3 boards 5 wide
    +----------------+
    """
    outline = [[0, 0], [210, 0], [210, 174], [0, 174]]
    return read_request(rooms.request(outline, product=boards(WIDTHS), effort_iterations=100))


def parlor() -> PlanRequest:
    """A room for four shades.

    +----------------+
    | 180 x 150      |  cartons of 12 boards 6 wide: 4 of A, 4 of B, 2 of C, 2 of D
    +----------------+
    """
    outline = [[0, 0], [180, 0], [180, 150], [0, 150]]
    product = {"length": 48, "width": 6, "per_carton": 12, "variants": SHADES}
    return read_request(rooms.request(outline, product=product, effort_iterations=100))


@cache
def planned(room: Any) -> tuple[PlanRequest, Plan]:
    request = room()
    return request, plan_floor(request)


def planks_of(plan: Plan, what: str) -> Counter[Any]:
    """Count the planks by width or by shade."""
    by_width = what == "width"
    kinds = {p.plank: p.size[1] if by_width else p.variant for p in plan.pieces}
    return Counter(kinds.values())


def rows_of(plan: Plan) -> list[float]:
    """Return the width of every row, in order."""
    rows: dict[int, set[float]] = defaultdict(set)
    for piece in plan.pieces:
        rows[piece.row].add(piece.size[1])
    assert all(len(widths) == 1 for widths in rows.values())
    return [rows[number].pop() for number in sorted(rows)]


def alike(plan: Plan) -> int:
    """Count touching pairs of one shade by shapely alone: more than a corner in common."""
    shapes = [(Polygon(piece.outline).buffer(0.005), piece.variant) for piece in plan.pieces]
    return sum(
        shade == other and one.intersection(two).area > 0.002
        for (one, shade), (two, other) in combinations(shapes, 2)
    )


def test_three_widths_stand_before_the_judge() -> None:
    request, plan = planned(gallery)
    assert check_plan(request, plan) == ()


def test_the_cartons_bought_hold_every_width_and_one_carton_less_does_not() -> None:
    _, plan = planned(gallery)
    used = planks_of(plan, "width")
    assert all(used[width] <= plan.totals.cartons * held for width, held in WIDTHS.items())
    assert any(used[width] > (plan.totals.cartons - 1) * held for width, held in WIDTHS.items())


def test_three_widths_take_no_more_planks_than_the_bound_for_these_cartons() -> None:
    """12 cartons hold 36, 48 and 36 planks. A row takes 4.36 planks by its length alone, so that
    is 8, 10 and 8 rows at most; 8 + 10 + 7 of them reach over 173 1/2 in, no fewer do.
    """
    _, plan = planned(gallery)
    assert (plan.totals.cartons, plan.totals.planks, plan.totals.lower_bound) == (12, 111, 111)
    assert plan.status == "proven"


def test_no_plan_takes_fewer_cartons_than_the_proof_says() -> None:
    """11 cartons hold 33, 44 and 33 planks: 7, 10 and 7 rows, 168 in of the 173 1/2."""
    request, plan = planned(gallery)
    assert plan.proof is not None
    assert plan.proof["fewest_cartons"] == plan.totals.cartons == 12
    assert check(request, 0.0, plan.proof) == 111


def test_no_width_comes_thrice_running() -> None:
    rows = rows_of(planned(gallery)[1])
    assert all(len(set(rows[i : i + 3])) > 1 for i in range(len(rows) - 2))


def test_widths_are_used_as_the_cartons_are_opened() -> None:
    """After every row no width is more than a row and a carton ahead of its share."""
    _, plan = planned(gallery)
    used: Counter[float] = Counter()
    for row in sorted({piece.row for piece in plan.pieces}):
        used.update({p.size[1]: 0 for p in plan.pieces})
        for width in {p.plank: p.size[1] for p in plan.pieces if p.row == row}.values():
            used[width] += 1
        opened = [used[width] / held for width, held in WIDTHS.items()]
        assert max(opened) - min(opened) < 3


def test_the_planks_stand_against_the_bound_of_each_width_alone() -> None:
    """20 rows 9 in wide, 25 of 7 or 35 of 5 cover the floor; a row is 209.5 / 48 boards long."""
    request, plan = planned(gallery)
    alone = {}
    for board in request.product.boards:
        single = replace(request, product=replace(request.product, boards=(board,)))
        alone[board.width] = lower_bound(single, 0.0).value
    assert alone == {9.0: 88, 7.0: 110, 5.0: 154}
    # 111 planks, 25 rows: as many as of 7 in alone and one, for the 36, 44 and 31 of each width
    # are whole planks each for itself.
    assert alone[9.0] < alone[7.0] < plan.totals.planks < alone[5.0]
    assert sum(n * w for w, n in planks_of(plan, "width").items()) < 9 * alone[9.0]
    assert plan.totals.lower_bound > area_bound(request)


def test_four_shades_stand_before_the_judge() -> None:
    request, plan = planned(parlor)
    assert check_plan(request, plan) == ()


def test_the_shades_used_are_in_the_cartons_bought() -> None:
    _, plan = planned(parlor)
    used = planks_of(plan, "shade")
    assert plan.totals.planks == sum(used.values()) == 94
    assert all(used[name] <= plan.totals.cartons * held for name, held in SHADES.items())


def test_like_pieces_that_touch_are_few_and_warned_of_as_counted() -> None:
    """Three pieces meet at every joint, two planks in three are A or B: some pairs are left."""
    _, plan = planned(parlor)
    (warning,) = (w for w in plan.warnings if w.rule == "variants")
    assert warning.value == alike(plan) <= 9


def test_the_warning_says_what_no_choice_of_shades_avoids() -> None:
    _, plan = planned(parlor)
    (warning,) = (w for w in plan.warnings if w.rule == "variants")
    assert "no choice of variants for these planks leaves fewer" in warning.text


def small_room(seed: int) -> PlanRequest:
    """A small room drawn at random: plain, an ell or with a slanted wall; two or three widths on
    even seeds, two to four shades on odd ones.
    """
    rng = Random(seed)
    wide, deep = rng.uniform(60, 150), rng.uniform(40, 90)
    corner = [[wide * 0.6, deep], [wide * 0.6, deep * 0.6], [wide, deep * 0.6]]
    shapes: list[list[list[float]]] = [
        [[0, 0], [wide, 0], [wide, deep], [0, deep]],
        [[0, 0], [wide, 0], *reversed(corner), [0, deep]],
        [[0, 0], [wide, 0], [wide - 20, deep], [0, deep]],
    ]
    widths = dict(zip([7.0, 5.0, 3.5], (rng.randint(2, 4) for _ in range(3)), strict=True))
    if rng.random() < 0.5:
        del widths[3.5]
    shades = {name: rng.randint(2, 4) for name in "ABCD"[: rng.randint(2, 4)]}
    plain = {"length": 36, "width": 6, "per_carton": sum(shades.values()), "variants": shades}
    product = plain if seed % 2 else boards(widths, 36)
    lay = {"start": rng.choice(["low", "high"]), "first_end": rng.choice(["left", "right"])}
    outline = rng.choice(shapes)
    return read_request(
        rooms.request(outline, product=product, lay=lay, effort_iterations=8, seed=seed)
    )


@pytest.mark.parametrize("seed", range(20))
def test_small_rooms_stand_before_the_judge(seed: int) -> None:
    request = small_room(seed)
    plan = plan_floor(request)
    assert check_plan(request, plan) == ()
    warned = sum(w.value for w in plan.warnings if w.rule == "variants")
    assert warned == (alike(plan) if request.product.variants else 0)


def test_rows_line_up_from_the_start_wall() -> None:
    _, plan = planned(gallery)
    heights = {piece.row: piece.origin[1] for piece in plan.pieces}
    steps = [b - a for (_, a), (_, b) in pairwise(sorted(heights.items()))]
    assert steps == pytest.approx(rows_of(plan)[:-1])
