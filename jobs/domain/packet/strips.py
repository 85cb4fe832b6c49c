"""The cut strips of a floor as a packet keeps them: sheets of rows, and how to read them. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from jobs.domain.formats import Fields
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.values import FloorStrips
from layout.drawing.strips.sheets import draw_strips, rows_words
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet

STICK_EVERY = 5
"""Every fifth row is held against the story stick; common practice, no source."""

_MOST_TICKS = 12
_UNITS = {"in": "inches", "mm": "millimeters"}


def strips_content(
    request: PlanRequest,
    floor: FloorStrips,
    sheet: CutSheet,
    *,
    name: str,
    notes: Mapping[int, Sequence[str]] | None = None,
) -> Fields:
    """Return the strips of a floor; ``notes`` stand under a row, such as what is brought to it."""
    begins = {row.begin for row in floor.rows}
    tools = {cut.tool for plank in sheet.planks for cut in plank.cuts if cut.kind == "crosscut"}
    sheets = draw_strips(floor, title=name, notes=notes)
    return {
        "sheets": [
            {
                "rows": rows_words(one.rows),
                "drawing": one.drawing,
                "stick": [row for row in one.rows if row % STICK_EVERY == 0],
            }
            for one in sheets
        ],
        "unit": _UNITS[floor.unit],
        "scale": sheets[0].scale if sheets else 0,
        "begin": begins.pop() if len(begins) == 1 else "",
        "score": "score" in tools,
        "lines": list(floor.lines),
        "spares": floor.spares,
        "ticks": list(range(1, min(floor.spares, _MOST_TICKS) + 1)),
        "least": bare_words(request.rules.min_end_piece, request.unit),
    }
