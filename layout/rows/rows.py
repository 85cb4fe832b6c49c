"""Rows and runs: the laying region cut along its row lines.

    row 3   |      run 3-1     |        y1  a *row* is one board width, from y0 to y1
    row 2   | run 2-1 | | 2-2  |        y0  a *run* is a connected stretch of a row
    row 1   |      run 1-1     |
            x0                 x1

Everything here lives in the *working frame*: the room turned back by the laying direction and
mirrored so that rows start at the low side and are built from the left end. A board mirrored with
its room is still that board, so a plan found here is turned back without further thought.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from layout.values.material import Board, End, Lay, Side
from layout.values.outline import (
    Point,
    Region,
    Ring,
    from_frame,
    polygons_of,
    region_to_frame,
    to_frame,
)
from layout.values.tolerances import (
    NECK_TOLERANCE,
    OVERLAP_TOLERANCE,
    RECTANGLE_TOLERANCE,
    TOUCHING_TOLERANCE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The working frame of a direction and a pair of hands."""

    direction_deg: float
    lay: Lay = field(default_factory=Lay)

    def region(self, region: Region) -> Region:
        """Return a region of the room in the working frame."""
        turned = region_to_frame(region, self.direction_deg)
        return shapely.transform(turned, lambda points: points * self._signs)

    def inward(self, points: Iterable[Point]) -> Ring:
        """Return room points in the working frame."""
        sx, sy = self._signs
        return tuple((sx * x, sy * y) for x, y in to_frame(points, self.direction_deg))

    def outward(self, points: Iterable[Point]) -> Ring:
        """Return points of the working frame in room coordinates."""
        sx, sy = self._signs
        return from_frame(((sx * x, sy * y) for x, y in points), self.direction_deg)

    def corner(self, corner: Point, size: tuple[float, float]) -> Point:
        """Return, in the room, the lower-left corner (direction frame) of a board laid here."""
        x, y = self._turned_corner(*corner, *size)
        return from_frame([(x, y)], self.direction_deg)[0]

    def plank_corner(
        self, left: float, low: float, length: float, width: float, size: tuple[float, float]
    ) -> Point:
        """Return the lower-left corner of a box of a plank in that plank's own coordinates."""
        x = size[0] - left - length if self.mirrored_x else left
        y = size[1] - low - width if self.mirrored_y else low
        return x + 0.0, y + 0.0

    def plank_shape(self, shape: Polygon, size: tuple[float, float]) -> Polygon:
        """Return a shape cut from a plank in that plank's own coordinates."""
        if not (self.mirrored_x or self.mirrored_y):
            return shape
        dx = size[0] if self.mirrored_x else 0.0
        dy = size[1] if self.mirrored_y else 0.0
        return shapely.transform(shape, lambda points: points * self._signs + (dx, dy))

    def _turned_corner(self, x: float, y: float, length: float, width: float) -> Point:
        """Return the low corner, in the direction frame, of a box given in this frame."""
        return (
            -(x + length) if self.mirrored_x else x,
            -(y + width) if self.mirrored_y else y,
        )

    @property
    def mirrored_x(self) -> bool:
        """Whether left and right trade places: rows built from the right end."""
        return self.lay.first_end is End.RIGHT

    @property
    def mirrored_y(self) -> bool:
        """Whether low and high trade places: rows numbered from the high side."""
        return self.lay.start is Side.HIGH

    @property
    def _signs(self) -> tuple[float, float]:
        return (-1.0 if self.mirrored_x else 1.0, -1.0 if self.mirrored_y else 1.0)


