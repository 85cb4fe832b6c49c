"""Where trim runs along a room's walls: the walls less their openings. Pure.

corner (inside)                      corner (outside)
  |-------run-------|  opening  |----run----|
                 (butt)      (butt)
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from layout.outline import LENGTH_TOLERANCE, Ring, edges_of, ring_area


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """An opening in a wall: where it begins, from the wall's first corner, and its width."""

    wall: int
    offset: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A piece of wall that carries trim, and what it meets at both ends."""

    wall: int
    length: float
    start_end: str
    finish_end: str


def runs_of(ring: Ring, gaps: Iterable[Gap], *, unit: str) -> list[Run]:
    """Return the runs of trim along every wall of a ring, in walking order.

    An end is "inside" or "outside" at a corner, by the side on which the room lies, and "butt" at
    an opening. Openings may overlap; a rest shorter than the length tolerance is no run.
    """
    openings = sorted(gaps, key=lambda gap: gap.offset)
    corners = [_corner(ring, i) for i in range(len(ring))]
    found: list[Run] = []
    for wall, (a, b) in enumerate(edges_of(ring)):
        ends = corners[wall], corners[(wall + 1) % len(ring)]
        own = [gap for gap in openings if gap.wall == wall]
        found += _along(wall, math.dist(a, b), own, ends, LENGTH_TOLERANCE[unit])
    return found


def _along(
    wall: int, length: float, gaps: list[Gap], ends: tuple[str, str], least: float
) -> Iterator[Run]:
    """Yield the runs of one wall."""
    at, start = 0.0, ends[0]
    for gap in gaps:
        if gap.offset - at > least:
            yield Run(wall=wall, length=gap.offset - at, start_end=start, finish_end="butt")
        at, start = max(at, gap.offset + gap.width), "butt"
    if length - at > least:
        yield Run(wall=wall, length=length - at, start_end=start, finish_end=ends[1])


def _corner(ring: Ring, i: int) -> str:
    """Return "inside" where the room's corner is less than straight, else "outside"."""
    (ax, ay), (bx, by), (cx, cy) = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    turn = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
    return "inside" if turn * ring_area(ring) > 0 else "outside"
