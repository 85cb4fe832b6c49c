"""The door of the cut sheet: the saw's cuts with their words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.cutsheet.sheet import cut_sheet
from layout.values.errors import InputError
from layout.values.sheet import read_sheet, sheet_to_json
from tests.layout import three_rows
from tests.layout.three_rows import plan, request


def test_every_cut_has_its_words() -> None:
    sheet = cut_sheet(request(), plan())
    texts = {plank.plank: [cut.text for cut in plank.cuts] for plank in sheet.planks}
    assert texts[1] == [
        'Cut square 24" from the right end; the left part goes: kept as a leftover.'
    ]
    assert texts[2] == []
    assert texts[3][0].endswith("the right part goes: stack A for 3-1.")


def test_the_words_stand_in_the_form_of_the_sheet() -> None:
    sheet = cut_sheet(request(), plan())
    assert read_sheet(sheet_to_json(sheet)) == sheet


def test_a_plank_that_no_order_of_cuts_makes_is_refused() -> None:
    # 3-1 moved so that its plank has no room for a saw between it and 1-3.
    starter = plan().pieces[6]
    x, y = starter.origin
    crowded = three_rows.with_piece(plan(), replace(starter, origin=(x + 0.125, y)))
    with pytest.raises(InputError, match="no order of cuts makes 1-3 and 3-1 of plank 3"):
        cut_sheet(request(), crowded)
