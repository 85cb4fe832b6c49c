"""The story stick: where every row ends, measured from the start wall, and what stops rows.

    0    row 1     row 2     row 3      a row's far edge is a mark; where a wall, a casing or a
    |------|---------|----.----|        strip stops a row or a piece between two marks, a stopping
                          |             line stands there, and less than a whole width stays

A stick that is slid moves all marks together, the walls stay: what stays of a row that was cut at
its near edge grows by the slide, of one that was cut at its far edge it shrinks.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.material import Side
from layout.values.outline import Point, to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE

_LEAN = 0.1  # a wall that leans more than one in ten from the rows stops none


@dataclass(frozen=True, slots=True, kw_only=True)
class RowEdges:
    """A row's near and far edge from the face of the start wall, where they lie furthest out."""

    row: int
    near: float
    far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RowStop:
    """A line at which a row, or single pieces of it, are cut along, or end whole at a wall.

    ``at``: how far it lies from the start wall; ``faces`` "near" where what is cut off lies toward
    the start wall, else "far". ``stays``: least and most width that is left of the pieces.
    ``pieces`` is empty where it is all of the row, ``ripped`` where one of them is cut along all of
    its length, else they are notched. ``slides``: how ``stays`` changes with a
    slide of the stick, 0 between two cuts.
    """

    row: int
    at: float
    faces: str
    stays: tuple[float, float]
    width: float
    ripped: bool
    pieces: tuple[str, ...] = ()
    slides: int = 1

    def slid(self, by: float) -> tuple[float, float]:
        """Return least and most of what stays where the stick is slid away from the start wall."""
        least, most = self.stays
        return least + self.slides * by, most + self.slides * by


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

    def plank(self, piece: LaidPiece) -> tuple[float, float]:
        """Return how far the edges of the whole plank of a piece lie from the start wall."""
        ends = (self.across(piece.y0), self.across(piece.y0 + piece.piece.size[1]))
        return min(ends), max(ends)


def row_lines(request: PlanRequest, plan: Plan) -> tuple[RowEdges, ...]:
    """Return the edges of every row in the order of their numbers, where they lie furthest out."""
    start = FromStart(request, plan)
    spans: dict[int, tuple[float, float]] = {}
    for piece in laid_pieces(plan, request.laid):
        near, far = start.span(piece)
        least, most = spans.get(piece.row, (near, far))
        spans[piece.row] = min(near, least), max(far, most)
    return tuple(
        RowEdges(row=row, near=near, far=far) for row, (near, far) in sorted(spans.items())
    )


def stopping_lines(request: PlanRequest, plan: Plan) -> tuple[RowStop, ...]:
    """Return where rows and pieces stop, from the start wall on; what is down is left out."""
    start, near = FromStart(request, plan), LENGTH_TOLERANCE[plan.unit]
    laid = laid_pieces(plan, request.laid)
    edges = {piece.piece.id: list(_edges_along(piece, start, near)) for piece in laid}
    joints = _Joints([edge for of_piece in edges.values() for edge in of_piece], near)
    counts: dict[int, int] = defaultdict(int)
    groups: dict[tuple[int, str, float | None], list[RowStop]] = defaultdict(list)
    for piece in laid:
        counts[piece.row] += 1
        if piece.before:
            continue
        for line in _lines_of(piece, edges[piece.piece.id], joints, start, near):
            level = round(line.at, 1) if line.stays[1] - line.stays[0] <= near else None
            groups[line.row, line.faces, level].append(line)
    joined = [_joined(lines, counts[lines[0].row]) for lines in groups.values()]
    return tuple(sorted(joined, key=lambda line: (line.at, line.row, line.pieces)))


def _joined(lines: list[RowStop], count: int) -> RowStop:
    """Return lines of one row that lie at one level as one; no pieces named where all are in it."""
    first = lines[0]
    names = tuple(dict.fromkeys(name for line in lines for name in line.pieces))
    return RowStop(
        row=first.row,
        at=first.at,
        faces=first.faces,
        stays=(min(line.stays[0] for line in lines), max(line.stays[1] for line in lines)),
        width=first.width,
        ripped=any(line.ripped for line in lines),
        pieces=() if len(names) == count else names,
        slides=first.slides,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Along:
    """An edge of a piece along the row: which way it faces, its levels and its ends."""

    faces: str
    least: float
    most: float
    left: float
    right: float


class _Joints:
    """All edges along the rows, to tell those that meet another piece from those at a wall."""

    def __init__(self, edges: Iterable[_Along], near: float) -> None:
        self._near = near
        self._at: dict[tuple[str, int], list[_Along]] = defaultdict(list)
        for edge in edges:
            self._at[edge.faces, self._place(edge.least)].append(edge)

    def free(self, edge: _Along) -> float:
        """Return how much of a level edge meets no edge that faces it."""
        other = "near" if edge.faces == "far" else "far"
        place = self._place(edge.least)
        met = sum(
            max(min(edge.right, one.right) - max(edge.left, one.left), 0.0)
            for at in (place - 1, place, place + 1)
            for one in self._at.get((other, at), ())
        )
        return edge.right - edge.left - met

    def _place(self, level: float) -> int:
        return round(level / self._near / 4)


def _lines_of(
    piece: LaidPiece, edges: Sequence[_Along], joints: _Joints, start: FromStart, near: float
) -> Iterator[RowStop]:
    """Yield the lines along which one piece is cut, or lies whole against a wall."""
    low, high = start.plank(piece)
    came = {"near": low, "far": high}
    at_walls = [
        edge
        for edge in edges
        if max(abs(edge.least - came[edge.faces]), abs(edge.most - came[edge.faces])) > near
        or joints.free(edge) > 0.1 * piece.extent
    ]
    long = piece.extent - 4 * near
    cut = [
        edge.most for edge in at_walls if edge.faces == "near" and edge.right - edge.left >= long
    ]
    for edge in at_walls:
        base, slides = (high, 1) if edge.faces == "near" else (low, -1)
        if edge.faces == "far" and cut:
            base, slides = cut[0], 0
        stays = sorted((abs(base - edge.least), abs(base - edge.most)))
        yield RowStop(
            row=piece.row,
            at=edge.most if edge.faces == "near" else edge.least,
            faces=edge.faces,
            stays=(stays[0], stays[1]),
            width=high - low,
            ripped=edge.right - edge.left >= long,
            pieces=(piece.piece.id,),
            slides=slides,
        )


def _edges_along(piece: LaidPiece, start: FromStart, near: float) -> Iterator[_Along]:
    """Yield the edges of a piece that run along the row."""
    ring: list[Point] = [(x, y) for x, y, *_ in piece.shape.exterior.coords]
    if not piece.shape.exterior.is_ccw:
        ring.reverse()
    for (ax, ay), (bx, by) in pairwise(ring):
        if abs(bx - ax) <= near or abs(by - ay) > _LEAN * abs(bx - ax):
            continue
        below = bx > ax  # the piece lies on the left of its edge: above this one
        least, most = sorted((start.across(ay), start.across(by)))
        yield _Along(
            faces="near" if below == start.low else "far",
            least=least,
            most=most,
            left=min(ax, bx),
            right=max(ax, bx),
        )
