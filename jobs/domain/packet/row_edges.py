"""How far the far edge of each row lies from the start wall. Pure."""

from __future__ import annotations

from layout.values.material import Side
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.units import length_words

EVERY = 5
"""The story stick is held against the row line every fifth row; common practice, no source."""


def row_edges(request: PlanRequest, plan: Plan) -> dict[int, str]:
    """Return of each row how far its far edge lies from the start wall, where that lies furthest.

    Measured across the rows, in words for a tape.
    """
    ys = [y for _, y in to_frame(request.zone.outline, plan.direction_deg)]
    edges: dict[int, float] = {}
    for piece in plan.pieces:
        reached = [y for _, y in to_frame(piece.outline, plan.direction_deg)]
        far = max(reached) - min(ys) if request.lay.start is Side.LOW else max(ys) - min(reached)
        edges[piece.row] = max(far, edges.get(piece.row, 0.0))
    return {row: length_words(edges[row], plan.unit, on_tape=True) for row in sorted(edges)}


def marks_to_check(edges: dict[int, str], rows: tuple[int, int]) -> dict[int, str]:
    """Return the edges of every fifth row and of the last one, of those laid that day."""
    first, last = rows
    return {
        row: at
        for row, at in edges.items()
        if first <= row <= last and (row % EVERY == 0 or row == last)
    }
