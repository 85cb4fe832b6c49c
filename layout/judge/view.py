"""What the judge looks at: a plan and its request side by side in the direction frame.

Nothing here trusts the plan's own numbers: runs, joints and row lines are found again from the
outlines of the pieces.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.material import Board, End, Side
from layout.values.outline import HoleKind, Region, polygons_of, region_to_frame
from layout.values.plan import Piece, Plan
from layout.values.regions import laying_region, widest_region
from layout.values.request import PlanRequest
from layout.values.tolerances import AREA_TOLERANCE, LENGTH_TOLERANCE
from layout.values.units import INCH

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong with a plan: the rule, the place, the value found, the limit."""

    rule: str
    where: str
    value: float
    limit: float
    text: str
    rows: tuple[int, ...] = ()

    def __str__(self) -> str:
        return f"{self.rule}: {self.where}: {self.text}"


@dataclass(frozen=True, eq=False, kw_only=True)
class Joint:
    """Where two pieces of a row meet, upright from ``low`` to ``high`` at ``x``."""

    row: int
    x: float
    low: float
    high: float
    left: LaidPiece
    right: LaidPiece

    @property
    def before(self) -> bool:
        """Whether it was down before this plan."""
        return self.left.before and self.right.before


@dataclass(frozen=True, eq=False, kw_only=True)
class View:
    """A plan and its request in the direction frame of the plan."""

    request: PlanRequest
    plan: Plan

    @property
    def near(self) -> float:
        """Lengths closer than this are the same."""
        return LENGTH_TOLERANCE[self.request.unit]

    @property
    def scrap(self) -> float:
        """An area smaller than this is nothing."""
        return AREA_TOLERANCE[self.request.unit]

    @property
    def inch(self) -> float:
        """One inch in the unit of the request."""
        return INCH[self.request.unit]

    @property
    def least_run(self) -> float:
        """A strip shorter than this along the row counts as none (2 in, 50 mm)."""
        return 2.0 if self.request.unit == "in" else 50.0

    @cached_property
    def region(self) -> Region:
        """The laying region in the direction frame."""
        gap = self.request.rules.expansion_gap
        return region_to_frame(laying_region(self.request.zone, gap), self.plan.direction_deg)

    @cached_property
    def least_region(self) -> Region:
        """What must be covered: the region at the widest gaps, in the direction frame."""
        if all(edge.max_gap is None for edge in self.request.zone.edges.values()):
            return self.region
        gap = self.request.rules.expansion_gap
        return region_to_frame(widest_region(self.request.zone, gap), self.plan.direction_deg)

    @cached_property
    def pieces(self) -> tuple[LaidPiece, ...]:
        """Every piece in the direction frame, in the order of the plan."""
        return laid_pieces(self.plan, self.request.laid)

    @cached_property
    def new(self) -> tuple[LaidPiece, ...]:
        """The pieces that this plan lays."""
        return tuple(piece for piece in self.pieces if not piece.before)

    @cached_property
    def rows(self) -> dict[int, list[LaidPiece]]:
        """The pieces of every row, left to right."""
        rows: dict[int, list[LaidPiece]] = defaultdict(list)
        for piece in self.pieces:
            rows[piece.row].append(piece)
        for pieces in rows.values():
            pieces.sort(key=lambda piece: piece.bounds)
        return dict(sorted(rows.items()))

    @cached_property
    def seams(self) -> tuple[Joint, ...]:
        """Every place where two pieces of a row meet, row by row, left to right."""
        return tuple(joint for pieces in self.rows.values() for joint in self._row_joints(pieces))

    @cached_property
    def splits(self) -> tuple[Joint, ...]:
        """The seams where a board is declared split, and is, at a post that it would enclose."""
        both = (joint for joint in self.seams if joint.left.piece.split and joint.right.piece.split)
        return tuple(joint for joint in both if self._sawn_through(joint) and self.posts_at(joint))

    @cached_property
    def joints(self) -> tuple[Joint, ...]:
        """The end joints: seams other than those of a board declared split at a post."""
        freed = set(self.splits)
        return tuple(joint for joint in self.seams if joint not in freed)

    @cached_property
    def fixed_holes(self) -> tuple[BaseGeometry, ...]:
        """The holes that a piece can't be lowered over, in the direction frame."""
        return tuple(
            region_to_frame(Polygon(hole.ring), self.plan.direction_deg)
            for hole in self.request.zone.holes
            if hole.kind is not HoleKind.REGISTER
        )

    def _sawn_through(self, joint: Joint) -> bool:
        """Whether a seam is no joint of two factory ends."""
        ends = (joint.left.x0 + joint.left.piece.size[0], joint.right.x0)
        return any(abs(end - joint.x) > 2 * self.near for end in ends)

    def posts_at(self, joint: Joint) -> int:
        """Return how many posts stand on a seam, enclosed by the two pieces that meet there."""
        grown = [
            piece.shape.buffer(self.near, join_style="mitre") for piece in (joint.left, joint.right)
        ]
        rings = [
            Polygon(ring)
            for part in polygons_of(shapely.union_all(grown))
            for ring in part.interiors
            if ring.bounds[0] <= joint.x <= ring.bounds[2]
        ]
        return sum(any(ring.intersects(hole) for hole in self.fixed_holes) for ring in rings)

    def _row_joints(self, pieces: Sequence[LaidPiece]) -> Iterator[Joint]:
        """Yield the joints of one row."""
        for i, left in enumerate(pieces):
            for right in pieces[i + 1 :]:
                if right.bounds[0] > left.bounds[2] + self.near:
                    break
                spans = list(self._met(left, right))
                if spans:
                    x = spans[0][0]
                    low, high = min(s[1] for s in spans), max(s[2] for s in spans)
                    yield Joint(row=left.row, x=x, low=low, high=high, left=left, right=right)

    def _met(self, left: LaidPiece, right: LaidPiece) -> Iterator[tuple[float, float, float]]:
        """Yield (x, low, high) of the uprights where two pieces meet end to end."""
        for x, low, high in left.uprights(right=True, near=self.near):
            for u, foot, head in right.uprights(right=False, near=self.near):
                if abs(x - u) <= 2 * self.near and min(high, head) - max(low, foot) > self.near:
                    yield x, max(low, foot), min(high, head)

    @cached_property
    def runs(self) -> tuple[tuple[LaidPiece, ...], ...]:
        """The runs: pieces of a row joined end to end, from left to right."""
        leader = {piece: piece for piece in self.pieces}

        def root(piece: LaidPiece) -> LaidPiece:
            while leader[piece] is not piece:
                piece = leader[piece]
            return piece

        for joint in self.seams:
            leader[root(joint.right)] = root(joint.left)
        runs: dict[LaidPiece, list[LaidPiece]] = defaultdict(list)
        for pieces in self.rows.values():
            for piece in pieces:
                runs[root(piece)].append(piece)
        return tuple(tuple(run) for run in runs.values())

    def contacts(self, lower: int, upper: int) -> list[tuple[float, Span]]:
        """Return (y, span) of every stretch of line along which two rows meet."""
        tops = [
            edge
            for piece in self.rows.get(lower, ())
            for edge in piece.levels(top=True, near=self.near)
        ]
        feet = [
            edge
            for piece in self.rows.get(upper, ())
            for edge in piece.levels(top=False, near=self.near)
        ]
        shared = [
            (y, (max(a, c), min(b, d)))
            for y, a, b in tops
            for v, c, d in feet
            if abs(y - v) <= 2 * self.near and min(b, d) - max(a, c) > self.near
        ]
        return self._joined(shared)

    def _joined(self, shared: Iterable[tuple[float, Span]]) -> list[tuple[float, Span]]:
        """Return stretches with touching neighbors on one line made one."""
        joined: list[tuple[float, Span]] = []
        for y, (u, v) in sorted(shared, key=lambda s: (round(s[0] / (4 * self.near)), s[1])):
            if joined:
                line, (a, b) = joined[-1]
                if abs(line - y) <= 2 * self.near and u <= b + 2 * self.near:
                    joined[-1] = (line, (a, max(b, v)))
                    continue
            joined.append((y, (u, v)))
        return joined

    @property
    def from_low(self) -> bool:
        """Whether rows are numbered from the low side."""
        return self.request.lay.start is Side.LOW

    @property
    def from_left(self) -> bool:
        """Whether rows are built from the left end."""
        return self.request.lay.first_end is End.LEFT

    def turn(self, row: int) -> tuple[int, int]:
        """Return what rows are sorted by as they are laid: from the control row on, then back."""
        control = self.plan.lay.control_row
        return (0, row) if control is None or row >= control else (1, -row)

    def board_of(self, piece: Piece) -> Board | None:
        """Return the board of the product that the piece's plank is, None where there is none."""
        for board in self.request.product.boards:
            off = max(abs(piece.size[0] - board.length), abs(piece.size[1] - board.width))
            if off <= self.near:
                return board
        return None
