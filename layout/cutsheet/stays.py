"""What stays of a cut piece, measured from the ends and edges that a person can put a tape on.

+-------------------+     only what stays is measured: 31 1/2 is the far edge that is left,
|              +----+     4 1/2 the right end that is left; the notch itself has no figure
|              |
+--------------+          far edge above, near edge below, as the kneeling person sees it
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from layout.cutsheet.cut_view import CutView
from layout.cutsheet.seen_piece import SeenPiece
from layout.values.outline import Point, Region, polygons_of
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import INCH

SMALL = 1.0  # inches: up to here a notch is drawn at true size as well
THIN = 0.25  # inches: what is thinner breaks off, or can't be sawn off; common practice, no source
_TOUCHED = 8  # tolerances: a cut that lies on an outline no longer than that only meets it
_FINGER = 0.5  # inches: a thin part is a finger from this length on


@dataclass(frozen=True, slots=True, kw_only=True)
class StaysFigure:
    """A figure of what stays: from which end or edge, to which place on the board.

    ``on`` is the place of the corner across the figure's way: where it is drawn.
    """

    base: str
    start: float
    end: float
    on: float

    @property
    def length(self) -> float:
        """The figure itself."""
        return abs(self.end - self.start)


def along_figures(piece: SeenPiece) -> tuple[StaysFigure, ...]:
    """Return the figures along the board that its cuts are marked with, the shortest first."""
    return _figures(piece, 0, ("left", "right"))


def across_figures(piece: SeenPiece) -> tuple[StaysFigure, ...]:
    """Return the figures across the board that its cuts are marked with, the shortest first."""
    return _figures(piece, 1, ("near", "far"))


def _figures(piece: SeenPiece, axis: int, sides: tuple[str, str]) -> tuple[StaysFigure, ...]:
    """Return the figures along one axis: of every place with a corner the one best to measure."""
    near = LENGTH_TOLERANCE[piece.views[0].unit]
    ends = _ends(piece, axis, sides)
    bases = [*ends]
    best: dict[int, tuple[int, float, StaysFigure]] = {}
    for corner in _corners(piece.shape):
        at = corner[axis]
        if any(abs(at - ends[base]) <= near for base in bases):
            continue
        for base in bases:
            figure = StaysFigure(base=base, start=ends[base], end=at, on=corner[1 - axis])
            ranked = (_rank(piece, figure, axis, near), figure.length, figure)
            place = round(at / near / 4)
            if place not in best or ranked[:2] < best[place][:2]:
                best[place] = ranked
    return tuple(sorted((figure for _, _, figure in best.values()), key=lambda one: one.length))


def _ends(piece: SeenPiece, axis: int, sides: tuple[str, str]) -> dict[str, float]:
    """Return the ends that a piece is measured from along one axis, with their places.

    Those that it keeps; else those that are cut straight; else the nearer one that the board in
    hand still has, since no tape holds on a tip; else its first side.
    """
    bounds = piece.shape.bounds
    reach = dict(zip(sides, (bounds[axis], bounds[axis + 2]), strict=True))
    kept = [side for side in sides if side in piece.kept]
    if ends := kept or [side for side in sides if piece.straight(side)]:
        return {side: reach[side] for side in ends}
    board = dict(zip(sides, (0.0, piece.size[axis]), strict=True))
    there = [side for side in sides if side in piece.views[0].kept]
    nearer = min(there, key=lambda side: abs(board[side] - reach[side]), default=None)
    return {sides[0]: reach[sides[0]]} if nearer is None else {nearer: board[nearer]}


def base_beyond(piece: SeenPiece) -> tuple[float, float] | None:
    """Return from where to where a piece reaches with an end that it is measured from and loses."""
    left, _, right, _ = piece.shape.bounds
    ends = _ends(piece, 0, ("left", "right")).values()
    reach = min(left, *ends), max(right, *ends)
    return None if reach == (left, right) else reach


def _corners(shape: Polygon) -> Iterator[Point]:
    """Yield the corners of what stays."""
    for ring in (shape.exterior, *shape.interiors):
        yield from ((float(x), float(y)) for x, y in list(ring.coords)[:-1])


def _rank(piece: SeenPiece, one: StaysFigure, axis: int, near: float) -> int:
    """Return how well a tape lies where a figure is measured, 0 best.

    0: along an outer edge that stays; 1: over what stays; 2: along the edge of a notch, which
    would read as the notch's own size; 3: over what is cut off.
    """
    ends = ((one.start, one.on), (one.end, one.on))
    tape = LineString(ends if axis == 0 else [(y, x) for x, y in ends])
    if not piece.shape.buffer(near).covers(tape):
        return 3
    low, high = piece.shape.bounds[1 - axis], piece.shape.bounds[3 - axis]
    if min(abs(one.on - low), abs(one.on - high)) <= near:
        return 0
    beside = piece.shape.boundary.buffer(near).intersection(tape).length
    return 1 if beside < tape.length / 2 else 2


def notches(piece: SeenPiece) -> tuple[Polygon, ...]:
    """Return what is cut out of the piece's own box: its notches and holes."""
    near = LENGTH_TOLERANCE[piece.views[0].unit]
    gone = box(*piece.shape.bounds).difference(piece.shape)
    parts = [part for part in polygons_of(gone) if not part.buffer(-near / 2).is_empty]
    return tuple(sorted(parts, key=lambda part: part.bounds))


