"""Placed rooms and the passages between them become one zone of the layout core. Pure.

Every length is in the job's unit.

        +-------+
        |  den  |          the passage lies outside both rooms, as deep as the wall between
        +--| |--+
        +--| |------+
        |   hall    |
        +-----------+
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

import shapely
from shapely.geometry import LineString, Point, Polygon

from jobs.domain.floors.place import halfway, moved
from jobs.domain.lengths import core_length_words
from layout.values.errors import LayoutError
from layout.values.outline import (
    Edge,
    EdgeKind,
    Hole,
    Ring,
    Zone,
    edges_of,
)
from layout.values.outline import Point as Corner
from layout.values.tolerances import (
    AREA_TOLERANCE,
    CORNER_TOLERANCE,
    LENGTH_TOLERANCE,
)

_ONE_CORNER = 2 * CORNER_TOLERANCE  # corners closer than this are one corner, rounded twice

STRIP_ROOM = {"in": 0.125, "mm": 3.0}
"""How far two floors that end under one strip stay apart, for its stem: ours, no source."""


class ZoningError(LayoutError):
    """The rooms make no one floor; the text names them and by how much they miss."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRoom:
    """A room in the coordinates of its zone; ``edges`` by side of ``ring``, empty: plain walls."""

    name: str
    ring: Ring
    holes: tuple[Hole, ...] = ()
    edges: tuple[EdgeKind, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """What the floor covers in an opening: a quadrangle that starts on a wall of ``room``.

    ``ring``: two corners on the wall, then two on the far side. ``beyond`` names the room that a
    carried floor runs into; without it the floor ends at the far side, at an edge of kind ``end``.
    """

    room: str
    ring: Ring
    cased: bool
    beyond: str = ""
    end: EdgeKind = EdgeKind.TRANSITION


def join(rooms: Sequence[PlacedRoom], passages: Sequence[Passage], *, unit: str) -> Zone:
    """Return the zone that the rooms and the passages between them make.

    Rooms may meet along a wall line or through a carried passage. No end joint may fall in a
    passage; what the rooms enclose is walls, and becomes a post.

    Raises ZoningError where rooms overlap, don't touch, or a passage misses the room beyond;
    InputError where the joined outline is no outline.
    """
    if not rooms:
        raise ZoningError("This floor has no room yet; accepted: one room or more.")
    near = LENGTH_TOLERANCE[unit]
    by_name = {room.name: Polygon(_noded(room, passages)) for room in rooms}
    carried = [p for p in passages if p.beyond in by_name]
    ended = _kept_apart([p for p in passages if not p.beyond], by_name, STRIP_ROOM[unit])
    _refuse_overlaps(by_name, unit)
    for passage in carried:
        _refuse_missed(passage, by_name[passage.beyond], unit)
    floor = _joined(by_name, [*carried, *ended], unit)
    marks = [mark for passage in [*carried, *ended] for mark in _marks(passage)]
    marks += [mark for room in rooms for mark in _standing(room)]
    outline, edges = _edged(tuple(floor.exterior.coords)[:-1], marks, near)
    walls = [ring for ring in floor.interiors if Polygon(ring).area > AREA_TOLERANCE[unit]]
    inner = [Hole(ring=_plain(ring.coords[:-1])) for ring in walls]
    return Zone(
        outline=outline,
        holes=(*(hole for room in rooms for hole in room.holes), *inner),
        edges=edges,
        no_joints=tuple(p.ring for p in carried if _deep(p)),
    )


def zone_area(zone: Zone) -> float:
    """Return the floor area of a zone, its holes left out."""
    return float(Polygon(zone.outline, [hole.ring for hole in zone.holes]).area)


def _noded(room: PlacedRoom, passages: Sequence[Passage]) -> Ring:
    """Return a room's ring with a corner where an opening without depth begins and ends."""
    flat = [p.ring[:2] for p in passages if p.room == room.name and not _deep(p)]
    corners: list[Corner] = []
    for a, b in edges_of(room.ring):
        wall = LineString([a, b])
        met = [c for pair in flat for c in pair if wall.distance(Point(c)) < _ONE_CORNER]
        corners += [a, *sorted(met, key=lambda c: math.dist(a, c))]
    return _distinct(tuple(corners)) if flat else room.ring


def _kept_apart(
    ended: Sequence[Passage], rooms: Mapping[str, Polygon], room_for_strip: float
) -> list[Passage]:
    """Return the passages in which the floor ends, short of whatever floor they would run into.

    Floor from both sides of a strip would grow together under it, and the strip part nothing.
    """
    shapes = [Polygon(passage.ring) for passage in ended]
    kept = []
    for i, passage in enumerate(ended):
        end = LineString(passage.ring[2:])
        beside = [shape for j, shape in enumerate(shapes) if j != i]
        beyond = [shape for name, shape in rooms.items() if name != passage.room]
        if not _deep(passage):
            short = 0.0
        elif any(end.distance(shape) < room_for_strip / 2 for shape in beyond):
            short = room_for_strip
        else:
            met = any(end.distance(shape) < room_for_strip / 2 for shape in beside)
            short = room_for_strip / 2 if met else 0.0
        kept.append(_shortened(passage, short) if short else passage)
    return kept


def _shortened(passage: Passage, by: float) -> Passage:
    a, b, c, d = passage.ring
    back = _unit(d, a)
    return replace(passage, ring=(a, b, moved(c, back, by), moved(d, back, by)))


def _deep(passage: Passage) -> bool:
    return math.dist(passage.ring[0], passage.ring[3]) > _ONE_CORNER


def _refuse_overlaps(rooms: dict[str, Polygon], unit: str) -> None:
    """Refuse two rooms that lie on the same floor."""
    for (one, a), (other, b) in combinations(rooms.items(), 2):
        shared = a.intersection(b)
        if shared.area > AREA_TOLERANCE[unit]:
            deep, wide = (core_length_words(side, unit) for side in _sides(shared))
            raise ZoningError(
                f"{one} and {other} overlap, {deep} deep over {wide}; accepted: rooms that meet at "
                "a wall line or through a doorway."
            )


def _refuse_missed(passage: Passage, beyond: Polygon, unit: str) -> None:
    """Refuse a passage that ends short of the room beyond, reaches into it, or meets its wall."""
    near = LENGTH_TOLERANCE[unit]
    short = max(beyond.distance(Point(corner)) for corner in passage.ring[2:])
    inside = Polygon(passage.ring).intersection(beyond)
    doorway = f"The doorway from {passage.room} to {passage.beyond}"
    if short > 2 * near:
        raise ZoningError(
            f"{doorway} misses {passage.beyond} by {core_length_words(short, unit)}; "
            f"accepted: {passage.beyond} placed so that the opening lies in its wall."
        )
    if inside.area > AREA_TOLERANCE[unit] and _sides(inside)[0] > 2 * near:
        deep = core_length_words(_sides(inside)[0], unit)
        raise ZoningError(
            f"{doorway} reaches {deep} into {passage.beyond}; accepted: the rooms apart by the "
            "depth of the wall between them."
        )


def _joined(rooms: dict[str, Polygon], passages: Sequence[Passage], unit: str) -> Polygon:
    """Return the one polygon of all rooms and passages."""
    near = LENGTH_TOLERANCE[unit]
    strips = [_reaching(passage, near) for passage in passages if _deep(passage)]
    if len(rooms) == 1 and not strips:
        return next(iter(rooms.values()))
    floor = shapely.union_all([*rooms.values(), *strips])
    if floor.geom_type != "Polygon":
        floor = floor.buffer(near / 2, join_style="mitre").buffer(-near / 2, join_style="mitre")
    if floor.geom_type != "Polygon":
        raise ZoningError(_apart(rooms, list(floor.geoms), unit))
    return floor


def _reaching(passage: Passage, near: float) -> Polygon:
    """Return a passage lengthened by a hair into its rooms, so that rounding can't part them."""
    a, b, c, d = passage.ring
    out, beyond = _unit(a, d), near if passage.beyond else 0.0
    low, high = [moved(corner, out, -near) for corner in (a, b)], (c, d)
    return Polygon([*low, *(moved(corner, out, beyond) for corner in high)])


def _apart(rooms: dict[str, Polygon], parts: Sequence[Polygon], unit: str) -> str:
    """Return the sentence that names the nearest two rooms that don't meet."""
    names = list(rooms)
    inner = {name: ring.representative_point() for name, ring in rooms.items()}
    groups = [
        (part, [name for name, point in inner.items() if part.covers(point)]) for part in parts
    ]
    groups = sorted((g for g in groups if g[1]), key=lambda group: names.index(group[1][0]))
    pairs = [
        (rooms[a].distance(rooms[b]), one.distance(other), a, b)
        for (one, inside), (other, within) in combinations(groups, 2)
        for a in inside
        for b in within
    ]
    gap, slit, a, b = min(pairs)
    if gap <= LENGTH_TOLERANCE[unit]:
        missed = f"{a} and {b} touch only at a corner"
    elif slit <= 2 * STRIP_ROOM[unit]:
        missed = f"The strip between {a} and {b} parts them"
    else:
        missed = f"{a} and {b} don't touch: they lie {core_length_words(gap, unit)} apart"
    return (
        f"{missed}; accepted: rooms that meet at a wall line or through a doorway that the floor "
        "is carried through."
    )


def _marks(passage: Passage) -> Iterator[tuple[LineString, EdgeKind]]:
    """Yield the sides of a passage that are no plain wall."""
    a, b, c, d = passage.ring
    if passage.cased and _deep(passage):
        yield LineString([a, d]), EdgeKind.CASING
        yield LineString([b, c]), EdgeKind.CASING
    if not passage.beyond:
        yield LineString([c, d]), passage.end


def _standing(room: PlacedRoom) -> Iterator[tuple[LineString, EdgeKind]]:
    """Yield the sides of a room at which something else than a plain wall stands."""
    for pair, kind in zip(edges_of(room.ring), room.edges, strict=bool(room.edges)):
        if kind is not EdgeKind.WALL:
            yield LineString(pair), kind


def _edged(
    ring: Sequence[Corner], marks: Sequence[tuple[LineString, EdgeKind]], near: float
) -> tuple[Ring, dict[int, Edge]]:
    """Return the ring without needless corners, and the edges of it that are no plain wall."""
    corners = _distinct(_plain(ring))
    kinds = [_kind(a, b, marks, near) for a, b in edges_of(corners)]
    kept = [
        i
        for i, corner in enumerate(corners)
        if kinds[i] != kinds[i - 1]
        or not _straight(corners[i - 1], corner, corners[(i + 1) % len(corners)])
    ]
    outline = tuple(corners[i] for i in kept)
    special = {n: Edge(kind=kinds[i]) for n, i in enumerate(kept) if kinds[i] is not EdgeKind.WALL}
    return outline, special


def _kind(
    a: Corner, b: Corner, marks: Sequence[tuple[LineString, EdgeKind]], near: float
) -> EdgeKind:
    """Return what stands at the edge from ``a`` to ``b``."""
    middle = Point(halfway(a, b))
    for line, kind in marks:
        if line.distance(middle) <= near and _parallel(line, a, b):
            return kind
    return EdgeKind.WALL


def _parallel(line: LineString, a: Corner, b: Corner) -> bool:
    (cx, cy), (dx, dy) = line.coords
    ux, uy = _unit(a, b)
    vx, vy = _unit((cx, cy), (dx, dy))
    return abs(ux * vy - uy * vx) < 0.02


def _plain(ring: Iterable[Corner]) -> Ring:
    """Return a ring rounded to a millionth, so that equal rooms make equal zones."""
    return tuple((round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in ring)


def _distinct(ring: Ring) -> Ring:
    """Return the ring without corners that rounding has doubled."""
    kept = [b for a, b in pairwise((ring[-1], *ring)) if math.dist(a, b) > _ONE_CORNER]
    return tuple(kept)


def _straight(a: Corner, b: Corner, c: Corner) -> bool:
    """Whether ``b`` lies on the straight line from ``a`` to ``c``."""
    return bool(LineString([a, c]).distance(Point(b)) < _ONE_CORNER / 2)


def _sides(shape: Polygon) -> tuple[float, float]:
    """Return the sides of the tightest box around a shape, the shorter one first."""
    corners = list(shape.minimum_rotated_rectangle.exterior.coords)
    short, long = sorted(math.dist(a, b) for a, b in pairwise(corners[:3]))
    return short, long


def _unit(a: Corner, b: Corner) -> Corner:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length
