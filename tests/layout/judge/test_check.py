"""The judge on a floor worked out by hand, right and then broken in one way at a time."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout.judge.check import check_plan
from layout.judge.view import View
from layout.values.errors import InputError
from layout.values.plan import RuleWarning
from tests.layout.judge.eight_plans import eight_plan
from tests.layout.judge.verdict import rules_broken
from tests.layout.three_rows import offcut, piece, plan, request, totals, with_piece


def test_a_right_plan_has_no_faults() -> None:
    assert check_plan(request(), plan()) == ()


def test_a_missing_piece_leaves_floor_bare() -> None:
    broken = replace(plan(), pieces=plan().pieces[:-1])
    assert "missing" in rules_broken(request(), broken)


def test_a_plan_without_pieces_is_no_plan() -> None:
    assert rules_broken(request(), plan(pieces=())) == {"missing"}


def test_a_doubled_piece_lies_on_the_other() -> None:
    twin = piece(2, 4, 9, 40, 48, 0)
    broken = replace(plan(), pieces=(*plan().pieces, twin))
    assert "overlap" in rules_broken(request(), broken)


def test_a_moved_piece_leaves_a_gap_and_overlaps() -> None:
    moved = replace(piece(2, 2, 5, 40.5, 48, 0), id="2-2")
    assert {"missing", "overlap"} <= rules_broken(request(), with_piece(plan(), moved))


def test_a_piece_outside_the_region_is_caught() -> None:
    longer = piece(2, 3, 6, 88, 12.2, 0)
    faults = check_plan(request(), with_piece(plan(), longer))
    assert ("outside", "piece 2-3") in {(fault.rule, fault.where) for fault in faults}


def test_a_piece_that_reaches_past_its_plank_is_caught() -> None:
    overreaching = replace(piece(1, 2, 2, 24, 48, 0), origin=(24.75, 0.25))
    faults = check_plan(request(), with_piece(plan(), overreaching))
    assert ("within plank", "piece 1-2") in {(fault.rule, fault.where) for fault in faults}


def test_a_piece_of_another_product_is_caught() -> None:
    strange = replace(piece(1, 2, 2, 24, 48, 0), size=(60.0, 7.0))
    assert "size" in rules_broken(request(), with_piece(plan(), strange))


def test_a_turned_plank_is_no_board_of_the_product() -> None:
    turned = replace(piece(1, 2, 2, 24, 48, 0), size=(7.0, 48.0))
    assert "size" in rules_broken(request(), with_piece(plan(), turned))


def test_a_cut_edge_against_another_plank_is_caught() -> None:
    # Row 2's starter keeps its left end: its cut right end would meet the next plank.
    wrong = replace(piece(2, 1, 4, 0, 40, 8), origin=(0.25, 7.25))
    faults = check_plan(request(), with_piece(plan(), wrong))
    assert ("cut edge", "piece 2-1") in {(fault.rule, fault.where) for fault in faults}


def test_a_declared_split_needs_a_post() -> None:
    wrong = replace(piece(2, 1, 4, 0, 40, 8), origin=(0.25, 7.25), split=True)
    assert "cut edge" in rules_broken(request(), with_piece(plan(), wrong))


def test_pieces_declared_split_away_from_any_post_are_caught() -> None:
    # Declared so everywhere, a split would hide every joint that stands too close to another.
    everywhere = tuple(replace(each, split=True) for each in plan().pieces)
    faults = check_plan(request(), replace(plan(), pieces=everywhere))
    assert {f.where for f in faults if f.rule == "split"} == {f"piece {e.id}" for e in everywhere}


def test_a_split_frees_the_seam_at_its_post_alone() -> None:
    # Two boards side by side are split at a post each; where they meet is a joint like any other.
    view = View(request=eight_plan("pillars")[0], plan=eight_plan("pillars")[1])
    both = {s for s in view.seams if s.left.piece.split and s.right.piece.split}
    assert len(view.splits) == 2
    assert len(both & set(view.joints)) == 1


def test_a_joint_between_two_split_boards_keeps_the_offset_rule() -> None:
    request, laid = eight_plan("pillars")
    rules = replace(request.rules, min_joint_offset=24)
    (joint,) = (
        joint.right.piece.id
        for joint in View(request=request, plan=laid).joints
        if joint.left.piece.split and joint.right.piece.split
    )
    close = {f.where for f in check_plan(replace(request, rules=rules), laid)}
    assert any(f" {joint} " in f"{where} " for where in close if where.startswith("pieces"))


def test_two_pieces_closer_than_the_kerf_are_caught() -> None:
    # The saw would have 0.05 left between the ender of row 1 and this starter.
    broken = with_piece(plan(), piece(3, 1, 3, 0, 19.875, 28.05))
    assert "kerf" in rules_broken(request(), broken)


def test_two_pieces_from_the_same_part_of_a_plank_are_caught() -> None:
    broken = with_piece(plan(), replace(piece(2, 3, 6, 88, 12, 0), plank=3))
    assert "kerf" in rules_broken(request(), broken)


def test_a_short_end_piece_is_caught() -> None:
    first = piece(2, 1, 4, 0, 45, 3)
    broken = with_piece(with_piece(plan(), first), piece(2, 2, 5, 45, 48, 0))
    broken = with_piece(broken, piece(2, 3, 6, 93, 7, 0))
    faults = check_plan(request(), broken)
    assert ("min_end_piece", "piece 2-3", 7.0) in {
        (fault.rule, fault.where, round(fault.value, 3)) for fault in faults
    }


def test_close_joints_of_touching_rows_are_caught() -> None:
    # Row 3 begins with 35: joints at 35 and 83, five from those of row 2.
    pieces = (piece(3, 1, 9, 0, 35, 13), piece(3, 2, 7, 35, 48, 0), piece(3, 3, 8, 83, 17, 0))
    broken = replace(plan(), pieces=(*plan().pieces[:6], *pieces))
    assert "min_joint_offset" in rules_broken(request(), broken)


def test_close_joints_stay_a_fault_when_a_warning_owns_up_without_need() -> None:
    pieces = (piece(3, 1, 9, 0, 35, 13), piece(3, 2, 7, 35, 48, 0), piece(3, 3, 8, 83, 17, 0))
    warning = RuleWarning(
        rule="min_joint_offset", where="rows 2 and 3", value=5, limit=8, text="No other way."
    )
    broken = replace(plan(), pieces=(*plan().pieces[:6], *pieces), warnings=(warning,))
    assert "min_joint_offset" in rules_broken(request(), broken)


def test_a_warning_where_the_rule_holds_is_a_fault() -> None:
    warning = RuleWarning(
        rule="min_end_piece", where="row 2", value=5, limit=8, text="A short end piece."
    )
    assert rules_broken(request(), plan(warnings=(warning,))) == {"warning"}


def test_a_joint_in_a_doorway_is_caught() -> None:
    door = [[60, 14], [70, 14], [70, 22], [60, 22]]
    faults = check_plan(request(zone={"no_joints": [door]}), plan())
    assert [(fault.rule, fault.where) for fault in faults] == [("no_joints", "piece 3-3")]


def test_a_plan_of_the_older_format_is_never_judged() -> None:
    with pytest.raises(InputError, match="format: 1 can't be used; accepted: 2; plan it again"):
        check_plan(request(), plan(format=1))


def test_a_rack_too_full_is_caught() -> None:
    faults = check_plan(request(rules={"max_rack": 0}), plan())
    assert [(fault.rule, fault.value) for fault in faults] == [("max_rack", 1)]


def test_rows_that_are_not_straight_are_caught() -> None:
    lifted = piece(2, 2, 5, 40, 48, 0)
    lifted = replace(
        lifted,
        outline=tuple((x, y + 0.1) for x, y in lifted.outline),
        origin=(lifted.origin[0], lifted.origin[1] + 0.1),
    )
    assert "rows" in rules_broken(request(), with_piece(plan(), lifted))


def test_doubled_ids_are_caught() -> None:
    broken = with_piece(plan(), piece(1, 2, 2, 24, 48, 0))
    broken = replace(
        broken, pieces=tuple(replace(p, id="1-1") if p.id == "1-2" else p for p in broken.pieces)
    )
    assert "id" in rules_broken(request(), broken)


def test_places_count_from_the_first_end() -> None:
    one, two, *rest = plan().pieces
    swapped = (replace(one, place=2), replace(two, place=1), *rest)
    assert "place" in rules_broken(request(), plan(pieces=swapped))


def test_an_outline_that_crosses_itself_is_caught() -> None:
    a, b, c, d = plan().pieces[0].outline
    crossed = replace(plan().pieces[0], outline=(a, c, b, d))
    assert rules_broken(request(), with_piece(plan(), crossed)) == {"outline"}


def test_a_bound_above_its_proof_is_caught() -> None:
    false = plan(totals=totals(lower_bound=8), status="proven")
    assert rules_broken(request(), false) == {"proof"}


@pytest.mark.parametrize(
    "proof",
    [
        {"format": 1, "kind": "area", "value": 8},
        {"format": 1, "kind": "marks", "value": 8, "phase": 3.5, "marks": [[24, 1]]},
        {"format": 1, "kind": "word of honor", "value": 8},
        {"format": 2, "kind": "area", "value": 7},
    ],
)
def test_a_false_certificate_is_caught(proof: dict[str, object]) -> None:
    false = plan(totals=totals(lower_bound=8), status="proven", proof=proof)
    assert rules_broken(request(), false) == {"proof"}


def test_a_true_certificate_stands() -> None:
    proof = {"format": 1, "kind": "area", "value": 7}
    assert check_plan(request(), plan(proof=proof)) == ()


def test_a_bound_above_the_planks_is_caught() -> None:
    false = plan(totals=totals(lower_bound=9))
    assert "lower_bound" in rules_broken(request(), false)


def test_proven_means_that_bound_and_planks_meet() -> None:
    assert rules_broken(request(), plan(status="proven")) == {"status"}


def test_another_direction_than_the_requests_is_caught() -> None:
    assert "direction" in rules_broken(request(rules={"direction_deg": 90}), plan())


def test_other_hands_than_the_requests_are_caught() -> None:
    assert "lay" in rules_broken(request(lay={"start": "high"}), plan())


def test_a_plan_in_another_unit_is_refused() -> None:
    with pytest.raises(InputError, match="unit: the plan is in mm; accepted: in"):
        check_plan(request(), plan(unit="mm"))


def test_leftovers_that_are_not_there_are_caught() -> None:
    offcut = replace(plan().offcuts[0], used_by=None, at=(20.0, 0.0))
    assert rules_broken(request(), plan(offcuts=(offcut,))) == {"offcut"}


def test_a_leftover_used_by_a_piece_of_another_plank_is_caught() -> None:
    offcut = replace(plan().offcuts[0], used_by="2-1")
    assert rules_broken(request(), plan(offcuts=(offcut,))) == {"offcut"}


def test_an_enclosed_post_is_caught() -> None:
    post = [[60, 9], [62, 9], [62, 11], [60, 11]]
    hole = ((59.75, 8.75), (62.25, 8.75), (62.25, 11.25), (59.75, 11.25))
    around = replace(piece(2, 2, 5, 40, 48, 0), holes=(hole,))
    with_post = request(zone={"holes": [post]})
    assert "post" in rules_broken(with_post, with_piece(plan(), around))


def test_an_enclosed_register_is_a_cut_out() -> None:
    grille = {"outline": [[60, 9], [62, 9], [62, 11], [60, 11]], "kind": "register"}
    hole = ((59.75, 8.75), (62.25, 8.75), (62.25, 11.25), (59.75, 11.25))
    around = replace(piece(2, 2, 5, 40, 48, 0), holes=(hole,))
    with_grille = request(zone={"holes": [grille]})
    assert "post" not in rules_broken(with_grille, with_piece(plan(), around))


def test_a_fixed_step_is_required() -> None:
    assert "stagger" in rules_broken(request(rules={"stagger": "half"}), plan())


def test_an_edge_may_stay_bare_up_to_its_max_gap() -> None:
    wide = request(zone={"edges": {"1": {"max_gap": 0.75}}})
    shorter = [piece(1, 3, 3, 72, 27.6, 0), piece(2, 3, 6, 88, 11.6, 0)]
    shorter.append(piece(3, 3, 8, 67.875, 31.725, 0))
    laid = plan()
    for changed in shorter:
        laid = with_piece(laid, changed)
    area = 2100 - 7 * 1.2
    first, second, *_ = plan().offcuts
    left = (
        first,
        second,
        offcut("F3", 6, 11.725, 36.275, None),
        offcut("F4", 8, 31.85, 16.15, None),
    )
    laid = replace(laid, offcuts=left, totals=totals(laid_area=area, waste=8 * 336 / area - 1))
    assert check_plan(wide, laid) == ()
    assert "missing" in rules_broken(request(), laid)


PIECES = st.integers(min_value=0, max_value=8)
STEPS = st.floats(min_value=-60, max_value=60).filter(lambda step: abs(step) > 0.1)


@given(PIECES, STEPS, st.booleans())
def test_no_piece_can_be_moved_unseen(index: int, step: float, along: bool) -> None:
    moved = plan().pieces[index]
    dx, dy = (step, 0.0) if along else (0.0, step)
    shifted = replace(
        moved,
        outline=tuple((x + dx, y + dy) for x, y in moved.outline),
        origin=(moved.origin[0] + dx, moved.origin[1] + dy),
    )
    assert rules_broken(request(), with_piece(plan(), shifted)) & {"missing", "overlap", "outside"}


@given(PIECES)
def test_no_piece_can_be_left_out_unseen(index: int) -> None:
    pieces = plan().pieces
    left = pieces[:index] + pieces[index + 1 :]
    assert "missing" in rules_broken(request(), plan(pieces=left))


@given(PIECES, PIECES)
def test_no_piece_can_claim_a_plank_that_is_spent(index: int, other: int) -> None:
    pieces = plan().pieces
    claimed = replace(pieces[index], plank=pieces[other].plank)
    broken = check_plan(request(), with_piece(plan(), claimed))
    assert bool(broken) == (pieces[index].plank != pieces[other].plank)


@given(PIECES, STEPS)
def test_no_piece_can_come_from_another_place_of_its_plank_unseen(index: int, step: float) -> None:
    piece = plan().pieces[index]
    elsewhere = replace(piece, origin=(piece.origin[0] + step, piece.origin[1]))
    assert rules_broken(request(), with_piece(plan(), elsewhere)) & {"cut edge", "within plank"}
