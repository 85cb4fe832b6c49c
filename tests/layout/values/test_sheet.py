"""The sheet's JSON form: written and read back, refused by field."""

from __future__ import annotations

import json
from typing import Any

import pytest

from layout.values.errors import InputError
from layout.values.sheet import AfterCut, CutSheet, PlankCuts, SawCut, read_sheet, sheet_to_json


def _sheet() -> CutSheet:
    """One plank of 48 x 7, cut at 20 1/4 in from the left end; the right part waits for 4-7."""
    cut = SawCut(
        n=1,
        kind="crosscut",
        measure_from="left end",
        at=20.25,
        path=((20.25, 0.0), (20.25, 7.0)),
        goes="right",
        tool="saw",
        then=AfterCut(in_hand="3-1", aside=("4-7",), stack="E", waste=False),
        final="measure on site",
        limits=(19.75, 20.75),
        text="Cut square 20 1/4 from the left end; the right part goes to stack E.",
    )
    return CutSheet(unit="in", planks=(PlankCuts(plank=17, size=(48.0, 7.0), cuts=(cut,)),))


def test_a_sheet_is_read_back_as_it_was_written() -> None:
    assert read_sheet(json.loads(json.dumps(sheet_to_json(_sheet())))) == _sheet()


def test_a_cut_stands_in_the_form_with_what_becomes_of_both_parts() -> None:
    cut: Any = json.loads(json.dumps(sheet_to_json(_sheet())))["planks"][0]["cuts"][0]
    assert cut["then"] == {"in_hand": "3-1", "aside": ["4-7"], "stack": "E", "waste": False}
    assert (cut["goes"], cut["at"], cut["limits"]) == ("right", 20.25, [19.75, 20.75])


@pytest.mark.parametrize(
    ("key", "value", "message"),
    [
        ("at", "x", r"planks\[0\].cuts\[0\].at: 'x' can't be used; accepted: a number"),
        ("path", 3, r"planks\[0\].cuts\[0\].path: 3 can't be used; accepted: a list"),
        ("text", 5, r"planks\[0\].cuts\[0\].text: 5 can't be used; accepted: a text"),
    ],
)
def test_a_cut_that_cannot_be_read_is_refused_by_its_field(
    key: str, value: object, message: str
) -> None:
    form: Any = json.loads(json.dumps(sheet_to_json(_sheet())))
    form["planks"][0]["cuts"][0][key] = value
    with pytest.raises(InputError, match=message):
        read_sheet(form)


def test_a_sheet_of_another_format_is_refused() -> None:
    with pytest.raises(InputError, match="format: 1 can't be used; accepted: 2"):
        read_sheet(sheet_to_json(_sheet()) | {"format": 1})
