"""What is taped across a floor before row one, and what its last row comes to by that.

start wall |  rows 1 to 6, as planned  | last row | gap | far wall
           |<------- 40 3/8 ---------->|             46 taped, less 40 5/8: rip row 7 to 5 3/8
"""

from __future__ import annotations

from collections.abc import Sequence

from layout.cutsheet.stick import FromStart
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.values import StripRow, TapeAcross
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import TAPE_STEP


def across(request: PlanRequest, plan: Plan) -> float:
    """Return how far the far wall stands from the start wall, where it stands furthest."""
    start = FromStart(request, plan)
    ring = to_frame(request.zone.outline, plan.direction_deg)
    return max(start.across(y) for _, y in ring)


def tape_across(request: PlanRequest, plan: Plan, rows: Sequence[StripRow]) -> TapeAcross | None:
    """Return what is taped before row one.

    None where rows are down already or go both ways from a middle one, or the last one is shaped.
    """
    if len(rows) < 2 or rows[0].row != 1 or request.lay.control_row is not None:
        return None
    unit, last = plan.unit, rows[-1]
    stays, width = _even_width(last, unit), max(piece.size[1] for piece in last.pieces)
    limits = next((wall.limits for wall in last.walls if wall.kind == "rip"), "")
    if stays is None or not (limits or stays >= width - LENGTH_TOLERANCE[unit]):
        return None
    step = TAPE_STEP[unit]
    taped, cut = (round(value / step) * step for value in (across(request, plan), stays))
    least = bare_words(request.rules.min_row_width, unit)
    return TapeAcross(
        plan=bare_words(taped, unit),
        less=bare_words(taped - cut, unit),
        row=last.row,
        stays=bare_words(cut, unit),
        limits=limits or f"{least} to {bare_words(width, unit)}",
    )


def _even_width(row: StripRow, unit: str) -> float | None:
    """Return how wide all pieces of a row come out; None where they differ."""
    widths = [piece.shape.bounds[3] - piece.shape.bounds[1] for piece in row.pieces]
    even = max(widths) - min(widths) <= 2 * LENGTH_TOLERANCE[unit]
    return float(max(widths)) if even else None
