"""Small drawings of rooms as measured and as placed in a floor: outline, numbered walls, openings.

Drawn in a frame 400 units wide, so that lettering keeps one size on every page.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from shapely.geometry import Polygon

from jobs.domain.floors.place import opening
from jobs.domain.lengths import core_area_words, core_length_words, mm_in
from jobs.domain.rooms.outline import Drawn
from jobs.domain.rooms.sides import OutlineSide, names_of
from jobs.domain.rooms.typed import EDGE_KINDS
from jobs.models import FloorZone, Room
from jobs.readers.floors.floors import floor_rows, passages_of, place_of, placed_room
from jobs.readers.openings.openings import RoomOpening, openings_by_room
from layout.values.outline import Hole, HoleKind, Point, Ring, edges_of, ring_area
from layout.values.tolerances import TOUCHING_TOLERANCE

FRAME = 400.0
MARGIN = 20.0
_LETTER = 8.0  # about as wide as a letter is drawn
_LEAST_LABELLED = 34.0  # a wall drawn shorter than this carries no lettering


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A room to be drawn, in one unit: its passages are drawn as openings.

    ``sides`` tells what the sides of its outline are, plain walls where it is empty.
    """

    name: str
    ring: Ring
    sides: tuple[OutlineSide, ...] = ()
    holes: tuple[Hole, ...] = ()
    passages: tuple[Ring, ...] = ()


def drawn_of(room: Room) -> Drawn:
    """Return a stored room as drawn."""
    unit = room.job.unit
    ring = tuple((float(x), float(y)) for x, y in room.outline)
    holes = tuple(
        Hole(ring=tuple((float(x), float(y)) for x, y in hole["ring"]), kind=HoleKind(hole["kind"]))
        for hole in room.holes
    )
    walked = sum(math.dist(a, b) for a, b in edges_of(ring))
    sides = tuple(OutlineSide(wall=edge["wall"], kind=edge["kind"]) for edge in room.edges)
    return Drawn(
        outline=ring,
        holes=holes,
        unit=unit,
        misclosure=mm_in(room.misclosure_mm, unit),
        walked=walked,
        sides=sides,
    )


def sketch_room(
    drawn: Drawn, *, name: str, passages: Iterable[Ring] = (), pick: bool = False
) -> SafeString:
    """Return the drawing of one room with its walls numbered and measured."""
    shape = Shape(
        name=name,
        ring=drawn.outline,
        sides=drawn.sides,
        holes=drawn.holes,
        passages=tuple(passages),
    )
    return _svg([shape], drawn.unit, numbered=True, pick=pick)


def sketch_stored(room: Room, *, as_walked: bool = False, pick: bool = False) -> SafeString:
    """Return the drawing of a stored room with its openings.

    Its sides are numbered one after another, as openings count them; ``as_walked`` by the walls
    that were typed, a bowed one in parts.
    """
    return _sketch(room, openings_by_room([room])[room.pk], as_walked=as_walked, pick=pick)


def sketch_to_pick(room: Room) -> SafeString:
    """Return the drawing of a stored room in which each side is a link that picks it: `?wall=2`.

    Where htmx is at hand only the list of walls is replaced, and what was typed stays. By keyboard
    the wall is picked in that list.
    """
    picture = sketch_stored(room, as_walked=True, pick=True)
    return SafeString(picture.replace('role="img"', 'role="group"'))


def _picks(shape: Shape, frame: _Frame) -> Iterator[SafeString]:
    """Yield a clear line over each side that picks it."""
    sides = shape.sides or tuple(OutlineSide(wall=n) for n in range(len(shape.ring)))
    for place, (name, (a, b)) in enumerate(zip(names_of(sides), edges_of(shape.ring), strict=True)):
        (ax, ay), (bx, by) = frame.at(a), frame.at(b)
        yield format_html(
            '<a href="?wall={0}" hx-get="?wall={0}" hx-select="#id_wall" hx-target="#id_wall" '
            'hx-swap="outerHTML" tabindex="-1" aria-label="Wall {1}"><line class="pick" '
            'x1="{2}" y1="{3}" x2="{4}" y2="{5}" stroke="transparent" stroke-width="28" '
            'pointer-events="stroke"/></a>',
            place,
            name or place + 1,
            *(f"{value:.1f}" for value in (ax, ay, bx, by)),
        )


