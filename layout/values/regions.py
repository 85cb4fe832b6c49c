"""What a floor may cover and what it must: a zone pulled back from its edges.

The *laying region* is the zone less its holes, pulled back from every edge by that edge's gap, with
mitered corners.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import MultiPolygon, Polygon

from layout.values.outline import (
    Edge,
    Point,
    Region,
    Ring,
    Zone,
    edges_of,
    polygons_of,
    ring_area,
    wound,
    zone_polygon,
)
from layout.values.tolerances import (
    COINCIDENT_TOLERANCE,
    PARALLEL_TOLERANCE,
    SCRAP_TOLERANCE,
    STRAIGHT_TOLERANCE,
)

_MITER_LIMIT = 5.0  # a miter longer than this many gaps is cut square, as in common buffers


def laying_region(zone: Zone, expansion_gap: float) -> Region:
    """Return what the floor may cover: the zone pulled back from every edge by that edge's gap.

    Holes are pulled back from by ``expansion_gap``. Corners are mitered (cut square beyond five
    gaps). The region may fall apart into several polygons, or be empty.
    """
    gaps = [_or(_edge(zone, i).gap, expansion_gap) for i in range(len(zone.outline))]
    return _pulled_back(zone, gaps, expansion_gap)


def widest_region(zone: Zone, expansion_gap: float) -> Region:
    """Return what the floor must cover: the zone pulled back by the widest gap of every edge.

    It lies inside the laying region; between the two an edge with a ``max_gap`` may stay bare.
    """
    edges = [_edge(zone, i) for i in range(len(zone.outline))]
    gaps = [_or(edge.max_gap, _or(edge.gap, expansion_gap)) for edge in edges]
    return _pulled_back(zone, gaps, expansion_gap)


def _pulled_back(zone: Zone, gaps: Sequence[float], hole_gap: float) -> Region:
    """Return the zone less what lies within a gap of its edges."""
    bare = [*_bare_strips(wound(zone.outline), _gaps_as_wound(zone.outline, gaps))]
    for hole in zone.holes:
        ring = tuple(reversed(wound(hole.ring)))
        bare += _bare_strips(ring, [hole_gap] * len(ring))
    if not bare:
        return zone_polygon(zone)
    left = zone_polygon(zone).difference(shapely.union_all(bare))
    return _cleaned(left)


def _gaps_as_wound(ring: Ring, gaps: Sequence[float]) -> Sequence[float]:
    """Return the gaps in the order of edges of the ring wound counter-clockwise."""
    return gaps if ring_area(ring) > 0 else tuple(reversed(gaps))


def _bare_strips(ring: Ring, gaps: Sequence[float]) -> Iterator[Polygon]:
    """Yield what stays bare on the left of a ring: a strip an edge, miters at the corners."""
    edges = list(edges_of(ring))
    for i, (a, b) in enumerate(edges):
        gap, before = gaps[i], gaps[i - 1]
        if gap > 0:
            nx, ny = _left_of(a, b)
            yield Polygon(
                [a, b, (b[0] + nx * gap, b[1] + ny * gap), (a[0] + nx * gap, a[1] + ny * gap)]
            )
        yield from _miter(edges[i - 1], (a, b), before, gap)


def _miter(
    before: tuple[Point, Point], after: tuple[Point, Point], gap_before: float, gap_after: float
) -> Iterator[Polygon]:
    """Yield the triangles between two strips and the point where their inner lines meet.

    A triangle is wanted where that point lies past the strip's end: on both sides of a corner
    that juts into the floor, on one side of an obtuse corner between different gaps.
    """
    n, m, v = _left_of(*before), _left_of(*after), after[0]
    turn = n[0] * m[1] - n[1] * m[0]
    if abs(turn) < PARALLEL_TOLERANCE:
        return
    tip = (
        (gap_before * m[1] - gap_after * n[1]) / turn,
        (gap_after * n[0] - gap_before * m[0]) / turn,
    )
    if math.hypot(*tip) > _MITER_LIMIT * max(gap_before, gap_after):
        return
    along_before = tip[0] * n[1] - tip[1] * n[0]
    along_after = tip[0] * m[1] - tip[1] * m[0]
    corner = (v[0] + tip[0], v[1] + tip[1])
    if along_before > COINCIDENT_TOLERANCE and gap_before > 0:
        yield Polygon([v, (v[0] + n[0] * gap_before, v[1] + n[1] * gap_before), corner])
    if along_after < -COINCIDENT_TOLERANCE and gap_after > 0:
        yield Polygon([v, (v[0] + m[0] * gap_after, v[1] + m[1] * gap_after), corner])


def _left_of(a: Point, b: Point) -> Point:
    """Return the unit normal on the left of the way from ``a`` to ``b``."""
    length = math.dist(a, b)
    return (a[1] - b[1]) / length, (b[0] - a[0]) / length


def _cleaned(region: Region) -> Region:
    """Return the region without what rounding leaves and without corners on straight lines."""
    kept = [p for p in polygons_of(region.simplify(STRAIGHT_TOLERANCE)) if p.area > SCRAP_TOLERANCE]
    kept.sort(key=lambda p: p.bounds)
    if len(kept) == 1:
        return kept[0]
    return MultiPolygon(kept) if kept else Polygon()


def _edge(zone: Zone, index: int) -> Edge:
    """Return what edge ``index`` asks for; a plain wall where nothing was said."""
    return zone.edges.get(index, Edge())


def _or(value: float | None, default: float) -> float:
    """Return the value, or the default for None."""
    return default if value is None else value
