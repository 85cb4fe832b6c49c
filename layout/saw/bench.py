"""The bench: the plank that is sawn, what a cut takes, and which factory edges a part has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from layout.saw.lines import HIGH, LEFT, LOW, RIGHT, Corners, SawLine, Way, clipped, reach, way_out
from layout.values.outline import Point
from layout.values.tolerances import OVERLAP_TOLERANCE, THIN_NOTCH_TOLERANCE
from layout.values.units import INCH

LEAST_EDGE = 1 / 16  # in: an end or side that is shorter is none to measure from
_MOST_SLANTED = 2  # slanted edges in a row that are sawn straight; more of them are a curve


@dataclass(frozen=True, slots=True, kw_only=True)
class SawBench:
    """A plank's size, what a cut across and a rip take, and lengths that are the same.

    ``least_edge``: what must be left of a factory end or side to measure from it; ``thin``: a
    notch no thicker is none.
    """

    length: float
    width: float
    kerf: float
    rip: float
    near: float
    least_edge: float = LEAST_EDGE
    thin: float = THIN_NOTCH_TOLERANCE["in"]

    @classmethod
    def of(
        cls, size: tuple[float, float], kerfs: tuple[float, float], unit: str, near: float
    ) -> SawBench:
        """Return the bench of a plank of a size; ``kerfs``: across and along."""
        return cls(
            length=size[0],
            width=size[1],
            kerf=kerfs[0],
            rip=kerfs[1],
            near=near,
            least_edge=LEAST_EDGE * INCH[unit],
            thin=THIN_NOTCH_TOLERANCE[unit],
        )

    @property
    def plank(self) -> Corners:
        """The whole plank."""
        length, width = self.length, self.width
        return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))

    def takes(self, way: Way) -> float:
        """Return what a cut takes behind which what goes lies that way."""
        return self.rip if way in (HIGH, LOW) else self.kerf

    def keeps(self, corners: Sequence[Point]) -> tuple[str, ...]:
        """Return the factory ends and sides of which a part has enough to measure from."""
        lengths = dict.fromkeys(("left end", "right end", "low side", "high side"), 0.0)
        near, length, width = self.near, self.length, self.width
        for (x, y), (u, v) in pairwise([*corners, corners[0]]):
            if abs(x) <= near and abs(u) <= near:
                lengths["left end"] += abs(v - y)
            elif abs(x - length) <= near and abs(u - length) <= near:
                lengths["right end"] += abs(v - y)
            elif abs(y) <= near and abs(v) <= near:
                lengths["low side"] += abs(u - x)
            elif abs(y - width) <= near and abs(v - width) <= near:
                lengths["high side"] += abs(u - x)
        return tuple(name for name, has in lengths.items() if has >= self.least_edge - near / 2)

    def has_base(self, corners: Sequence[Point], kind: str) -> bool:
        """Whether a part has what a cut of a kind is measured from.

        An end for a crosscut, a side for a rip, both for what needs two marks.
        """
        kept = self.keeps(corners)
        end = "left end" in kept or "right end" in kept
        side = "low side" in kept or "high side" in kept
        if kind == "crosscut":
            return end
        return side if kind == "rip" else end and side


@dataclass(frozen=True, eq=False, kw_only=True)
class Want:
    """A piece that a plank shall become: its name, its turn in the order of laying, its shape.

    ``grows``: how much longer it may come out to the right, left, high and low, where its wall is
    measured on site. ``thin``: a notch no thicker is none.
    """

    name: str
    turn: int
    shape: Polygon
    near: float
    grows: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    thin: float = THIN_NOTCH_TOLERANCE["in"]

    @cached_property
    def corners(self) -> Corners:
        """The outline, wound left."""
        ring = orient(self.shape, 1.0).exterior.coords
        return tuple((float(x), float(y)) for x, y in ring[:-1])

    def growth(self, way: Way) -> float:
        """Return how much further it may reach that way."""
        x, y = way
        right, left, high, low = self.grows
        return max(x * right, -x * left) + max(y * high, -y * low)

    def far(self, way: Way) -> float:
        """Return how far it may reach that way."""
        return reach(self.corners, way) + self.growth(way)

    @cached_property
    def fine(self) -> bool:
        """Whether it has a notch or a hole: what no straight cut makes."""
        if self.shape.interiors:
            return True
        left, low, right, high = self.shape.bounds
        if (right - left) * (high - low) - self.shape.area < OVERLAP_TOLERANCE:
            return False
        rest: Corners = ((left, low), (right, low), (right, high), (left, high))
        for line in self.lines:
            rest = clipped(rest, line)
        waste = Polygon(rest).difference(self.shape)
        return not waste.buffer(-self.thin / 2).is_empty

    @cached_property
    def lines(self) -> tuple[SawLine, ...]:
        """The straight cuts that its edges ask for, each with the whole piece on one side."""
        edges = [
            (p, way)
            for p, q in pairwise([*self.corners, self.corners[0]])
            if (way := way_out(p, q, self.near)) is not None
        ]
        lines: list[SawLine | None] = []
        for p, way in edges:
            at = reach(self.corners, way)
            on = at - (way[0] * p[0] + way[1] * p[1]) <= self.near
            lines.append(SawLine(way=way, at=at) if on else None)
        kept = [line for line in lines if line and line.kind != "angle"]
        kept += [line for chain in _chains(lines) if len(chain) <= _MOST_SLANTED for line in chain]
        return tuple({(line.way, round(line.at / self.near)): line for line in kept}.values())

    def needed(self, part: Corners) -> tuple[SawLine, ...]:
        """Return the straight cuts that make the piece of a part, but for notches and holes."""
        rest, lines = part, []
        for line in self.lines:
            if reach(part, line.way) > line.at + self.near:
                lines.append(line)
                rest = clipped(rest, line)
        for way in (RIGHT, LEFT, HIGH, LOW):
            at = reach(self.corners, way)
            if rest and reach(rest, way) > at + self.near:
                lines.append(SawLine(way=way, at=at))
                rest = clipped(rest, lines[-1])
        return tuple(lines)


def _chains(lines: Sequence[SawLine | None]) -> list[list[SawLine]]:
    """Return the slanted lines in groups of those whose edges follow each other round the ring."""
    slanted = [line is not None and line.kind == "angle" for line in lines]
    begin = next((i for i, is_slanted in enumerate(slanted) if not is_slanted), 0)
    chains: list[list[SawLine]] = [[]]
    for line in (*lines[begin:], *lines[:begin]):
        if line is not None and line.kind == "angle":
            chains[-1].append(line)
        else:
            chains.append([])
    return [chain for chain in chains if chain]
