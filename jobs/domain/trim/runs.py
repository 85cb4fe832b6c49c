"""Where trim runs along a room's walls: the walls less their openings. Pure.

corner (cope)                        corner (outside)
  |-------run-------|  opening  |----run----|
                 (butt)      (butt)

At an inside corner the run that ends there is cut square into it ("inside"), and the run that
begins there is coped over that one, in walking order: common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from layout.values.outline import Ring, edges_of, ring_area
from layout.values.tolerances import LENGTH_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimGap:
    """An opening in a wall: where it begins, from the wall's first corner, and its width."""

    wall: int
    offset: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WallRun:
    """A piece of wall that carries trim, and what it meets at both ends.

    ``place`` counts the pieces of one wall from its first corner, from 0.
    """

    wall: int
    length: float
    start_end: str
    finish_end: str
    place: int = 0


STRAIGHT_DEG = 8.0
"""Up to here a corner is a bend of one wall, where trim is butted: common practice, no source."""


def runs_of(
    ring: Ring, gaps: Iterable[TrimGap], *, unit: str, bare: frozenset[int] = frozenset()
) -> list[WallRun]:
    """Return the runs of trim along every wall of a ring but the ``bare`` ones, in walking order.

    An end is "outside" at a corner that juts into the room, "butt" at an opening, at a bare wall
    and where the wall hardly turns; at any other corner a run begins with "cope" and ends "inside".
    Openings may overlap; a rest shorter than the length tolerance is no run.
    """
    sides = _sides(ring, sorted(gaps, key=lambda gap: gap.offset), LENGTH_TOLERANCE[unit], bare)
    return [run for wall in range(len(ring)) for run in _along(ring, sides, wall, bare)]


def spans_of(
    ring: Ring, gaps: Iterable[TrimGap], *, unit: str, bare: frozenset[int] = frozenset()
) -> dict[tuple[int, int], tuple[float, float]]:
    """Return where each run begins and ends on its wall, by wall and place."""
    sides = _sides(ring, sorted(gaps, key=lambda gap: gap.offset), LENGTH_TOLERANCE[unit], bare)
    return {
        (wall, place): span
        for wall, side in enumerate(sides)
        for place, span in enumerate(side.spans)
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """A wall: the spans that carry trim, and whether they reach its first and last corner."""

    spans: list[tuple[float, float]]
    from_corner: bool
    to_corner: bool


def _sides(ring: Ring, gaps: list[TrimGap], least: float, bare: frozenset[int]) -> list[_Side]:
    """Return the walls of a ring with what carries trim."""
    sides: list[_Side] = []
    for wall, (a, b) in enumerate(edges_of(ring)):
        length = math.dist(a, b)
        in_wall = [gap for gap in gaps if gap.wall == wall]
        spans = [] if wall in bare else list(_spans(length, in_wall, least))
        starts = bool(spans) and spans[0][0] <= least
        ends = bool(spans) and spans[-1][1] >= length - least
        sides.append(_Side(spans=spans, from_corner=starts, to_corner=ends))
    return sides


def _along(ring: Ring, sides: list[_Side], wall: int, bare: frozenset[int]) -> Iterator[WallRun]:
    """Yield the runs of one wall with what their ends meet."""
    side, after = sides[wall], (wall + 1) % len(ring)
    last = len(side.spans) - 1
    for place, (start, end) in enumerate(side.spans):
        begins = ends = "butt"
        if place == 0 and side.from_corner and (wall - 1) % len(ring) not in bare:
            begins = _begin(_corner(ring, wall), met=sides[wall - 1].to_corner)
        if place == last and side.to_corner and after not in bare:
            ends = _corner(ring, after)
        yield WallRun(wall=wall, length=end - start, start_end=begins, finish_end=ends, place=place)


def _begin(corner: str, *, met: bool) -> str:
    """Return how a run begins at a corner: coped only over trim that reaches the corner."""
    return "cope" if corner == "inside" and met else corner


def _spans(length: float, gaps: list[TrimGap], least: float) -> Iterator[tuple[float, float]]:
    """Yield from where to where a wall carries trim."""
    at = 0.0
    for gap in gaps:
        if gap.offset - at > least:
            yield at, gap.offset
        at = max(at, gap.offset + gap.width)
    if length - at > least:
        yield at, length


def _corner(ring: Ring, i: int) -> str:
    """Return "inside" where the room's corner is less than straight, "outside", or "butt"."""
    (ax, ay), (bx, by), (cx, cy) = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
    ahead = (bx - ax) * (cx - bx) + (by - ay) * (cy - by)
    if abs(math.degrees(math.atan2(turn, ahead))) <= STRAIGHT_DEG:
        return "butt"
    return "inside" if turn * ring_area(ring) > 0 else "outside"
