"""Certificates: a right one is accepted, a false one is found, whatever number was changed."""

from __future__ import annotations

import json
from typing import Any

import pytest

from layout.bounds.find import lower_bound
from layout.proof.certificate import CertificateError, check
from layout.values.request import PlanRequest, read_request


def _request(**changes: Any) -> PlanRequest:
    form: dict[str, Any] = {
        "format": 1,
        "unit": "in",
        "zone": {"outline": [[0, 0], [98.5, 0], [98.5, 127], [0, 127]]},
        "product": {"length": 48, "width": 7, "per_carton": 10},
        "rules": {
            "expansion_gap": 0.25,
            "saw_kerf": 0.125,
            "min_end_piece": 8,
            "min_joint_offset": 8,
            "min_row_width": 2,
            "direction_deg": 0,
        },
    }
    return read_request({**form, **changes})


# Four rows of 60 in, boards of 48, ends of 8 and more; floor area alone says 5 planks. Three marks
# of weight 1. A row is a first piece s and a last piece 60 - s, both 12 to 48 (a whole board
# between would leave 12 for two ends). Up to s = 23.8 the
# last piece covers all three marks, the first one more; from 24.1 to 35.8 each covers two; from
# 35.9 the first covers three, the last one: 4 marks at least. Four rows: 16 marks, 3 on a plank.
FOUR_ROWS: dict[str, Any] = {
    "zone": {"outline": [[0, 0], [60.5, 0], [60.5, 28.5], [0, 28.5]]},
}
BY_HAND = {
    "format": 1,
    "kind": "marks",
    "value": 6,
    "end_pieces": True,
    "offsets": False,
    "cases": [{"phase": 3.5, "marks": [[12.1, 1], [24.2, 1], [36.1, 1]]}],
}
# A room of three corners' heights, where the bound needs to know which rows its lines lie in.
ELL: dict[str, Any] = {
    "zone": {
        "outline": [[0, 0], [245.5, 0], [245.5, 82.25], [61.75, 82.25], [61.75, 175.5], [0, 175.5]]
    },
}


def _with_case(proof: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """Return a proof of one case with that case changed."""
    (case,) = proof["cases"]
    return {**proof, "cases": [{**case, **changes}]}


@pytest.fixture(name="proof")
def _proof() -> dict[str, Any]:
    return lower_bound(_request(), 0.0).proof


def test_a_certificate_proves_its_bound_after_a_trip_through_json(proof: dict[str, Any]) -> None:
    assert check(_request(), 0.0, json.loads(json.dumps(proof))) == proof["value"]


def test_a_certificate_is_small_enough_to_store(proof: dict[str, Any]) -> None:
    assert len(json.dumps(proof)) < 10_000


@pytest.mark.parametrize("by", [-1, 1])
def test_another_value_is_caught(proof: dict[str, Any], by: int) -> None:
    with pytest.raises(CertificateError, match=r"proof.value: says"):
        check(_request(), 0.0, {**proof, "value": proof["value"] + by})


def test_a_changed_weight_is_caught(proof: dict[str, Any]) -> None:
    (case,) = proof["cases"]
    for i, (place, weight) in enumerate(case["marks"]):
        marks = [*case["marks"][:i], [place, weight * 1000], *case["marks"][i + 1 :]]
        with pytest.raises(CertificateError, match=r"proof.value: says"):
            check(_request(), 0.0, _with_case(proof, marks=marks))


def test_a_phase_with_fewer_lines_is_caught(proof: dict[str, Any]) -> None:
    with pytest.raises(CertificateError, match=r"proof.value: says"):
        check(_request(), 0.0, _with_case(proof, phase=proof["cases"][0]["phase"] + 3.0))


def test_a_rule_left_out_is_caught() -> None:
    with pytest.raises(CertificateError, match="says 6 planks, its arithmetic gives 4"):
        check(_request(**FOUR_ROWS), 0.0, {**BY_HAND, "end_pieces": False})


def test_a_certificate_of_another_room_is_caught(proof: dict[str, Any]) -> None:
    smaller = _request(zone={"outline": [[0, 0], [98.5, 0], [98.5, 90], [0, 90]]})
    with pytest.raises(CertificateError, match=r"proof.value: says"):
        check(smaller, 0.0, proof)


def test_a_certificate_of_another_direction_is_caught(proof: dict[str, Any]) -> None:
    with pytest.raises(CertificateError, match=r"proof.value: says"):
        check(_request(), 90.0, proof)


def test_the_area_alone_proves_its_count() -> None:
    assert check(_request(), 0.0, {"format": 1, "kind": "area", "value": 37}) == 37
    with pytest.raises(CertificateError, match="says 38 planks, its arithmetic gives 37"):
        check(_request(), 0.0, {"format": 1, "kind": "area", "value": 38})


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"format": 2}, "format"),
        ({"kind": "guess"}, "kind"),
        ({"value": "40"}, "value"),
        ({"value": True}, "value"),
        ({"value": -1}, "value"),
        ({"end_pieces": 1}, "end_pieces"),
        ({"offsets": None}, "offsets"),
        ({"cases": None}, "cases"),
        ({"cases": []}, "cases"),
        ({"cases": [3]}, "cases"),
    ],
)
def test_what_cannot_be_read_is_refused_by_its_field(
    proof: dict[str, Any], change: dict[str, Any], named: str
) -> None:
    with pytest.raises(CertificateError, match=rf"proof\.{named}"):
        check(_request(), 0.0, {**proof, **change})


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"phase": None}, "phase"),
        ({"phase": float("nan")}, "phase"),
        ({"phase": 1e308}, "phase"),
        ({"rips": 3}, "cases.rips"),
        ({"rips": [3]}, "cases.rips"),
        ({"rips": [3, "4"]}, "cases.rips"),
        ({"rips": [4, 3]}, "cases.rips"),
        ({"marks": []}, "marks"),
        ({"marks": "all"}, "marks"),
        ({"marks": [[1.0]]}, "marks"),
        ({"marks": [[1.0, 0]]}, "marks"),
        ({"marks": [[1.0, 0.5]]}, "marks"),
        ({"marks": [[-1.0, 1]]}, "marks"),
        ({"marks": [[48.0, 1]]}, "marks"),
        ({"marks": [["1", 1]]}, "marks"),
        ({"marks": [[1.0, 10**30]]}, "marks"),
    ],
)
def test_what_cannot_be_read_in_a_case_is_refused_by_its_field(
    proof: dict[str, Any], change: dict[str, Any], named: str
) -> None:
    with pytest.raises(CertificateError, match=rf"proof\.{named}"):
        check(_request(), 0.0, _with_case(proof, **change))


