"""Slanted ends: how much nearer a starter and an ender may lie on a plank than their boxes.

A cut along a slant parts an ender from a starter at one go, so that two ends of one slope nest:

    +-----------/ /------------+     slope: how far a line moves along the plank for each unit
    |  ender   / /   starter   |     across it; a *pool* holds the ends that are parted by lines
    +---------/ /--------------+     of one slope, pool 0 by square cuts

In a pool of slope m an end reaches to where its line meets the low side of the plank: for a
starter the least x - my of its shape, for an ender the greatest. What lies behind its line holds
all of a piece, so that a pair that fits by its lines fits by its shapes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np

from layout.joints.choices import NEVER, Floats, Site, Terms
from layout.rows.runs import Run
from layout.values.tolerances import TOUCHING_TOLERANCE

MOST_SLOPES = 3  # either way, in one floor
_ALIKE = 0.01  # slopes closer than this are one
_BULGE = 0.5  # how far beyond its line a slanted end may reach, in shares of its slant
_HOLLOW = 0.1  # how far it may lie behind that line

Shift = tuple[int, float]  # pool, and how much shorter an end counts there than its box
SQUARE: tuple[Shift, ...] = ((0, 0.0),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slants:
    """The pools that either end of a run may count in, pool 0 first, and how much shorter."""

    left: tuple[Shift, ...] = SQUARE
    right: tuple[Shift, ...] = SQUARE

    @property
    def square(self) -> bool:
        """Whether both ends count by their boxes alone."""
        return len(self.left) == len(self.right) == 1


def counted(lengths: Floats, shorter: float) -> Floats:
    """Return what ends count for in a pool; those that a run does not have stay away."""
    return np.where(lengths < NEVER, lengths - shorter, lengths)


def slants_of(sites: Sequence[Site], terms: Terms) -> list[Slants]:
    """Return the slants of some runs of one width, their pools numbered alike."""
    ends = [_ends_of(site.run, terms) for site in sites]
    slopes = [0.0, *_chosen(*zip(*ends, strict=True))]
    return [
        Slants(
            left=_shifts(site.run, slopes, left, terms, starts=True),
            right=_shifts(site.run, slopes, right, terms, starts=False),
        )
        for site, (left, right) in zip(sites, ends, strict=True)
    ]


def _ends_of(run: Run, terms: Terms) -> tuple[float, float]:
    """Return the slopes of the two ends of a run, 0 where nothing worth a cut nests."""
    if run.rectangular:
        return 0.0, 0.0
    _, low, _, high = run.shape.bounds
    points = [(x, y - low) for x, y in run.shape.exterior.coords]
    mirrored = [(-x, y) for x, y in points]
    return _slope_of(points, high - low, terms), -_slope_of(mirrored, high - low, terms)


def _slope_of(points: Sequence[tuple[float, float]], height: float, terms: Terms) -> float:
    """Return the slope of the left end of an outline, 0 where it is square, stepped or hollow."""
    begin = min(x for x, y in points if y < TOUCHING_TOLERANCE)
    over = min(x for x, y in points if height - y < TOUCHING_TOLERANCE) - begin
    if abs(over) < 2 * terms.kerf + terms.tick:
        return 0.0
    beyond = max(begin, begin + over) + TOUCHING_TOLERANCE
    inward = [(x - begin) / over - y / height for x, y in points if x < beyond]
    if over < 0:
        inward = [-share for share in inward]
    bulges, hollows = -min(inward) > _BULGE, max(inward) > _HOLLOW
    return 0.0 if bulges or hollows else over / height


def _chosen(left: Sequence[float], right: Sequence[float]) -> list[float]:
    """Return slopes that stand for all, a few either way where both ends slant that way."""
    chosen: list[float] = []
    for way in (1.0, -1.0):
        if not all(any(m * way > 0 for m in ends) for ends in (left, right)):
            continue
        apart: list[float] = []
        for slope in sorted(m for m in (*left, *right) if m * way > 0):
            if not apart or slope - apart[-1] > _ALIKE:
                apart.append(slope)
        step = max(1.0, len(apart) / MOST_SLOPES)
        count = min(len(apart), MOST_SLOPES)
        chosen += [apart[int((k + 0.5) * step)] for k in range(count)]
    return chosen


def _shifts(
    run: Run, slopes: Sequence[float], lean: float, terms: Terms, *, starts: bool
) -> tuple[Shift, ...]:
    """Return the pools that an end of some slope may count in, and how much shorter."""
    shifts = list(SQUARE)
    for pool, slope in enumerate(slopes):
        if slope * lean > 0:
            lines = [x - slope * (y - run.y0) for x, y in run.shape.exterior.coords]
            shorter = min(lines) - run.x0 if starts else run.x1 - max(lines)
            # A cut at a slant takes more along the plank; the starter is made to bear it.
            more = terms.kerf * (hypot(1.0, slope) - 1.0) if starts else 0.0
            shifts.append((pool, shorter - more))
    return tuple(shifts)
