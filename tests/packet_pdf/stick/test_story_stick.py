"""The story stick of a floor is made by its words, laid down twice and slid by a quarter inch."""

from __future__ import annotations

from copy import deepcopy
from functools import cache

from tests.packet_pdf.printing import floor_pdf
from tests.packet_pdf.rooms import ROOMS
from tests.packet_pdf.stick.story_stick import stick_faults
from tests.sweeps.planks_wanted import Json
from tests.sweeps.saw import planned


@cache
def ell() -> tuple[Json, Json, bytes]:
    """An L of two placings, its plan, its pages."""
    request, plan, _ = planned(ROOMS["ell"]())
    return request, plan, floor_pdf(request, plan, name="Ell")


def test_rows_land_on_their_lines_through_two_placings_and_slid() -> None:
    assert stick_faults(*ell()) == []


def test_a_row_that_lies_an_eighth_off_is_noticed() -> None:
    request, plan, pdf = ell()
    moved = deepcopy(plan)
    row = max(piece["row"] for piece in plan["pieces"]) - 2
    for piece in moved["pieces"]:
        if piece["row"] == row:
            piece["outline"] = [[x, y + 0.125] for x, y in piece["outline"]]
    assert any(f"row {row} lands" in fault for fault in stick_faults(request, moved, pdf))