def sketches_of(rooms: Iterable[Room]) -> list[tuple[Room, SafeString]]:
    """Return these rooms, each with its drawing as `sketch_stored` has it."""
    members = list(rooms)
    openings = openings_by_room(members)
    return [(room, _sketch(room, openings[room.pk], as_walked=False)) for room in members]


def _sketch(
    room: Room, openings: Iterable[RoomOpening], *, as_walked: bool, pick: bool = False
) -> SafeString:
    """Return the drawing of a room with these openings."""
    drawn, unit = drawn_of(room), room.job.unit
    if not as_walked:
        drawn = replace(drawn, sides=tuple(replace(s, wall=n) for n, s in enumerate(drawn.sides)))
    passages = []
    for seen in openings:
        gap, depth = seen.gap(unit), mm_in(seen.doorway.depth_mm, unit)
        edge = opening(drawn.outline, wall=gap.wall, offset=gap.offset, width=gap.width)
        passages.append(edge.ring(depth))
    return sketch_room(drawn, name=room.name, passages=passages, pick=pick)


def sketch_floor(shapes: Sequence[Shape], *, unit: str) -> SafeString:
    """Return the drawing of placed rooms."""
    return _svg(shapes, unit, numbered=len(shapes) == 1)


def sketch_zone(zone: FloorZone) -> SafeString:
    """Return the drawing of a floor's rooms where they lie, whether or not they make one floor."""
    rows = floor_rows([zone])[zone.pk]
    rooms = rows.rooms
    passages = list(passages_of(rooms, rows.openings))
    shapes = []
    for room in rooms:
        lies = placed_room(room, place_of(room, alone=len(rooms) == 1))
        rings = tuple(passage.ring for passage in passages if passage.room == room.name)
        shapes.append(Shape(name=room.name, ring=lies.ring, holes=lies.holes, passages=rings))
    return sketch_floor(shapes, unit=zone.job.unit)


def _svg(shapes: Sequence[Shape], unit: str, *, numbered: bool, pick: bool = False) -> SafeString:
    """Return the drawing; empty where there is nothing to draw."""
    rings = [ring for shape in shapes for ring in (shape.ring, *shape.passages)]
    if not rings:
        return SafeString("")
    frame = _Frame(point for ring in rings for point in ring)
    parts = [part for shape in shapes for part in _shape(shape, frame, unit, numbered=numbered)]
    parts += [_polygon(frame.path(ring), "casing", 1) for one in shapes for ring in one.passages]
    parts += [link for one in shapes if pick for link in _picks(one, frame)]
    names = ", ".join(shape.name for shape in shapes)
    return format_html(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {} {}" role="img" '
        'font-family="Inter, sans-serif" font-size="14"><title>Drawing of {}</title>{}</svg>',
        f"{frame.width:.1f}",
        f"{frame.height:.1f}",
        names,
        format_html_join("", "{}", ((part,) for part in parts)),
    )


class _Frame:
    """Carries points of the room, y up, into the drawing, y down."""

    def __init__(self, points: Iterable[Point]) -> None:
        xs, ys = zip(*points, strict=True)
        self.left, self.top = min(xs), max(ys)
        wide, high = max(xs) - self.left, self.top - min(ys)
        self.scale = (FRAME - 2 * MARGIN) / max(wide, high, TOUCHING_TOLERANCE)
        self.width = wide * self.scale + 2 * MARGIN
        self.height = high * self.scale + 2 * MARGIN

    def at(self, point: Point) -> Point:
        """Return where a point of the room lies in the drawing."""
        x, y = point
        return (x - self.left) * self.scale + MARGIN, (self.top - y) * self.scale + MARGIN

    def path(self, ring: Ring) -> str:
        """Return a ring as the points of a polygon."""
        return " ".join("{:.2f},{:.2f}".format(*self.at(point)) for point in ring)


def _shape(shape: Shape, frame: _Frame, unit: str, *, numbered: bool) -> Iterator[SafeString]:
    """Yield the parts of one room."""
    yield _polygon(frame.path(shape.ring), "wall", 2)
    for hole in shape.holes:
        register = hole.kind is HoleKind.REGISTER
        yield _polygon(frame.path(hole.ring), "register" if register else "hole", 1)
        if not register:
            yield from _cross(hole.ring, frame)
    if numbered:
        yield from _walls(shape, frame, unit)
    else:
        yield _name(shape, frame, unit)


