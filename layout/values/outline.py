"""Outlines of zones and the laying region inside them.

    edge 2
    3--------2
    |  zone  | edge 1       rings are (x, y) points, either winding, not closed;
    0--------1              edge i runs from vertex i to vertex i + 1
    edge 0

The *laying region* is the zone less its holes, pulled back from every edge by that edge's gap,
with mitered corners. The *direction frame* is the room turned back by the laying direction, so
that every plank in it lies along +x.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeAlias

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from layout.values.errors import Described, InputError
from layout.values.fields import Fields, as_ring, check_number
from layout.values.tolerances import (
    COINCIDENT_TOLERANCE,
    CORNER_TOLERANCE,
    PARALLEL_TOLERANCE,
    SCRAP_TOLERANCE,
    STRAIGHT_TOLERANCE,
)

Point = tuple[float, float]
Ring = tuple[Point, ...]
Region: TypeAlias = Polygon | MultiPolygon

_MITER_LIMIT = 5.0  # a miter longer than this many gaps is cut square, as in common buffers
_MOST_CORNERS = 2000


class EdgeKind(StrEnum):
    """What stands at an edge of the zone.

    The floor runs under a casing, a toe kick and a radiator; a slider is a fixed frame.
    """

    WALL = "wall"
    CASING = "casing"
    TOE_KICK = "toe kick"
    TRANSITION = "transition"
    STAIR_NOSE = "stair nose"
    CABINET = "cabinet"
    RADIATOR = "radiator"
    SLIDER = "slider"


class HoleKind(StrEnum):
    """What stands in a hole of the zone."""

    POST = "post"
    REGISTER = "register"
    CABINET = "cabinet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """What an edge asks for: its own gap and the widest gap its cover hides (None: the rules')."""

    kind: EdgeKind = EdgeKind.WALL
    gap: float | None = None
    max_gap: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole of the zone."""

    ring: Ring
    kind: HoleKind = HoleKind.POST


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """One continuous floor: outline, holes, edges by index, places where no end joint may fall.

    Raises InputError where a ring crosses itself, doubles a corner or encloses nothing, where a
    hole is not inside the outline or meets another hole, and where an edge does not exist.
    """

    outline: Ring
    holes: tuple[Hole, ...] = ()
    edges: dict[int, Edge] = field(default_factory=dict)
    no_joints: tuple[Ring, ...] = ()

    def __post_init__(self) -> None:
        check_ring(self.outline, "zone.outline")
        for i, hole in enumerate(self.holes):
            check_ring(hole.ring, f"zone.holes[{i}]")
        for i, ring in enumerate(self.no_joints):
            check_ring(ring, f"zone.no_joints[{i}]")
        _check_holes(self)
        for index, edge in self.edges.items():
            _check_edge(index, edge, len(self.outline))


def read_zone(data: object, where: str = "zone") -> Zone:
    """Return the zone of a request. Raises InputError."""
    fields = Fields(data, where)
    zone = Zone(
        outline=as_ring(fields.raw("outline", "a ring of corners"), fields.path("outline")),
        holes=tuple(_read_hole(value, path) for path, value in fields.entries("holes", most=500)),
        edges=dict(_read_edge(key, value, path) for key, path, value in fields.pairs("edges")),
        no_joints=tuple(
            as_ring(value, path) for path, value in fields.entries("no_joints", most=500)
        ),
    )
    fields.refuse_unknown()
    return zone


def zone_to_json(zone: Zone) -> dict[str, object]:
    """Return the zone of a request in its JSON form, numbers as they are."""
    return {
        "outline": _points(zone.outline),
        "holes": [{"outline": _points(hole.ring), "kind": hole.kind.value} for hole in zone.holes],
        "edges": {str(index): _edge_to_json(edge) for index, edge in zone.edges.items()},
        "no_joints": [_points(ring) for ring in zone.no_joints],
    }


def _points(ring: Ring) -> list[list[float]]:
    """Return a ring as the form has it."""
    return [list(point) for point in ring]


def _edge_to_json(edge: Edge) -> dict[str, object]:
    """Return what an edge asks for; what it leaves to the rules is left out."""
    gaps = {"gap": edge.gap, "max_gap": edge.max_gap}
    return {"kind": edge.kind.value, **{k: gap for k, gap in gaps.items() if gap is not None}}


def _read_hole(data: object, where: str) -> Hole:
    """Return a hole given as a ring or as an object with its kind."""
    if isinstance(data, list):
        return Hole(ring=as_ring(data, where))
    fields = Fields(data, where)
    hole = Hole(
        ring=as_ring(fields.raw("outline", "a ring of corners"), fields.path("outline")),
        kind=fields.choice("kind", HoleKind, HoleKind.POST),
    )
    fields.refuse_unknown()
    return hole


def _read_edge(key: str, data: object, where: str) -> tuple[int, Edge]:
    """Return the index of an edge and what it asks for."""
    if not (key.isascii() and key.isdigit() and len(key) <= 4):
        raise InputError(where[:80], Described("no edge"), 'the number of an edge, such as "2"')
    fields = Fields(data, where)
    edge = Edge(
        kind=fields.choice("kind", EdgeKind, EdgeKind.WALL),
        gap=fields.number_or_none("gap"),
        max_gap=fields.number_or_none("max_gap"),
    )
    fields.refuse_unknown()
    return int(key), edge


def check_ring(ring: Ring, where: str) -> None:
    """Refuse a ring that is no simple outline. Raises InputError naming ``where``."""
    if not 3 <= len(ring) <= _MOST_CORNERS:
        raise InputError(where, Described(f"{len(ring)} corners"), f"3 to {_MOST_CORNERS} corners")
    for i, (a, b) in enumerate(edges_of(ring)):
        if not all(map(math.isfinite, a)):
            raise InputError(f"{where}[{i}]", a, "two finite numbers")
        if math.dist(a, b) < CORNER_TOLERANCE:
            nxt = (i + 1) % len(ring)
            raise InputError(f"{where}[{nxt}]", b, f"a corner away from corner {i} (no doubles)")
    polygon = Polygon(ring)
    if shapely.MultiPoint(ring).convex_hull.area < SCRAP_TOLERANCE:
        raise InputError(where, Described("encloses no area"), "corners around some floor")
    if not polygon.is_valid:
        value = Described(crossing(ring) or "meets itself")
        raise InputError(where, value, "an outline that never meets itself")


def meeting(shapes: Sequence[BaseGeometry]) -> list[tuple[int, int]]:
    """Return the pairs (i < j) of shapes that meet, even in a point, in order."""
    if not shapes:
        return []
    pairs = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    return sorted((int(i), int(j)) for i, j in pairs.T if i < j)


def crossing(ring: Ring) -> str | None:
    """Return which two edges of the ring meet where they should not, or None."""
    lines = [shapely.LineString(pair) for pair in edges_of(ring)]
    for i, j in meeting(lines):
        met = lines[i].intersection(lines[j])
        neighbors = (i + 1) % len(lines) == j or (j + 1) % len(lines) == i
        if met.is_empty or (neighbors and met.length < CORNER_TOLERANCE):
            continue
        x, y = met.representative_point().coords[0]
        return f"edges {i} and {j} meet at ({x:g}, {y:g})"
    return None


def edges_of(ring: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a ring, the closing one last."""
    for i, a in enumerate(ring):
        yield a, ring[(i + 1) % len(ring)]


def ring_area(ring: Sequence[Point]) -> float:
    """Return the signed area of a ring by coordinates; positive when counter-clockwise."""
    x0, y0 = ring[0]
    return 0.5 * sum(
        (ax - x0) * (by - y0) - (bx - x0) * (ay - y0) for (ax, ay), (bx, by) in edges_of(ring)
    )


def wound(ring: Ring) -> Ring:
    """Return the ring counter-clockwise, starting at the same corner."""
    return ring if ring_area(ring) > 0 else (ring[0], *reversed(ring[1:]))


def zone_polygon(zone: Zone) -> Polygon:
    """Return the zone less its holes, without any gap."""
    return Polygon(zone.outline, [hole.ring for hole in zone.holes])


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


def polygons_of(region: Region) -> tuple[Polygon, ...]:
    """Return the polygons of a region, none when it is empty."""
    if region.is_empty:
        return ()
    return tuple(region.geoms) if isinstance(region, MultiPolygon) else (region,)


def direction_vector(direction_deg: float) -> Point:
    """Return (cos, sin) of an angle, exact for multiples of 90 degrees."""
    turned = direction_deg % 360
    exact = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}
    if turned in exact:
        return exact[int(turned)]
    angle = math.radians(turned)
    return math.cos(angle), math.sin(angle)


