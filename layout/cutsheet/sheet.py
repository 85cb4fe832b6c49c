"""The door of the cut sheet: every cut of a plan in the order it is made, with its words.

Rows, pieces, rack, drawings, the shell and the app show what this sheet says and nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from layout.cutsheet.in_hand import parts_cut
from layout.cutsheet.words import made_words
from layout.saw.sheet import sheet_of
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet, PlankCuts


def cut_sheet(request: PlanRequest, plan: Plan) -> CutSheet:
    """Return the cuts of every plank that new pieces are cut from, in words and figures.

    Raises InputError where the plan is another request's, and where no order of cuts makes the
    pieces of a plank.
    """
    sheet = sheet_of(request, plan)
    rows = {piece.id: piece.row for piece in plan.pieces}
    planks = tuple(_worded(request, plank, rows) for plank in sheet.planks)
    return replace(sheet, planks=planks)


def _worded(request: PlanRequest, plank: PlankCuts, rows: Mapping[str, int]) -> PlankCuts:
    """Return the cuts of a plank with their words."""
    cuts = (
        replace(
            made.cut,
            text=made_words(
                made, size=plank.size, request=request, row=rows[made.cut.then.in_hand]
            ),
        )
        for made in parts_cut(plank, request)
    )
    return replace(plank, cuts=tuple(cuts))