def sawn_edge(piece: SeenPiece, view: CutView) -> BaseGeometry:
    """Return where a cut lies on the outline of what stays; empty where a later one took that."""
    near = LENGTH_TOLERANCE[view.unit]
    edge = view.line.intersection(piece.shape.boundary.buffer(near))
    return edge if edge.length > _TOUCHED * near else LineString()


def small_notches(piece: SeenPiece) -> tuple[Polygon, ...]:
    """Return the notches that are an inch or less one way."""
    most = SMALL * INCH[piece.views[0].unit] + LENGTH_TOLERANCE[piece.views[0].unit]
    return tuple(part for part in notches(piece) if min(_sides(part)) <= most)


def fingers(shape: Region, unit: str) -> tuple[float, ...]:
    """Return how thin every finger of a shape is: a long part under a quarter inch."""
    inch, near = INCH[unit], LENGTH_TOLERANCE[unit]
    half = THIN * inch / 2 - near / 2
    sound = shape.buffer(-half, join_style="mitre").buffer(half, join_style="mitre")
    sizes = []
    for part in polygons_of(shape.difference(sound.buffer(near / 10))):
        frame = part.minimum_rotated_rectangle
        if not isinstance(frame, Polygon) or part.area < 0.6 * frame.area:
            continue
        corners = list(frame.exterior.coords)
        sides = sorted(
            ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in pairwise(corners[:3])
        )
        if sides[0] > near and sides[1] >= _FINGER * inch:
            sizes.append(float(sides[0]))
    return tuple(sizes)


def thin_trims(piece: SeenPiece) -> tuple[tuple[str, float], ...]:
    """Return the cuts that take off less than a quarter inch: their kind, how much they take."""
    unit = piece.views[0].unit
    most, near = THIN * INCH[unit] - LENGTH_TOLERANCE[unit], LENGTH_TOLERANCE[unit]
    trims = []
    for view in piece.views:
        gone = view.made.part.difference(view.made.stays)
        for part in polygons_of(gone):
            thin = min(_sides(part))
            if near < thin < most:
                trims.append((view.cut.kind, thin))
                break
    return tuple(trims)


def _sides(part: Polygon) -> tuple[float, float]:
    """Return how far a part reaches along and across."""
    x0, y0, x1, y1 = part.bounds
    return x1 - x0, y1 - y0
