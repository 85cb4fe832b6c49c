"""Levels within a board width at which lines may cross a floor, and the heights of its corners."""

from __future__ import annotations

from shapely.geometry import Polygon

from layout.values.tolerances import PHASE_TOLERANCE

PHASES = 40  # levels tried for the lines, at most


def heights_of(floor: Polygon) -> list[float]:
    """Return the heights of all corners."""
    return [float(y) for ring in (floor.exterior, *floor.interiors) for _, y in ring.coords]


def phases_of(floor: Polygon, width: float) -> list[float]:
    """Return levels within a board width worth trying: one between any two corners' levels.

    Between them the lines cross the same edges; only slanted edges make a difference. Where there
    are many corners, the widest of these stretches.
    """
    levels = sorted({round(y % width, 6) for y in heights_of(floor)})
    stretches = list(zip(levels, [*levels[1:], levels[0] + width], strict=True))
    stretches.sort(key=lambda ends: ends[0] - ends[1])
    return [
        round((low + high) / 2, 6)
        for low, high in stretches[:PHASES]
        if high - low > PHASE_TOLERANCE
    ]
