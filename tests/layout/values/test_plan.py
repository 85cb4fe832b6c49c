"""A plan in the interchange form: the same plan, the same bytes, read back the same."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from layout.values.advice import DirectionCost, StartChoice
from layout.values.errors import InputError
from layout.values.material import GoesIn, Side
from layout.values.plan import Cut, RowMarks, RuleWarning
from layout.values.plan_form import plan_text, plan_to_json, read_plan
from tests.layout import three_rows


def full_plan() -> Any:
    """Return the three rows with something in every field."""
    plan = three_rows.plan(
        row_marks=(RowMarks(source="edge 0", marks=(7.0, 14.0)),),
        directions=(
            DirectionCost(direction_deg=90, planks=9, cartons=1, crosscuts=8, rips=2, trapped=0),
        ),
        starts=(StartChoice(start=Side.LOW, trapped=1), StartChoice(control_row=2, trapped=0)),
        warnings=(RuleWarning(rule="max_rack", where="row 2", value=3, limit=2, text="Full."),),
        proof={"kind": "area", "weights": [0.5, 1]},
    )
    notch = Cut(
        kind="notch",
        measure_from="left end",
        at=12.0,
        final="measure on site",
        limits=(11.5, 12.5),
        tool="jigsaw",
        detail={"depth": 2.5},
    )
    first = replace(
        plan.pieces[0],
        cuts=(notch,),
        variant="B",
        trapped=True,
        goes_in=GoesIn.SLIDE,
        split=True,
    )
    return three_rows.with_piece(plan, first)


def test_a_plan_is_read_back_as_it_was_written() -> None:
    assert read_plan(json.loads(plan_text(full_plan()))) == full_plan()


def test_the_same_plan_gives_the_same_bytes() -> None:
    again = read_plan(json.loads(plan_text(full_plan())))
    assert plan_text(again) == plan_text(full_plan())


def test_numbers_are_rounded_to_six_decimals_and_whole_ones_have_no_point() -> None:
    plan = three_rows.plan(direction_deg=1 / 3)
    data: Any = plan_to_json(plan)
    assert data["direction_deg"] == 0.333333
    assert json.dumps(data["pieces"][0]["size"]) == "[48, 7]"


def test_a_certificate_keeps_every_digit() -> None:
    proof = {"format": 1, "kind": "marks", "marks": [[13.249995995999996, 333333]]}
    again = read_plan(json.loads(plan_text(three_rows.plan(proof=proof))))
    assert again.proof == proof


def test_the_fields_stand_in_the_order_of_the_form() -> None:
    fields = list(plan_to_json(full_plan()))
    assert fields[:6] == ["format", "unit", "direction_deg", "lay", "status", "proof"]
    assert fields[6:10] == ["pieces", "offcuts", "totals", "row_marks"]
    assert fields[10:] == ["directions", "starts", "warnings"]


def test_a_plan_that_names_no_starts_has_no_such_field() -> None:
    assert "starts" not in plan_to_json(replace(full_plan(), starts=()))


def test_what_a_cut_needs_beyond_the_common_fields_stands_beside_them() -> None:
    form: Any = plan_to_json(full_plan())
    cut = form["pieces"][0]["cuts"][0]
    assert cut["depth"] == 2.5
    assert cut["limits"] == [11.5, 12.5]


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        (("format",), 3, "format: 3 can't be used; accepted: 1 or 2"),
        (("pieces",), {}, "pieces: an object can't be used; accepted: a list"),
        (("pieces", 0, "plank"), "one", r"pieces\[0\].plank: 'one' can't be used"),
        (("pieces", 0, "plank"), 1.5, r"pieces\[0\].plank: 1.5 can't be used; accepted: a whole"),
        (("pieces", 0, "size"), [48, 0], r"pieces\[0\].size: 0 can't be used"),
        (("pieces", 0, "outline"), [[0, 0]], r"pieces\[0\].outline: 1 corners; accepted: 3"),
        (("pieces", 0, "id"), "", r"pieces\[0\].id: '' can't be used; accepted: a text"),
        (("pieces", 0, "id"), "a\nb", "a text of printable characters in one line"),
        (("pieces", 0, "trapped"), "no", r"pieces\[0\].trapped: 'no' can't be used"),
        (("offcuts", 0, "length"), 0, r"offcuts\[0\].length: 0 can't be used"),
        (("totals", "planks"), None, "totals.planks: null can't be used; accepted: a number"),
        (("totals", "look"), 5, "totals.look: 5 can't be used; accepted: an object"),
        (("proof",), [], "proof: a list can't be used"),
        (("lay",), {"start": 3}, "lay.start: 3 can't be used"),
    ],
)
def test_a_plan_that_cannot_be_read_is_refused_by_its_field(
    path: tuple[Any, ...], value: object, message: str
) -> None:
    data = json.loads(plan_text(three_rows.plan()))
    inner = data
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    with pytest.raises(InputError, match=message):
        read_plan(data)


def test_a_plan_without_totals_is_no_plan() -> None:
    data = json.loads(plan_text(three_rows.plan()))
    del data["totals"]
    with pytest.raises(InputError, match="totals: missing"):
        read_plan(data)