def main_directions(ring: Sequence[Point]) -> list[float]:
    """Return the directions of the main walls in degrees from 0 up to 180, the longest first.

    At most four, each that of more than 15 % of all wall; at least one.
    """
    lengths: dict[float, float] = {}
    for (ax, ay), (bx, by) in edges_of(ring):
        angle = round(math.degrees(math.atan2(by - ay, bx - ax)) % 180, 1) % 180
        lengths[angle] = lengths.get(angle, 0.0) + math.hypot(bx - ax, by - ay)
    total = sum(lengths.values())
    main = sorted(lengths, key=lambda angle: (-lengths[angle], angle))
    return [angle for angle in main if lengths[angle] > 0.15 * total][:4] or main[:1]


def to_frame(points: Iterable[Point], direction_deg: float) -> Ring:
    """Return room points in the direction frame (turned back about the room's origin)."""
    cos, sin = direction_vector(direction_deg)
    return tuple((x * cos + y * sin + 0.0, y * cos - x * sin + 0.0) for x, y in points)


def from_frame(points: Iterable[Point], direction_deg: float) -> Ring:
    """Return points of the direction frame in room coordinates."""
    cos, sin = direction_vector(direction_deg)
    return tuple((x * cos - y * sin + 0.0, x * sin + y * cos + 0.0) for x, y in points)