def _name(shape: Shape, frame: _Frame, unit: str) -> SafeString:
    """Return name and area of a room, written along it where it is too narrow to write across."""
    area = core_area_words(Polygon(shape.ring, [hole.ring for hole in shape.holes]).area, unit)
    x, y = frame.at(Polygon(shape.ring).representative_point().coords[0])
    left, low, right, high = Polygon(shape.ring).bounds
    across = max(len(shape.name), len(area)) * _LETTER
    narrow = (right - left) * frame.scale < across and high - low > right - left
    return format_html(
        '<text x="{x}" y="{y}" transform="rotate({turn} {x} {y})" text-anchor="middle" '
        'fill="currentColor">{name}<tspan x="{x}" dy="16">{area}</tspan></text>',
        x=f"{x:.1f}",
        y=f"{y:.1f}",
        turn=-90 if narrow else 0,
        name=shape.name,
        area=area,
    )


def _polygon(points: str, kind: str, weight: float) -> SafeString:
    dash = SafeString(' stroke-dasharray="4 3"') if kind in ("register", "casing") else ""
    return format_html(
        '<polygon class="{}" points="{}" fill="none" stroke="currentColor" stroke-width="{}"{}/>',
        kind,
        points,
        weight,
        dash,
    )


def _cross(ring: Ring, frame: _Frame) -> Iterator[SafeString]:
    """Yield the two diagonals that mark a post or a cabinet, corner to corner or across a round."""
    half, quarter = len(ring) // 2, len(ring) // 4
    for a, b in ((ring[0], ring[half]), (ring[quarter], ring[quarter + half])):
        (x1, y1), (x2, y2) = frame.at(a), frame.at(b)
        yield format_html(
            '<line class="hole" x1="{}" y1="{}" x2="{}" y2="{}" stroke="currentColor"/>',
            *(f"{value:.1f}" for value in (x1, y1, x2, y2)),
        )


def _walls(shape: Shape, frame: _Frame, unit: str) -> Iterator[SafeString]:
    """Yield number and length of each wall, written inside the room; a ring at the first corner."""
    ring = shape.ring
    sides = shape.sides or tuple(OutlineSide(wall=n) for n in range(len(ring)))
    names = names_of(sides)
    x, y = frame.at(ring[0])
    yield format_html(
        '<circle class="ring" cx="{}" cy="{}" r="5" fill="none" stroke="currentColor"/>',
        f"{x:.1f}",
        f"{y:.1f}",
    )
    hand = 1.0 if ring_area(ring) > 0 else -1.0
    for name, side, (a, b) in zip(names, sides, edges_of(ring), strict=True):
        (ax, ay), (bx, by) = frame.at(a), frame.at(b)
        drawn = math.hypot(bx - ax, by - ay)
        label = name if drawn < 2 * _LEAST_LABELLED else _label(name, side, a, b, unit)
        if drawn < _LEAST_LABELLED / 2 or not label:
            continue
        angle = math.degrees(math.atan2(by - ay, bx - ax))
        # Inside lies on the left of a counter-clockwise walk; y points down here.
        nx, ny = (by - ay) / drawn * hand, -(bx - ax) / drawn * hand
        if not -90 <= round(angle, 3) < 90:
            angle += 180
        x, y = (ax + bx) / 2 + nx * 12, (ay + by) / 2 + ny * 12
        yield format_html(
            '<text class="dim" x="{x}" y="{y}" transform="rotate({turn} {x} {y})" '
            'text-anchor="middle" dominant-baseline="central" fill="currentColor">{label}</text>',
            x=f"{x:.1f}",
            y=f"{y:.1f}",
            turn=f"{angle:.1f}",
            label=label,
        )


def _label(name: str, side: OutlineSide, a: Point, b: Point, unit: str) -> str:
    """Return number and length of a wall, and what stands there where it is no plain wall."""
    length = core_length_words(math.dist(a, b), unit)
    numbered = f"{name}: {length}" if name else length
    return numbered if side.kind == "wall" else f"{numbered}, {EDGE_KINDS[side.kind].lower()}"
