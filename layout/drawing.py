"""Drawings of rooms, plans and pieces: one function each for screen and print.

Legible in black and white: walls thick, rows thin, joints thinner; cut pieces hatched, waste
hatched the other way; row numbers in rings where each row begins; posts crossed, registers dashed;
what stands at an edge told in a word. Everything is drawn in room coordinates, y up the sheet.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from shapely.geometry import LineString, Polygon

from layout.laid import LaidPiece, laid_pieces
from layout.material import End, Side
from layout.outline import (
    LENGTH_TOLERANCE,
    Edge,
    EdgeKind,
    Hole,
    HoleKind,
    Point,
    Region,
    Ring,
    Zone,
    direction_vector,
    edges_of,
    from_frame,
    polygons_of,
    ring_area,
)
from layout.paper import (
    HAIR,
    JOINT,
    OBJECT,
    ROW,
    SMALL,
    WALL,
    Margins,
    Paper,
    length_words,
    lettering_width,
)
from layout.plan import Plan
from layout.request import PlanRequest

_EDGE_WORDS = {
    EdgeKind.CASING: "casing, undercut",
    EdgeKind.TOE_KICK: "toe kick",
    EdgeKind.TRANSITION: "transition",
    EdgeKind.STAIR_NOSE: "stair nose",
    EdgeKind.CABINET: "cabinet",
}
_EDGE_DASHES = {EdgeKind.CASING: "14 5", EdgeKind.TOE_KICK: "5 4", EdgeKind.TRANSITION: "1.5 4"}

Span = tuple[float, float]


def draw_plan(
    request: PlanRequest, plan: Plan, *, title: str = "", ident: str = "plan", numbers: bool = True
) -> str:
    """Return a plan as SVG: every row and joint, cut pieces hatched, dimensions, scale bar.

    ``title`` is told to screen readers and written under the drawing; ``ident`` begins the ids
    inside; without ``numbers`` rows have no rings (a small picture for a quote).
    """
    paper = Paper(
        _bounds(request.zone.outline),
        unit=plan.unit,
        margins=Margins(left=92, right=168, top=70, bottom=176),
        ident=ident,
    )
    pieces = laid_pieces(plan, request.laid)
    rows = _rows(pieces)
    _draw_boards(paper, pieces, plan.direction_deg)
    for ring in request.zone.no_joints:
        paper.lines([ring], name="no-joint", weight=HAIR, dash="8 3 2 3", closed=True)
    _draw_walls(paper, request.zone)
    _draw_holes(paper, request.zone.holes)
    if numbers:
        _draw_numbers(paper, rows, request, plan.direction_deg)
    _draw_trapped(paper, pieces, plan.direction_deg)
    _draw_start(paper, request, plan)
    _draw_overall(paper, request.zone.outline)
    _draw_row_widths(paper, rows, request, plan.direction_deg)
    _draw_strip(paper, request, plan, rows, title)
    return paper.svg(title or "Floor plan", _description(request, plan, rows))


def draw_outline(
    zone: Zone, *, unit: str, title: str = "", ident: str = "room", lengths: bool = True
) -> str:
    """Return a room as SVG: walls, what stands in them and at them, each wall's length."""
    paper = Paper(
        _bounds(zone.outline),
        unit=unit,
        margins=Margins(left=92, right=92, top=92, bottom=130),
        ident=ident,
    )
    _draw_walls(paper, zone)
    _draw_holes(paper, zone.holes)
    if lengths:
        _draw_wall_lengths(paper, zone.outline)
    paper.scale_bar((paper.left, paper.bottom + 96), 240)
    walls = ", ".join(
        f"wall {i + 1} {length_words(math.dist(a, b), unit)}"
        for i, (a, b) in enumerate(edges_of(zone.outline))
    )
    return paper.svg(title or "Room", f"{len(zone.outline)} walls: {walls}.")


