"""A floor as a homeowner reads it: walls, planks, names of rooms and measures along the outside.

Nothing of the crew's is in it: no number of a row, no cut, no word of the trade. Lettering is large
against the sheet, so that it is read on a phone and on a third of a page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon
from shapely.ops import polylabel

from layout.drawing.boards import draw_lines
from layout.drawing.lettering import lettering_width
from layout.drawing.paper import OBJECT, ROW, SHEET, DrawingPaper, Margins
from layout.drawing.walls import bounds_of, kind_at
from layout.values.laid_pieces import laid_pieces
from layout.values.outline import EdgeKind, HoleKind, Point, Ring, Zone, edges_of
from layout.values.plan import Plan
from layout.values.request import PlanRequest

_LETTER = 54.0  # 9 pt where the sheet is 60 mm wide, 19 px where it is 358 px
_WALL = 9.0
_MARGIN = 96.0  # for a measure along a side
_OFF = 34.0  # from a side to its measure
_TICK = 12.0
_TALLEST = 640.0
_NEAR = 1.0  # bounds that overlap by less do not

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownRoom:
    """A room's name and where its floor lies, in the coordinates of the plan."""

    name: str
    ring: Ring


def draw_for_homeowner(
    request: PlanRequest,
    plan: Plan,
    rooms: Sequence[ShownRoom],
    *,
    title: str,
    ident: str = "floor",
) -> str:
    """Return a plan as SVG for the one who will live on it.

    A name without room for it stands over the planks all the same.
    """
    paper = homeowners_paper(request, plan, ident=ident)
    draw_homeowners_lines(paper, request, plan, rooms)
    names = ", ".join(room.name for room in rooms)
    return paper.svg(title, f"How the planks will lie in {names}.")


def homeowners_paper(request: PlanRequest, plan: Plan, *, ident: str) -> DrawingPaper:
    """Return the empty sheet of a homeowner's drawing."""
    bounds = bounds_of(request.zone.outline)
    return DrawingPaper(bounds, unit=plan.unit, margins=_margins(bounds), ident=ident)


def draw_homeowners_lines(
    paper: DrawingPaper, request: PlanRequest, plan: Plan, rooms: Sequence[ShownRoom]
) -> None:
    """Draw planks, walls, the names of the rooms and their measures."""
    draw_lines(paper, laid_pieces(plan, request.laid), plan.direction_deg)
    _draw_walls(paper, request.zone)
    for room in rooms:
        _draw_name(paper, room)
    for a, b, text in _measures(paper, [bounds_of(room.ring) for room in rooms]):
        _draw_measure(paper, a, b, text)


def _margins(bounds: Bounds) -> Margins:
    """Return margins that keep a tall floor no taller than a photograph beside a text."""
    x0, y0, x1, y1 = bounds
    across = min(SHEET - 2 * _MARGIN, _TALLEST * (x1 - x0) / max(y1 - y0, _NEAR))
    side = (SHEET - across) / 2
    return Margins(left=side, right=side, top=_MARGIN, bottom=_MARGIN)


def _draw_walls(paper: DrawingPaper, zone: Zone) -> None:
    """Draw walls thick, openings in them thin, what stands in the floor as what it leaves free."""
    solid: list[Ring] = []
    open_edges: list[Ring] = []
    for i, edge in enumerate(edges_of(zone.outline)):
        is_open = kind_at(zone, i) in (EdgeKind.TRANSITION, EdgeKind.STAIR_NOSE)
        (open_edges if is_open else solid).append(edge)
    paper.lines(open_edges, name="opening", weight=OBJECT)
    paper.lines(solid, name="wall", weight=_WALL)
    for hole in zone.holes:
        if hole.kind is not HoleKind.REGISTER:
            paper.lines([hole.ring], name="paper", weight=0, closed=True, fill="#fff")
            paper.lines([hole.ring], name="hole", weight=OBJECT, closed=True)


def _draw_name(paper: DrawingPaper, room: ShownRoom) -> None:
    """Write a room's name where it has most room; upright where only that fits."""
    x0, y0, x1, y1 = bounds_of(room.ring)
    wide, tall = (x1 - x0) * paper.scale, (y1 - y0) * paper.scale
    upright = lettering_width(room.name, _LETTER) > wide and tall > wide
    middle = polylabel(Polygon(room.ring), tolerance=_NEAR)
    turn = -90.0 if upright else 0.0
    paper.letter(
        paper.at((middle.x, middle.y)), room.name, size=_LETTER, turn=turn, name="room", backed=True
    )


def _measures(paper: DrawingPaper, rooms: Sequence[Bounds]) -> Iterator[tuple[Point, Point, str]]:
    """Yield the width and depth of every room that has a side of the drawing to itself."""
    for place, room in enumerate(rooms):
        others = [other for i, other in enumerate(rooms) if i != place]
        x0, y0, x1, y1 = room
        beside = [other for other in others if _overlap(other[1], other[3], y0, y1)]
        above = [other for other in others if _overlap(other[0], other[2], x0, x1)]
        left, top = paper.at((x0, y1))
        right, bottom = paper.at((x1, y0))
        level = paper.length(x1 - x0)
        if all(other[3] <= y1 + _NEAR for other in above):
            yield (left, top - _OFF), (right, top - _OFF), level
        elif all(other[1] >= y0 - _NEAR for other in above):
            yield (left, bottom + _OFF), (right, bottom + _OFF), level
        upright = paper.length(y1 - y0)
        if all(other[0] >= x0 - _NEAR for other in beside):
            yield (left - _OFF, bottom), (left - _OFF, top), upright
        elif all(other[2] <= x1 + _NEAR for other in beside):
            yield (right + _OFF, bottom), (right + _OFF, top), upright


def _overlap(low: float, high: float, other_low: float, other_high: float) -> bool:
    return min(high, other_high) - max(low, other_low) > _NEAR


def _draw_measure(paper: DrawingPaper, a: Point, b: Point, text: str) -> None:
    """Draw a measure with ticks and its text in the middle, where the text has room."""
    is_level = a[1] == b[1]
    length = abs(b[0] - a[0]) if is_level else abs(b[1] - a[1])
    if lettering_width(text, _LETTER) > length:
        return
    paper.stroke(a, b, weight=ROW)
    for x, y in (a, b):
        paper.stroke((x - _TICK, y + _TICK), (x + _TICK, y - _TICK), weight=OBJECT)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    turn = 0.0 if is_level else -90.0
    paper.letter(middle, text, size=_LETTER, turn=turn, name="measure", backed=True)
