"""The cut strips of a floor as a packet keeps them: sheets of rows, and how to read them. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from jobs.domain.formats import Fields
from jobs.domain.packet.words.reading import how_to_read
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
    last = floor.rows[-1].row if floor.rows else 0
    tools = {cut.tool for plank in sheet.planks for cut in plank.cuts if cut.kind == "crosscut"}
    sheets = draw_strips(floor, title=name, notes=notes)
    return {
        "sheets": [
            {
                "rows": rows_words(one.rows),
                "drawing": one.drawing,
                "stick": [row for row in one.rows if row % STICK_EVERY == 0 or row == last],
            }
            for one in sheets
        ],
        "unit": _UNITS[floor.unit],
        "scale": sheets[0].scale if sheets else 0,
        "begin": begins.pop() if len(begins) == 1 else "",
        "score": "score" in tools,
        "lines": [line.words for line in floor.lines],
        "line": "; ".join(line.short for line in floor.lines),
        "how": how_to_read(floor),
        "facts": _facts(request),
        "spares": floor.spares,
        "ticks": list(range(1, min(floor.spares, _MOST_TICKS) + 1)),
        "least": bare_words(request.rules.min_end_piece, request.unit),
    }


def _facts(request: PlanRequest) -> str:
    """Return what the figures of a floor rest on: plank, carton, kerf, gap."""
    unit, rules = request.unit, request.rules
    planks = ", ".join(
        f"{bare_words(board.length, unit)} \N{MULTIPLICATION SIGN} {bare_words(board.width, unit)},"
        f" {board.per_carton:g} a carton"
        for board in request.product.boards
    )
    across, gap = bare_words(rules.saw_kerf, unit), bare_words(rules.expansion_gap, unit)
    along = bare_words(rules.kerf_across, unit)
    kerf = f"Saw kerf {across}" if across == along else f"Kerf {across} across, {along} along"
    return f"Plank {planks}. {kerf}. Gap at walls {gap}. All in {_UNITS[unit]}."
