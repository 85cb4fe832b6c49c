"""A damaged plank by its row and place: what the map does not have is refused by name."""

from __future__ import annotations

import pytest

from estimates.forms.passport.pick import PickForm

PLANKS = {1: 3, 2: 3, 3: 2}


@pytest.mark.parametrize(
    ("row", "plank", "field", "said"),
    [
        ("0", "1", "row", "0 can't be used; accepted: a number in a ring from 1 to 3."),
        ("x", "1", "row", "“x” can't be used"),
        ("", "1", "row", "Nothing was typed"),
        ("2", "4", "plank", "4 can't be used"),
        ("3", "3", "plank", "3 can't be used; accepted: 1 to 2 in row 3."),
    ],
)
def test_what_is_not_there_is_refused(row: str, plank: str, field: str, said: str) -> None:
    form = PickForm({"floor": "1", "row": row, "plank": plank}, floor=1, planks=PLANKS)
    assert not form.is_valid()
    assert said in " ".join(str(error) for error in form.errors[field])


def test_what_is_there_is_taken() -> None:
    form = PickForm({"floor": "1", "row": "3", "plank": "2"}, floor=1, planks=PLANKS)
    assert form.is_valid()
    assert (form.cleaned_data["row"], form.cleaned_data["plank"]) == (3, 2)