@dataclass(frozen=True, kw_only=True)
class Run:
    """A connected stretch of a row.

    ``shape`` is its polygon; ``posts`` are the extents along the row of what it encloses and no
    piece may. ``y0`` and ``y1`` are the sides of the uncut boards that lie in it, so that
    ``y1 - y0`` is the board width however much of the run is ripped away.
    """

    row: int
    place: int
    shape: Polygon
    y0: float
    y1: float
    posts: tuple[tuple[float, float], ...] = ()

    @property
    def name(self) -> str:
        """The name in messages: row and place, as in 3-2."""
        return f"{self.row}-{self.place}"

    @cached_property
    def x0(self) -> float:
        """The left end."""
        return float(self.shape.bounds[0])

    @cached_property
    def x1(self) -> float:
        """The right end."""
        return float(self.shape.bounds[2])

    @property
    def length(self) -> float:
        """The extent along the row."""
        return self.x1 - self.x0

    @property
    def width(self) -> float:
        """The width of the boards that lie in it."""
        return round(self.y1 - self.y0, 6)

    @cached_property
    def rip(self) -> tuple[float, float]:
        """What is missing of the board width along the whole run, at its low and high side."""
        _, low, _, high = self.shape.bounds
        return max(0.0, float(low) - self.y0), max(0.0, self.y1 - float(high))

    @cached_property
    def rectangular(self) -> bool:
        """Whether the run is a plain rectangle (of any width)."""
        left, low, right, high = self.shape.bounds
        full = (right - left) * (high - low)
        return bool(abs(full - self.shape.area) < RECTANGLE_TOLERANCE * max(1.0, full))

    def parts(self, shapes: Iterable[shapely.Geometry]) -> list[Run]:
        """Return runs for what is left of this one, left to right, with the posts they enclose."""
        kept = [p for shape in shapes for p in _polygons(shape)]
        runs = []
        for shape in sorted(kept, key=lambda p: p.bounds):
            rings = {(round(r.bounds[0], 5), round(r.bounds[2], 5)) for r in shape.interiors}
            posts = tuple(s for s in self.posts if (round(s[0], 5), round(s[1], 5)) in rings)
            runs.append(replace(self, shape=shape, posts=posts))
        return runs

    @cached_property
    def full(self) -> bool:
        """Whether the run is a rectangle as wide as a board: no rip, no notch, no angle."""
        return self.rectangular and sum(self.rip) < TOUCHING_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One board width of floor, numbered from 1 at the start wall, and the runs in it."""

    number: int
    y0: float
    y1: float
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Two runs of rows that touch, and the stretches [u, v] of row line where they meet."""

    low: int
    high: int
    stretches: tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class Floor:
    """The rows of one connected region for one first rip, the width of row 1.

    ``joined`` makes one floor of several such regions; rows of different parts never touch.
    """

    region: Region
    board: Board
    rows: tuple[Row, ...]

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """Every run, row by row, left to right; contacts count in this order."""
        return tuple(run for row in self.rows for run in row.runs)

    def with_runs(self, runs: Sequence[Run]) -> Floor:
        """Return the floor with other runs in its rows, placed anew in the order given."""
        rows = []
        for row in self.rows:
            of_row = [run for run in runs if run.row == row.number]
            placed = tuple(replace(run, place=j + 1) for j, run in enumerate(of_row))
            rows.append(replace(row, runs=placed))
        return replace(self, rows=tuple(rows))

    @cached_property
    def contacts(self) -> tuple[Contact, ...]:
        """Which runs of neighboring rows touch, by their index in ``runs``."""
        return tuple(_contacts(self.runs))


def joined(floors: Sequence[Floor]) -> Floor:
    """Return the floors of the parts of a region as one, rows numbered on from part to part."""
    if len(floors) == 1:
        return floors[0]
    rows: list[Row] = []
    for floor in floors:
        first = len(rows)
        rows += [
            replace(
                row,
                number=row.number + first,
                runs=tuple(replace(run, row=run.row + first) for run in row.runs),
            )
            for row in floor.rows
        ]
    region = shapely.MultiPolygon([p for floor in floors for p in polygons_of(floor.region)])
    return replace(floors[0], region=region, rows=tuple(rows))


def floor_of(
    region: Region, board: Board, first_rip: float, *, registers: Sequence[Polygon] = ()
) -> Floor:
    """Cut ``region`` (working frame, not empty) into rows of ``board``, the first one ripped.

    ``first_rip`` lies above 0 and up to the board width. A piece may enclose ``registers``.
    """
    _, low, _, high = region.bounds
    bands = [(low + first_rip - board.width, low + first_rip)]
    while bands[-1][1] < high - TOUCHING_TOLERANCE:
        line = bands[-1][1]
        bands.append((line, low + first_rip + len(bands) * board.width))
    return Floor(region=region, board=board, rows=_rows(region, bands, registers))


def floor_of_widths(
    region: Region, board: Board, widths: Sequence[float], *, registers: Sequence[Polygon] = ()
) -> Floor:
    """Cut ``region`` into rows of these board widths, beginning at its low side.

    ``board`` tells the length, the same for all; the last width may reach past the region.
    """
    lines = [float(region.bounds[1])]
    for width in widths:
        lines.append(lines[-1] + width)
    rows = _rows(region, list(pairwise(lines)), registers)
    return Floor(region=region, board=board, rows=rows)


