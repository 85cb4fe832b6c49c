"""One piece with its cuts as the kneeling person sees them: what was taken, what stays."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from shapely.geometry import Polygon

from layout.cutsheet.cut_view import CutView
from layout.cutsheet.in_hand import kept_sides, parts_cut
from layout.cutsheet.words import figures_of, view_of
from layout.values.outline import polygons_of
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import LENGTH_TOLERANCE


@dataclass(frozen=True, eq=False, kw_only=True)
class SeenPiece:
    """A piece that is cut, on its whole board: the near left corner of that lies at 0, 0.

    ``views`` are its cuts as they are made, one at least.
    """

    id: str
    views: tuple[CutView, ...]

    @property
    def size(self) -> tuple[float, float]:
        """The size of the whole board."""
        return self.views[0].size

    @property
    def taken(self) -> Polygon:
        """The board or offcut that it is cut from."""
        return self.views[0].part

    @cached_property
    def shape(self) -> Polygon:
        """What stays after the last cut."""
        last = self.views[-1]
        return max(polygons_of(last.seen(last.made.stays)), key=lambda part: float(part.area))

    @cached_property
    def figures(self) -> tuple[tuple[str, float], ...]:
        """What its words measure: from which end or edge of the board, to which place."""
        return tuple(dict.fromkeys(figure for view in self.views for figure in figures_of(view)))

    @cached_property
    def kept(self) -> frozenset[str]:
        """The ends and edges that it keeps as they came."""
        last = self.views[-1]
        return frozenset(map(last.name, kept_sides(last.made.stays, last.size, last.unit)))

    def straight(self, side: str) -> bool:
        """Whether an edge of the piece lies along its end or edge that way."""
        axis = 0 if side in ("left", "right") else 1
        at = self.shape.bounds[axis + (0 if side in ("left", "near") else 2)]
        near = LENGTH_TOLERANCE[self.views[0].unit]
        return any(
            abs(a[axis] - at) <= near and abs(b[axis] - at) <= near and a != b
            for a, b in pairwise(self.shape.exterior.coords)
        )


def seen_piece(
    request: PlanRequest, plan: Plan, sheet: CutSheet, piece_id: str
) -> SeenPiece | None:
    """Return a piece with its cuts, None where nothing is cut for it.

    Raises KeyError where the plan has no such piece.
    """
    row = {piece.id: piece.row for piece in plan.pieces}[piece_id]
    for plank in sheet.planks:
        if any(cut.then.in_hand == piece_id for cut in plank.cuts):
            views = tuple(
                view_of(made, size=plank.size, request=request, row=row)
                for made in parts_cut(plank, request)
                if made.cut.then.in_hand == piece_id
            )
            return SeenPiece(id=piece_id, views=views)
    return None
