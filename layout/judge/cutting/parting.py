"""The judge's saw: is there an order of cuts in which all pieces of a plank come out of it?

A straight cut goes through all that is in hand and takes its kerf as a band beside the edge that
stays:

    +---------+.+---------+
    |  stays  |.|  goes   |     . kerf
    +---------+.+---------+

First come cuts that part pieces from each other, each along a piece that stays or a kerf before
one that goes; then each piece by itself is finished, its straight sides in any order. Notches and
holes take nothing but their own waste, so that a piece that is alone can always be made. What stays
is worked to the end before what goes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from math import hypot

import shapely
from shapely.geometry import Polygon, box

from layout.values.laid_pieces import LaidPiece
from layout.values.outline import Region, polygons_of
from layout.values.plan import Offcut
from layout.values.tolerances import RATIO_TOLERANCE, TOUCHING_TOLERANCE

Group = tuple[LaidPiece, ...]
_AXES = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))
_BOUNDS = 4  # the first lines of a piece are those of its bounds


@dataclass(frozen=True, slots=True)
class _Line:
    """A cut: what stays lies where x * nx + y * ny is at most ``at``."""

    nx: float
    ny: float
    at: float

    def beyond(self, shape: Region) -> tuple[float, float]:
        """Return how far a shape reaches past the line, at its least and at its most."""
        x0, y0, x1, y1 = shape.bounds
        if self.ny == 0:
            ends = x0 * self.nx - self.at, x1 * self.nx - self.at
            return min(ends), max(ends)
        if self.nx == 0:
            ends = y0 * self.ny - self.at, y1 * self.ny - self.at
            return min(ends), max(ends)
        points = shapely.get_coordinates(shape)
        past = points[:, 0] * self.nx + points[:, 1] * self.ny - self.at
        return float(past.min()), float(past.max())

    @property
    def turned(self) -> _Line:
        """The line seen from the other side."""
        return _Line(-self.nx, -self.ny, -self.at)

    def mark(self, near: float) -> tuple[int, int, int]:
        """Return what tells lines apart."""
        return round(self.nx * 1000), round(self.ny * 1000), round(self.at / near)

    def half(self, reach: float, past: float, *, stays: bool) -> Polygon:
        """Return the side of the line moved out by ``past``, as far as ``reach`` from 0, 0."""
        way = -1 if stays else 1
        x, y = self.nx * (self.at + past), self.ny * (self.at + past)
        ax, ay = -self.ny * reach, self.nx * reach
        bx, by = way * self.nx * reach, way * self.ny * reach
        ring = [(x + ax, y + ay), (x - ax, y - ay), (x - ax + bx, y - ay + by)]
        return Polygon([*ring, (x + ax + bx, y + ay + by)])


@dataclass(frozen=True, slots=True)
class Leaving:
    """A told offcut and its shape."""

    offcut: Offcut
    shape: Polygon


@dataclass(frozen=True, slots=True)
class WayOfSawing:
    """How a part can be sawn up: the piece that comes first, what told offcuts it does not leave,
    and, for those that it leaves, the piece in hand when each was put aside."""

    first: LaidPiece
    left: frozenset[int]
    since: tuple[tuple[int, LaidPiece], ...] = ()


@dataclass(frozen=True, eq=False, kw_only=True)
class Saw:
    """A saw for one plank, and the offcuts that are told of it (None: any will do).

    ``kerf`` is what cuts across and slanted ones take, ``kerf_across`` what rips take; leftovers
    of at least ``least`` (length, width) must be told. ``slack``: how far a wall may stand off.
    """

    size: tuple[float, float]
    kerf: float
    kerf_across: float
    least: tuple[float, float]
    near: float
    leavings: Sequence[Leaving] | None = None
    slack: float = 0.0
    _lines: dict[LaidPiece, tuple[_Line, ...]] = field(default_factory=dict)

    @cached_property
    def _reach(self) -> float:
        return 4 * (self.size[0] + self.size[1])

    def ways(self, part: Polygon, group: Group, left: frozenset[int]) -> Iterator[WayOfSawing]:
        """Yield the different ways to saw the pieces of a group out of a part in hand.

        ``left`` are the told offcuts that are still to come, each of which comes once.
        """
        if not all(self.holds(part, piece) for piece in group):
            return
        seen: set[tuple[LaidPiece, frozenset[int]]] = set()
        one = len(group) == 1
        ways = self._finished(part, group[0], left) if one else self._parted(part, group, left)
        for way in ways:
            if (way.first, way.left) not in seen:
                seen.add((way.first, way.left))
                yield way

    def holds(self, part: Polygon, piece: LaidPiece) -> bool:
        """Whether a piece lies within a part, as far as lengths are told apart."""
        x0, y0, x1, y1 = piece.in_plank.bounds
        a0, b0, a1, b1 = part.bounds
        off = 2 * self.near
        if x0 < a0 - off or y0 < b0 - off or x1 > a1 + off or y1 > b1 + off:
            return False
        if _boxed(part):
            return True
        return bool(part.buffer(off, join_style="mitre").contains(piece.in_plank))

    def _parted(self, part: Polygon, group: Group, left: frozenset[int]) -> Iterator[WayOfSawing]:
        """Yield the ways that begin with a cut between the pieces of a group."""
        tried: set[tuple[object, ...]] = set()
        for line in self._between(group):
            kerf = self._kerf(line)
            past = [line.beyond(piece.in_plank) for piece in group]
            stay = tuple(p for p, (_, most) in zip(group, past, strict=True) if most <= self.near)
            go = tuple(
                p for p, (low, _) in zip(group, past, strict=True) if low >= kerf - self.near
            )
            mark = (line.mark(self.near), *(piece.piece.id for piece in stay))
            if stay and go and len(stay) + len(go) == len(group) and mark not in tried:
                tried.add(mark)
                yield from self._apart(part, line, (stay, go), left)

    def _between(self, group: Group) -> Iterator[_Line]:
        """Yield the lines along which pieces may be parted.

        Each runs along a piece that stays, or a kerf before one that goes; where its wall is
        measured on site, clear of how much longer it may come out.
        """
        ways: dict[tuple[float, float], None] = dict.fromkeys(_AXES)
        for piece in group:
            for line in self._edges(piece)[_BOUNDS:]:
                ways.update({(line.nx, line.ny): None, (-line.nx, -line.ny): None})
        for x, y in ways:
            line = _Line(x, y, 0.0)
            for piece in group:
                low, most = line.beyond(piece.in_plank)
                for off in {0.0, self.slack}:
                    yield _Line(x, y, most + off)
                    yield _Line(x, y, low - self._kerf(line) - off)

    def _apart(
        self, part: Polygon, line: _Line, groups: tuple[Group, Group], left: frozenset[int]
    ) -> Iterator[WayOfSawing]:
        """Yield the ways that go on from a cut that parts two groups of pieces."""
        homes: list[tuple[Polygon, Group]] = []
        for shape, group in zip(self._cut(part, line), groups, strict=True):
            for each in shape:
                held = tuple(p for p in group if self.holds(each, p))
                if held:
                    homes.append((each, held))
                    continue
                after = self._without(each, None, left)
                if after is None:
                    return
                left = after
        if sum(len(group) for _, group in homes) == sum(len(group) for group in groups):
            yield from self._in_turn(homes, left)

    def _in_turn(
        self, homes: Sequence[tuple[Polygon, Group]], left: frozenset[int]
    ) -> Iterator[WayOfSawing]:
        """Yield the ways to saw up the first part, then those put aside."""
        for way in self.ways(*homes[0], left):
            ways = [way]
            for part, group in homes[1:]:
                ways = [
                    WayOfSawing(way.first, after, (*now.since, *then.since, *fresh))
                    for now in ways
                    for then in self.ways(part, group, now.left)
                    if (after := self._without(part, then.first, then.left)) is not None
                    for fresh in [tuple((i, way.first) for i in then.left - after)]
                ]
            yield from ways

    def _finished(
        self, part: Polygon, piece: LaidPiece, left: frozenset[int]
    ) -> Iterator[WayOfSawing]:
        """Yield the ways to saw off all that lies past a piece, in any order of its lines.

        Its bounds must be sawn, slanted sides may be; the rest is for the jigsaw. What stays once
        some lines are cut is the same in any order; what goes is not.
        """
        sides = self._edges(piece)
        seen: set[tuple[frozenset[int], frozenset[int]]] = set()
        todo = [(part, frozenset[int](), left)]
        while todo:
            now, done, to_come = todo.pop()
            over = [i for i, side in enumerate(sides) if i not in done and self._past(side, now)]
            if not any(i < _BOUNDS for i in over):
                yield WayOfSawing(piece, to_come)
            for i in over:
                home, after = self._sawn_off(now, piece, sides[i], to_come)
                if after is not None and (done | {i}, after) not in seen:
                    seen.add((done | {i}, after))
                    todo.append((home, done | {i}, after))

    def _past(self, line: _Line, part: Polygon) -> bool:
        """Whether a part reaches past a line, by more than lengths are told apart."""
        return line.beyond(part)[1] > self.near

    def _sawn_off(
        self, part: Polygon, piece: LaidPiece, line: _Line, left: frozenset[int]
    ) -> tuple[Polygon, frozenset[int] | None]:
        """Return what holds the piece after a cut, and the offcuts still to come; None as above."""
        stay, go = self._cut(part, line)
        home = max(stay, key=lambda each: float(each.intersection(piece.in_plank).area))
        after: frozenset[int] | None = left
        for each in (*stay, *go):
            if each is not home and after is not None:
                after = self._without(each, None, after)
        return home, after

    def _cut(self, part: Polygon, line: _Line) -> tuple[tuple[Polygon, ...], tuple[Polygon, ...]]:
        """Return what stays and what goes when a part is cut along a line."""
        kerf = self._kerf(line)
        if 0 in (line.nx, line.ny) and _boxed(part):
            return _box_below(part, line, 0.0), _box_below(part, line.turned, kerf)
        stay = part.intersection(line.half(self._reach, 0.0, stays=True))
        go = part.intersection(line.half(self._reach, kerf, stays=False))
        return _areas(stay), _areas(go)

    def _kerf(self, line: _Line) -> float:
        """Return what the saw takes along a line: level ones are rips."""
        return self.kerf_across if abs(line.nx) < RATIO_TOLERANCE else self.kerf

    def _without(
        self, part: Polygon, user: LaidPiece | None, left: frozenset[int]
    ) -> frozenset[int] | None:
        """Return the offcuts still to come once a part is put aside; None where it is not told."""
        if self.leavings is None:
            return left
        name = None if user is None else user.piece.id
        for i in sorted(left):
            if self.leavings[i].offcut.used_by == name and self._same(self.leavings[i].shape, part):
                return left - {i}
        if user is not None:
            return None
        x0, y0, x1, y1 = part.bounds
        usable = x1 - x0 > self.least[0] + self.near and y1 - y0 > self.least[1] + self.near
        return None if usable else left

    def _same(self, one: Polygon, two: Polygon) -> bool:
        """Whether two shapes are one, as far as lengths are told apart."""
        off = 2 * self.near
        if any(abs(a - b) > off for a, b in zip(one.bounds, two.bounds, strict=True)):
            return False
        if _boxed(one) and _boxed(two):
            return True
        return bool(one.symmetric_difference(two).buffer(-off / 2).is_empty)

    def _edges(self, piece: LaidPiece) -> tuple[_Line, ...]:
        """Return the lines of a piece's bounds, then of its slanted sides with it behind them."""
        if piece not in self._lines:
            self._lines[piece] = tuple(_lines_of(piece.in_plank, self.near))
        return self._lines[piece]