def _rows(
    region: Region, bands: Sequence[tuple[float, float]], registers: Sequence[Polygon]
) -> tuple[Row, ...]:
    """Return the rows of a region between the sides of their boards."""
    left, low, right, high = region.bounds
    feet = [max(y0, low - 1) for y0, _ in bands]
    heads = [min(y1, high + 1) for _, y1 in bands]
    parts = shapely.intersection(region, shapely.box(left - 1, feet, right + 1, heads))
    rows = []
    for i, ((y0, y1), part) in enumerate(zip(bands, parts, strict=True)):
        shapes = sorted(_polygons(part), key=lambda p: p.bounds)
        runs = tuple(
            Run(row=i + 1, place=j + 1, shape=p, y0=y0, y1=y1, posts=_posts(p, registers))
            for j, p in enumerate(shapes)
        )
        rows.append(Row(number=i + 1, y0=y0, y1=y1, runs=runs))
    return tuple(rows)


def _posts(shape: Polygon, registers: Sequence[Polygon]) -> tuple[tuple[float, float], ...]:
    """Return the extents of what a run encloses, registers left out."""
    return tuple(
        sorted(
            (ring.bounds[0], ring.bounds[2])
            for ring in shape.interiors
            if not any(Polygon(ring).contains(register) for register in registers)
        )
    )


def _polygons(part: shapely.Geometry) -> list[Polygon]:
    """Return the polygons of a cut, what comes from rounding left out."""
    polygons = []
    for piece in getattr(part, "geoms", [part]):
        if isinstance(piece, Polygon) and not piece.is_empty:
            x0, y0, x1, y1 = piece.bounds
            if min(x1 - x0, y1 - y0) > TOUCHING_TOLERANCE and piece.area > OVERLAP_TOLERANCE:
                polygons += _divided(piece)
    return polygons


def _divided(shape: Polygon) -> list[Polygon]:
    """Return the parts of a shape that hang together by more than a neck of rounding."""
    if len(shape.exterior.coords) <= 5:
        return [shape]
    core = shape.buffer(-NECK_TOLERANCE, join_style="mitre")
    parts = [p for p in getattr(core, "geoms", [core]) if p.area > OVERLAP_TOLERANCE]
    if len(parts) < 2:
        return [shape]
    return [p.buffer(NECK_TOLERANCE, join_style="mitre") for p in parts]


def _contacts(runs: Sequence[Run]) -> Iterator[Contact]:
    """Yield the contacts of neighboring rows, by index, in order."""
    rows: dict[int, list[int]] = {}
    for index, run in enumerate(runs):
        rows.setdefault(run.row, []).append(index)
    for number, lows in rows.items():
        highs = rows.get(number + 1, [])
        tops = {i: line_stretches(runs[i].shape, runs[i].y1) for i in lows}
        feet = {j: line_stretches(runs[j].shape, runs[j].y0) for j in highs}
        for i in lows:
            for j in highs:
                shared = tuple(_overlaps(tops[i], feet[j]))
                if shared:
                    yield Contact(low=i, high=j, stretches=shared)


def line_stretches(shape: Polygon, y: float) -> list[tuple[float, float]]:
    """Return the stretches of the horizontal line ``y`` that edges of ``shape`` lie on, sorted."""
    stretches: list[tuple[float, float]] = []
    for ring in (shape.exterior, *shape.interiors):
        points = list(ring.coords)
        for (ax, ay), (bx, by) in pairwise(points):
            if (
                abs(ay - y) < TOUCHING_TOLERANCE
                and abs(by - y) < TOUCHING_TOLERANCE
                and abs(ax - bx) > TOUCHING_TOLERANCE
            ):
                stretches.append((min(ax, bx), max(ax, bx)))
    return _joined(sorted(stretches))


def _joined(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return sorted spans with touching neighbors made one."""
    joined: list[tuple[float, float]] = []
    for u, v in spans:
        if joined and u <= joined[-1][1] + TOUCHING_TOLERANCE:
            joined[-1] = (joined[-1][0], max(joined[-1][1], v))
        else:
            joined.append((u, v))
    return joined


def _overlaps(
    first: Sequence[tuple[float, float]], second: Sequence[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    """Yield what sorted spans share, touching points left out."""
    starts = [u for u, _ in second]
    for u, v in first:
        k = max(0, bisect_left(starts, u) - 1)
        while k < len(second) and second[k][0] < v:
            lo, hi = max(u, second[k][0]), min(v, second[k][1])
            if hi - lo > TOUCHING_TOLERANCE:
                yield lo, hi
            k += 1
