"""The story stick: where every row ends, measured from the start wall, and what stops rows."""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.material import Side
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest


@dataclass(frozen=True, slots=True, kw_only=True)
class RowEdges:
    """A row's near and far edge from the face of the start wall, where that lies furthest out."""

    row: int
    near: float
    far: float


class FromStart:
    """How far things lie from the start wall, measured across the rows."""

    def __init__(self, request: PlanRequest, plan: Plan) -> None:
        ys = [y for _, y in to_frame(request.zone.outline, plan.direction_deg)]
        self.low = request.lay.start is Side.LOW
        self.zero = min(ys) if self.low else max(ys)

    def across(self, y: float) -> float:
        """Return how far a level of the direction frame lies from the start wall."""
        return y - self.zero if self.low else self.zero - y

    def span(self, piece: LaidPiece) -> tuple[float, float]:
        """Return how far a piece's near and far edge lie from the start wall."""
        low, high = sorted((self.across(piece.bounds[1]), self.across(piece.bounds[3])))
        return low, high


def row_lines(request: PlanRequest, plan: Plan) -> tuple[RowEdges, ...]:
    """Return the edges of every row in the order of their numbers, where they lie furthest out."""
    start = FromStart(request, plan)
    spans: dict[int, tuple[float, float]] = {}
    for piece in laid_pieces(plan, request.laid):
        near, far = start.span(piece)
        least, most = spans.get(piece.row, (near, far))
        spans[piece.row] = min(near, least), max(far, most)
    return tuple(RowEdges(row=row, near=near, far=far) for row, (near, far) in sorted(spans.items()))