@pytest.mark.parametrize("proof", [None, [], "proof", {}, 3])
def test_no_certificate_at_all_is_refused(proof: object) -> None:
    with pytest.raises(CertificateError):
        check(_request(), 0.0, proof)


def test_marks_prove_nothing_for_mixed_widths(proof: dict[str, Any]) -> None:
    boards = [{"length": 48, "width": w, "per_carton": 4} for w in (9, 7)]
    with pytest.raises(CertificateError, match="several widths"):
        check(_request(product={"boards": boards}), 0.0, proof)


def test_a_certificate_written_by_hand_for_four_rows_is_accepted() -> None:
    assert check(_request(**FOUR_ROWS), 0.0, BY_HAND) == 6


def test_the_rows_that_lines_lie_in_can_raise_the_bound() -> None:
    proof: dict[str, Any] = lower_bound(_request(**ELL), 0.0).proof
    anywhere = [{k: v for k, v in case.items() if k != "rips"} for case in proof["cases"]]
    with pytest.raises(CertificateError, match=r"proof.value: says"):
        check(_request(**ELL), 0.0, {**proof, "cases": anywhere})


def test_a_first_rip_left_out_is_caught() -> None:
    proof: dict[str, Any] = lower_bound(_request(**ELL), 0.0).proof
    rips = [[low + 0.5, high + 0.5] for low, high in (case["rips"] for case in proof["cases"])]
    cases = [{**case, "rips": r} for case, r in zip(proof["cases"], rips, strict=True)]
    with pytest.raises(CertificateError, match="are left out"):
        check(_request(**ELL), 0.0, {**proof, "cases": cases})


def test_first_rips_are_not_spoken_of_where_the_balance_rule_is_off() -> None:
    proof: dict[str, Any] = lower_bound(_request(**ELL), 0.0).proof
    rules = {
        "expansion_gap": 0.25,
        "saw_kerf": 0.125,
        "min_end_piece": 8,
        "min_joint_offset": 8,
        "min_row_width": 2,
        "direction_deg": 0,
        "balance": False,
    }
    with pytest.raises(CertificateError, match="a case for all first rips"):
        check(_request(**ELL, rules=rules), 0.0, proof)


def test_laying_from_the_high_side_is_the_same_turned_over() -> None:
    turned = [[x, -y] for x, y in reversed(ELL["zone"]["outline"])]
    low = lower_bound(_request(**ELL), 0.0)
    high = lower_bound(_request(zone={"outline": turned}, lay={"start": "high"}), 0.0)
    assert (low.value, low.proof["cases"]) == (high.value, high.proof["cases"])
