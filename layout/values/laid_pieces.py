"""Pieces as they lie: every piece of a plan in the direction frame, where planks run along +x."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry import Polygon, box

from layout.values.outline import ring_area, to_frame
from layout.values.plan import Piece, Plan
from layout.values.tolerances import SCRAP_TOLERANCE


@dataclass(frozen=True, eq=False, kw_only=True)
class LaidPiece:
    """A piece as it lies in the direction frame; ``x0``, ``y0`` its plank's lower-left corner."""

    piece: Piece
    shape: Polygon
    x0: float
    y0: float
    before: bool  # it was down before this plan

    @property
    def name(self) -> str:
        """The name in messages."""
        return f"piece {self.piece.id}"

    @property
    def row(self) -> int:
        """The number of its row, as the plan says."""
        return self.piece.row

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, most x, most y."""
        x0, y0, x1, y1 = self.shape.bounds
        return float(x0), float(y0), float(x1), float(y1)

    @cached_property
    def extent(self) -> float:
        """The length along the row."""
        return self.bounds[2] - self.bounds[0]

    def whole(self, near: float) -> bool:
        """Whether it is a whole plank: nothing as wide as ``near`` is missing from it."""
        length, width = self.piece.size
        missing = length * width - self.shape.area
        if missing <= SCRAP_TOLERANCE or missing > 2 * near * (length + width):
            return bool(missing <= SCRAP_TOLERANCE)
        plank = box(self.x0, self.y0, self.x0 + length, self.y0 + width)
        return bool(plank.difference(self.shape).buffer(-near / 2).is_empty)

    @cached_property
    def in_plank(self) -> Polygon:
        """Its shape in the plank's own coordinates."""
        return Polygon(
            [(x - self.x0, y - self.y0) for x, y in self.shape.exterior.coords],
            [[(x - self.x0, y - self.y0) for x, y in r.coords] for r in self.shape.interiors],
        )

    @cached_property
    def edges(self) -> tuple[tuple[float, float, float, float], ...]:
        """Its edges (ax, ay, bx, by), the piece on their left."""
        rings = [(self.shape.exterior, 1), *((ring, -1) for ring in self.shape.interiors)]
        edges = []
        for ring, sign in rings:
            points = list(ring.coords)
            if ring_area(points[:-1]) * sign < 0:
                points.reverse()
            edges += [(*a, *b) for a, b in pairwise(points)]
        return tuple(edges)

    def uprights(self, *, right: bool, near: float) -> Iterator[tuple[float, float, float]]:
        """Yield (x, low, high) of its upright edges that face right or left."""
        for ax, ay, bx, by in self.edges:
            if abs(ax - bx) <= near and abs(ay - by) > near and (by > ay) == right:
                yield (ax + bx) / 2, min(ay, by), max(ay, by)

    def levels(self, *, top: bool, near: float) -> Iterator[tuple[float, float, float]]:
        """Yield (y, left, right) of its level edges that face up or down."""
        for ax, ay, bx, by in self.edges:
            if abs(ay - by) <= near and abs(ax - bx) > near and (bx < ax) == top:
                yield (ay + by) / 2, min(ax, bx), max(ax, bx)


def laid_pieces(plan: Plan, before: Iterable[Piece] = ()) -> tuple[LaidPiece, ...]:
    """Return the pieces of a plan in its direction frame; ``before`` were down already."""
    down = {piece.id for piece in before}
    turn = plan.direction_deg
    origins = to_frame([piece.origin for piece in plan.pieces], turn)
    return tuple(
        LaidPiece(piece=piece, shape=shape, x0=x0, y0=y0, before=piece.id in down)
        for piece, shape, (x0, y0) in zip(
            plan.pieces, _shapes(plan.pieces, turn), origins, strict=True
        )
    )


def _shapes(pieces: Sequence[Piece], turn: float) -> Sequence[Polygon]:
    """Return the shapes of pieces in the direction frame, made all at once."""
    if not pieces:
        return ()
    points = to_frame((point for piece in pieces for point in piece.outline), turn)
    owner = [i for i, piece in enumerate(pieces) for _ in piece.outline]
    shapes: list[Polygon] = list(shapely.polygons(shapely.linearrings(points, indices=owner)))
    for i, piece in enumerate(pieces):
        if piece.holes:
            rings = [to_frame(ring, turn) for ring in piece.holes]
            shapes[i] = Polygon(shapes[i].exterior, rings)
    return shapes


def in_rows(pieces: Iterable[LaidPiece]) -> dict[int, list[LaidPiece]]:
    """Return the pieces of every row, left to right."""
    rows: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in pieces:
        rows[piece.row].append(piece)
    for row in rows.values():
        row.sort(key=lambda piece: piece.bounds)
    return dict(sorted(rows.items()))


def band(pieces: Sequence[LaidPiece]) -> tuple[float, float]:
    """Return the low and the high side of a row."""
    return min(p.bounds[1] for p in pieces), max(p.bounds[3] for p in pieces)
