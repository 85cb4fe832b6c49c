"""Which runs of neighboring rows touch, and along which stretches of the line between them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon

from layout.rows.runs import Run
from layout.values.tolerances import TOUCHING_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Two runs of rows that touch, and the stretches [u, v] of row line where they meet."""

    low: int
    high: int
    stretches: tuple[tuple[float, float], ...]


def contacts_of(runs: Sequence[Run]) -> Iterator[Contact]:
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