def _bounds(ring: Ring) -> tuple[float, float, float, float]:
    """Return least x, least y, most x, most y."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def _rows(pieces: Iterable[LaidPiece]) -> dict[int, list[LaidPiece]]:
    """Return the pieces of every row, left to right."""
    rows: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in pieces:
        rows[piece.row].append(piece)
    for row in rows.values():
        row.sort(key=lambda piece: piece.bounds)
    return dict(sorted(rows.items()))


def _draw_boards(paper: Paper, pieces: Sequence[LaidPiece], turn: float) -> None:
    """Draw cut pieces hatched, then joints and row lines, each line once."""
    cut = [piece for piece in pieces if not piece.whole(LENGTH_TOLERANCE[paper.unit])]
    fill = paper.hatch("cut", 7, back=0 < turn % 180 < 90)
    rings = [ring for piece in cut for ring in (piece.piece.outline, *piece.piece.holes)]
    paper.lines(rings, name="cut-piece", weight=0, closed=True, fill=fill)
    levels: dict[float, list[Span]] = defaultdict(list)
    uprights: dict[float, list[Span]] = defaultdict(list)
    slants = []
    for piece in pieces:
        for ax, ay, bx, by in piece.edges:
            if abs(ay - by) < 1e-3:
                levels[round((ay + by) / 2, 2)].append((min(ax, bx), max(ax, bx)))
            elif abs(ax - bx) < 1e-3:
                uprights[round((ax + bx) / 2, 2)].append((min(ay, by), max(ay, by)))
            else:
                slants.append(((ax, ay), (bx, by)))
    joints = [((x, a), (x, b)) for x, spans in uprights.items() for a, b in _joined(spans)]
    lines = [((a, y), (b, y)) for y, spans in levels.items() for a, b in _joined(spans)]
    for name, weight, drawn in (("joint", JOINT, joints), ("row", ROW, [*lines, *slants])):
        paths = [from_frame(pair, turn) for pair in drawn]
        paper.lines(paths, name=name, weight=weight)


def _joined(spans: Sequence[Span]) -> Iterator[Span]:
    """Yield spans with those that touch made one."""
    begun: Span | None = None
    for low, high in sorted(spans):
        if begun is None or low > begun[1] + 0.02:
            if begun is not None:
                yield begun
            begun = (low, high)
        else:
            begun = (begun[0], max(begun[1], high))
    if begun is not None:
        yield begun


def _draw_walls(paper: Paper, zone: Zone) -> None:
    """Draw the outline, each edge in the line of its kind, with a word where it is no wall."""
    by_kind: dict[EdgeKind, list[Ring]] = defaultdict(list)
    hand = 1 if ring_area(zone.outline) > 0 else -1
    for i, (a, b) in enumerate(edges_of(zone.outline)):
        kind = zone.edges.get(i, Edge()).kind
        by_kind[kind].append((a, b))
        if kind in _EDGE_WORDS:
            _word_at_edge(paper, a, b, _EDGE_WORDS[kind], hand)
    if set(by_kind) == {EdgeKind.WALL}:
        paper.lines([zone.outline], name="wall", weight=WALL, closed=True)
        return
    for kind, edges in by_kind.items():
        name = f"wall {kind.replace(' ', '-')}"
        dash = _EDGE_DASHES.get(kind, "")
        paper.lines(edges, name=name, weight=WALL, dash=dash)


def _word_at_edge(paper: Paper, a: Point, b: Point, word: str, hand: int) -> None:
    """Write a word outside the middle of an edge, along it."""
    (ax, ay), (bx, by) = paper.at(a), paper.at(b)
    length = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / length, (by - ay) / length
    place = ((ax + bx) / 2 - uy * 14 * hand, (ay + by) / 2 + ux * 14 * hand)
    turn = math.degrees(math.atan2(uy, ux))
    turn = turn if -90 < turn <= 90 else turn - math.copysign(180, turn)
    paper.letter(place, word, size=SMALL, turn=turn, name="edge-word", backed=True)


def _draw_holes(paper: Paper, holes: Sequence[Hole]) -> None:
    """Draw posts crossed, registers dashed, cabinets with their word."""
    for hole in holes:
        if hole.kind is HoleKind.REGISTER:
            paper.lines([hole.ring], name="register", weight=ROW, dash="6 4", closed=True)
            continue
        paper.lines([hole.ring], name="paper", weight=0, closed=True, fill="#fff")
        paper.lines([hole.ring], name=hole.kind.value, weight=OBJECT, closed=True)
        x0, y0, x1, y1 = _bounds(hole.ring)
        if hole.kind is HoleKind.POST:
            corners = _crossed(hole.ring)
            paper.lines(corners, name="post", weight=ROW)
        elif (x1 - x0) * paper.scale > lettering_width("cabinet", SMALL) + 8:
            paper.letter(paper.at(((x0 + x1) / 2, (y0 + y1) / 2)), "cabinet", size=SMALL)


def _crossed(ring: Ring) -> list[Ring]:
    """Return the two lines that cross out a hole: diagonals, or those of its bounds."""
    if len(ring) == 4:
        return [(ring[0], ring[2]), (ring[1], ring[3])]
    x0, y0, x1, y1 = _bounds(ring)
    dx, dy = (x1 - x0) * 0.15, (y1 - y0) * 0.15
    low, high = (x0 + dx, y0 + dy), (x1 - dx, y1 - dy)
    return [(low, high), ((low[0], high[1]), (high[0], low[1]))]


def _draw_numbers(
    paper: Paper, rows: dict[int, list[LaidPiece]], request: PlanRequest, turn: float
) -> None:
    """Draw row numbers in rings where rows begin; every fifth where rows are thin."""
    left = request.lay.first_end is End.LEFT
    room = min((piece.piece.size[1] for pieces in rows.values() for piece in pieces), default=0.0)
    radius = min(13.0, room * paper.scale * 0.46)
    step = 1
    if radius < 8.5:
        radius, step = 10.0, 5
    last = max(rows, default=0)
    for number, pieces in rows.items():
        if step == 1 or number % step == 0 or number in {1, last}:
            first = pieces[0] if left else pieces[-1]
            inside = _ring_place(first, (radius + 3) / paper.scale, left=left)
            paper.ring(paper.at(from_frame([inside], turn)[0]), radius, str(number))


def _ring_place(piece: LaidPiece, room: float, *, left: bool) -> Point:
    """Return where a ring needs the least way along the row to stand inside a piece."""
    x0, y0, x1, y1 = piece.bounds
    for share in (1.0, 0.7, 0.4, 0.1):
        free = piece.shape.buffer(-min(room, (y1 - y0) / 2) * share)
        if not free.is_empty:
            end = free.bounds[0] if left else free.bounds[2]
            ys = [y for x, y in _corners(free) if abs(x - end) < room * 0.05]
            off = room * (1 - share) * (1 if left else -1)
            return end + off, (min(ys) + max(ys)) / 2
    return (x0 + x1) / 2, (y0 + y1) / 2


def _corners(shape: Region) -> list[Point]:
    """Return the outer corners of a region."""
    return [point for polygon in polygons_of(shape) for point in polygon.exterior.coords]


def _draw_trapped(paper: Paper, pieces: Sequence[LaidPiece], turn: float) -> None:
    """Mark stretches of trapped pieces by a word at a leader line."""
    stretches: list[list[LaidPiece]] = []
    for piece in sorted((p for p in pieces if p.piece.trapped), key=lambda p: (p.row, p.bounds)):
        last = stretches[-1][-1] if stretches else None
        if last and last.row == piece.row and piece.bounds[0] - last.bounds[2] < 0.1:
            stretches[-1].append(piece)
        else:
            stretches.append([piece])
    for stretch in stretches:
        x = (stretch[0].bounds[0] + stretch[-1].bounds[2]) / 2
        y = (stretch[0].bounds[1] + stretch[0].bounds[3]) / 2
        px, py = paper.at(from_frame([(x, y)], turn)[0])
        word = "trapped" if len(stretch) == 1 else f"trapped, {len(stretch)}"
        paper.stroke((px, py), (px + 26, py - 26), name="leader", weight=ROW)
        paper.letter(
            (px + 30, py - 30), word, size=SMALL, anchor="start", name="trapped", backed=True
        )


def _draw_start(paper: Paper, request: PlanRequest, plan: Plan) -> None:
    """Write "start" outside the start wall, with an arrow the way the rows go."""
    cos, sin = direction_vector(plan.direction_deg)
    way = 1 if request.lay.start is Side.LOW else -1
    ux, uy = -sin * way, -cos * way  # the way rows go, on the paper (y downwards)
    xs, ys = (paper.left + paper.right) / 2, (paper.top + paper.bottom) / 2
    reach = abs(ux) * (paper.right - paper.left) / 2 + abs(uy) * (paper.bottom - paper.top) / 2
    aside = min(paper.right - paper.left, paper.bottom - paper.top) * 0.3
    aside *= 1 if min(abs(ux), abs(uy)) < 0.3 else 0
    tip = (xs - ux * (reach + 12) - abs(uy) * aside, ys - uy * (reach + 12) + abs(ux) * aside)
    tail = (tip[0] - ux * 44, tip[1] - uy * 44)
    paper.arrow(tail, tip, name="start")
    beside = (10.0, 0.0) if abs(uy) > 0.3 else (0.0, -14.0)
    middle = ((tail[0] + tip[0]) / 2 + beside[0], (tail[1] + tip[1]) / 2 + beside[1])
    anchor = "start" if beside[0] else "middle"
    paper.letter(middle, "start", size=SMALL, anchor=anchor, name="start")


def _draw_overall(paper: Paper, outline: Ring) -> None:
    """Draw the overall width and depth of the room on dimension lines."""
    x0, y0, x1, y1 = _bounds(outline)
    below, beside = paper.bottom + 74, paper.right + 132
    paper.dimension((paper.left, below), (paper.right, below), paper.length(x1 - x0))
    paper.dimension((beside, paper.bottom), (beside, paper.top), paper.length(y1 - y0))


def _draw_row_widths(
    paper: Paper, rows: dict[int, list[LaidPiece]], request: PlanRequest, turn: float
) -> None:
    """Draw the widths of the first and last row where rows lie along or up the sheet."""
    if not rows or turn % 90:
        return
    for number in {min(rows), max(rows)}:
        low, high = _band(rows[number])
        far = max(piece.bounds[2] for piece in rows[number])
        (ax, ay), (bx, by) = (paper.at(p) for p in from_frame([(far, low), (far, high)], turn))
        text = paper.length(high - low)
        if turn % 180 == 0:
            x = paper.right + 26
            for y in (ay, by):
                paper.stroke((ax + 6, y), (x + 4, y), name="extension")
            paper.dimension((x, max(ay, by)), (x, min(ay, by)), text, level=True)
        else:
            y = paper.top - 26
            for x in (ax, bx):
                paper.stroke((x, ay - 6), (x, y - 4), name="extension")
            paper.dimension((min(ax, bx), y), (max(ax, bx), y), text)


def _band(pieces: Sequence[LaidPiece]) -> Span:
    """Return the low and high side of a row."""
    return min(p.bounds[1] for p in pieces), max(p.bounds[3] for p in pieces)


def _draw_wall_lengths(paper: Paper, outline: Ring) -> None:
    """Draw the length of every wall outside it, or inside where the floor lies on both sides."""
    hand = 1 if ring_area(outline) > 0 else -1
    floor = Polygon([paper.at(point) for point in outline])
    for a, b in edges_of(outline):
        (ax, ay), (bx, by) = paper.at(a), paper.at(b)
        length = math.dist((ax, ay), (bx, by))
        ux, uy = (bx - ax) / length, (by - ay) / length
        text = paper.length(math.dist(a, b))
        if length < 40:
            continue
        for off in (24 * hand, -24 * hand):
            ox, oy = -uy * off, ux * off
            pair = ((ax + ox, ay + oy), (bx + ox, by + oy))
            if off * hand < 0 or not floor.intersects(LineString(pair)):
                paper.dimension(*(pair if off < 0 else pair[::-1]), text)
                break


def _draw_strip(
    paper: Paper,
    request: PlanRequest,
    plan: Plan,
    rows: dict[int, list[LaidPiece]],
    title: str,
) -> None:
    """Draw the strip under the drawing: scale bar, direction of lay, key, title."""
    y = paper.bottom + 118
    paper.scale_bar((40, y), 200)
    cos, sin = direction_vector(plan.direction_deg)
    way = 1 if request.lay.first_end is End.LEFT else -1
    cx = 330.0
    paper.arrow(
        (cx - 28 * cos * way, y + 28 * sin * way), (cx + 28 * cos * way, y - 28 * sin * way)
    )
    paper.letter((cx + 40, y), "direction of lay", size=SMALL, anchor="start")
    _draw_key(paper, (560, y))
    if rows:
        first, last = _band(rows[min(rows)]), _band(rows[max(rows)])
        text = f"first row {paper.length(first[1] - first[0])}, "
        text += f"last row {paper.length(last[1] - last[0])}"
        paper.letter((980, y), text, size=SMALL, anchor="end")
    if title:
        paper.letter((40, y + 44), title, anchor="start", name="title")


def _draw_key(paper: Paper, place: Point) -> None:
    """Draw a hatched square and say what it means."""
    x, y = place
    corners = [(x, y - 9), (x + 18, y - 9), (x + 18, y + 9), (x, y + 9)]
    paper.patch(corners, fill=f"url(#{paper.ident}-cut)")
    paper.letter((x + 26, y), "cut piece", size=SMALL, anchor="start")


def _description(request: PlanRequest, plan: Plan, rows: dict[int, list[LaidPiece]]) -> str:
    """Return the plan in a sentence for those who can't see it."""
    board = request.product.board
    size = f"{length_words(board.length, plan.unit)} by {length_words(board.width, plan.unit)}"
    told = [f"{len(rows)} rows of boards {size}", f"{plan.totals.planks} planks"]
    if rows:
        for word, number in (("first", min(rows)), ("last", max(rows))):
            low, high = _band(rows[number])
            told.append(f"{word} row {length_words(high - low, plan.unit)} wide")
    told.append(f"laid from the {request.lay.start.value} side at {plan.direction_deg:g} degrees")
    return ", ".join(told) + "."