def region_to_frame(region: Region, direction_deg: float) -> Region:
    """Return a region of the room in the direction frame."""
    cos, sin = direction_vector(direction_deg)
    return affine_transform(region, [cos, sin, -sin, cos, 0.0, 0.0])


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


def _check_holes(zone: Zone) -> None:
    """Refuse holes that are not clear of the outline and of each other."""
    shell = Polygon(zone.outline)
    holes = [Polygon(hole.ring) for hole in zone.holes]
    for i, hole in enumerate(holes):
        if not shell.contains_properly(hole):
            place = "touches the outline" if shell.intersects(hole) else "lies outside"
            raise InputError(
                f"zone.holes[{i}]", Described(place), "a hole clear of the outline, inside it"
            )
    for i, j in meeting(holes):
        raise InputError(
            f"zone.holes[{j}]", Described(f"meets hole {i}"), "holes clear of each other"
        )


def _check_edge(index: int, edge: Edge, count: int) -> None:
    """Refuse an edge that the outline does not have, and gaps that contradict each other."""
    where = f"zone.edges.{index}"
    if not 0 <= index < count:
        raise InputError(where, index, f"an edge from 0 to {count - 1}")
    for name, gap in (("gap", edge.gap), ("max_gap", edge.max_gap)):
        if gap is not None:
            check_number(gap, f"{where}.{name}")
    if edge.gap is not None and edge.max_gap is not None and edge.max_gap < edge.gap:
        raise InputError(f"{where}.max_gap", edge.max_gap, f"at least the gap, {edge.gap:g}")
