"""One piece of a plan, as a person asks for it: its cuts, its plank, what lies around it. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jobs.domain.lengths import core_length_words
from layout.cutsheet.rows import PieceSheet, RowsOfSheet
from layout.cutsheet.trapped import how_in
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet

_TOUCHING = 0.05  # of an inch or of a millimeter: joints are drawn closed


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbor:
    """A piece that touches the one asked for, and where."""

    id: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceDetails:
    """A piece: size, row, cuts in words, the plank it comes from with what else is cut from it.

    ``cutting`` is what the cut sheet says of it, None for a whole board and what is down.
    """

    id: str
    row: int
    size: str
    plank: int
    whole: bool
    variant: str
    cutting: PieceSheet | None
    how_in: str
    trapped: bool
    down: bool
    same_plank: tuple[str, ...]
    offcuts: tuple[str, ...]
    neighbors: tuple[Neighbor, ...]


def details_of(request: PlanRequest, plan: Plan, sheet: CutSheet, piece_id: str) -> PieceDetails:
    """Return what there is to say of a piece. Raises KeyError where the plan has no such piece."""
    laid = {one.piece.id: one for one in laid_pieces(plan, request.laid)}
    shown = laid[piece_id]
    cutting = None if shown.before else RowsOfSheet(request, plan, sheet).piece(piece_id)
    x0, y0, x1, y1 = shown.bounds
    length, width = (core_length_words(side, plan.unit) for side in (x1 - x0, y1 - y0))
    of_plank = [one.piece.id for one in laid.values() if one.piece.plank == shown.piece.plank]
    return PieceDetails(
        id=piece_id,
        row=shown.row,
        size=f"{length} by {width}",
        plank=shown.piece.plank,
        whole=cutting is None,
        variant=shown.piece.variant or "",
        cutting=cutting,
        how_in=how_in(request, shown.piece) or "",
        trapped=shown.piece.trapped,
        down=shown.before,
        same_plank=tuple(name for name in of_plank if name != piece_id),
        offcuts=tuple(o.id for o in plan.offcuts if o.plank == shown.piece.plank),
        neighbors=tuple(_neighbors(shown, list(laid.values()))),
    )


def _neighbors(shown: LaidPiece, laid: list[LaidPiece]) -> Iterator[Neighbor]:
    """Yield the pieces that touch one, its own row first, then the rows before and after."""
    for other in laid:
        if other is shown or abs(other.row - shown.row) > 1:
            continue
        if other.shape.distance(shown.shape) > _TOUCHING:
            continue
        if other.row == shown.row:
            yield Neighbor(id=other.piece.id, where="end to end with it")
        elif _beside(shown, other):
            where = "in the row before" if other.row < shown.row else "in the row after"
            yield Neighbor(id=other.piece.id, where=where)


def _beside(one: LaidPiece, other: LaidPiece) -> bool:
    """Whether two pieces of neighboring rows share more than a corner."""
    return min(one.bounds[2], other.bounds[2]) - max(one.bounds[0], other.bounds[0]) > _TOUCHING