def _lines_of(shape: Polygon, near: float) -> Iterator[_Line]:
    """Yield the lines of a shape's bounds, then of its slanted sides with all of it behind them."""
    left, low, right, high = shape.bounds
    yield from (_Line(-1.0, 0.0, -left), _Line(1.0, 0.0, right))
    yield from (_Line(0.0, -1.0, -low), _Line(0.0, 1.0, high))
    seen: set[tuple[int, int, int]] = set()
    points = list(shapely.geometry.polygon.orient(shape).exterior.coords)
    for (ax, ay), (bx, by) in pairwise(points):
        # An edge that leans by no more than lengths are told apart lies on the bounds.
        if abs(bx - ax) <= near or abs(by - ay) <= near:
            continue
        length = hypot(bx - ax, by - ay)
        nx, ny = (by - ay) / length, (ax - bx) / length
        line = _Line(nx, ny, nx * ax + ny * ay)
        if line.mark(near) not in seen and line.beyond(shape)[1] <= near:
            seen.add(line.mark(near))
            yield line


def _areas(shape: Region) -> tuple[Polygon, ...]:
    """Return the polygons of a cut part without slips of no width."""
    parts = [p for p in getattr(shape, "geoms", [shape]) if isinstance(p, Polygon)]
    return tuple(p for part in parts for p in polygons_of(part) if p.area > TOUCHING_TOLERANCE)


def _box_below(part: Polygon, line: _Line, kerf: float) -> tuple[Polygon, ...]:
    """Return what a box has below a line along it, the kerf left out."""
    x0, y0, x1, y1 = part.bounds
    at = line.at - kerf
    if line.nx > 0:
        x1 = min(x1, at)
    elif line.nx < 0:
        x0 = max(x0, -at)
    elif line.ny > 0:
        y1 = min(y1, at)
    else:
        y0 = max(y0, -at)
    wide, high = x1 - x0, y1 - y0
    return (
        (box(x0, y0, x1, y1),) if min(wide, high) > 0 and wide * high > TOUCHING_TOLERANCE else ()
    )


def _boxed(shape: Polygon) -> bool:
    """Whether a shape fills its bounds."""
    x0, y0, x1, y1 = shape.bounds
    return bool((x1 - x0) * (y1 - y0) - shape.area <= TOUCHING_TOLERANCE * shape.area)
