"""Zones and their outlines: rings, edges, holes, and their JSON form.

    edge 2
    3--------2
    |  zone  | edge 1       rings are (x, y) points, either winding, not closed;
    0--------1              edge i runs from vertex i to vertex i + 1
    edge 0

The *direction frame* is the room turned back by the laying direction, so that every plank in it
lies along +x.
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
from layout.values.tolerances import CORNER_TOLERANCE, SCRAP_TOLERANCE

Point = tuple[float, float]
Ring = tuple[Point, ...]
Region: TypeAlias = Polygon | MultiPolygon

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


def polygons_of(region: BaseGeometry) -> tuple[Polygon, ...]:
    """Return the polygons of a region, none when it is empty; lines and points are left out."""
    parts = getattr(region, "geoms", [region])
    return tuple(part for part in parts if isinstance(part, Polygon) and not part.is_empty)


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
