"""The notched planks of a floor as a packet keeps them, and the pieces that slide in flat. Pure."""

from __future__ import annotations

from jobs.domain.formats import Fields
from layout.cutsheet.trapped import how_in
from layout.drawing.piece import draw_piece
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet

SHAPED = frozenset({"notch", "angle", "hole"})


def notched_content(request: PlanRequest, plan: Plan, sheet: CutSheet, place: int) -> Fields:
    """Return ``pieces``, each a notched plank in its drawing, and ``ways``, what slides in flat."""
    shaped = {
        cut.then.in_hand for plank in sheet.planks for cut in plank.cuts if cut.kind in SHAPED
    }
    down = {piece.id for piece in request.laid}
    ways = ((piece.id, how_in(request, piece)) for piece in plan.pieces if piece.id not in down)
    return {
        "pieces": [
            {
                "id": piece.id,
                "row": piece.row,
                "drawing": draw_piece(request, plan, sheet, piece.id, ident=f"{place}-{piece.id}"),
            }
            for piece in plan.pieces
            if piece.id in shaped
        ],
        "ways": [{"id": name, "way": way} for name, way in ways if way],
    }
