"""What is written round a floor and on it: start wall, dimensions, scale bar, key, warnings."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from layout.drawing.lettering import lettering_width, spots_around
from layout.drawing.paper import OBJECT, SMALL, WALL, DrawingPaper
from layout.drawing.walls import EDGE_DASHES, EDGE_WORDS, bounds_of, kind_at
from layout.values.laid_pieces import LaidPiece, band
from layout.values.material import End, Side
from layout.values.outline import (
    EdgeKind,
    Point,
    Ring,
    Zone,
    direction_vector,
    edges_of,
    from_frame,
    ring_area,
    to_frame,
)
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.units import length_words

Rows = Mapping[int, Sequence[LaidPiece]]

# Short words for the rules that a shape can break; a warning about the whole floor has no place.
WARNING_WORDS: Mapping[str, str] = {
    "min_row_width": "narrow",
    "min_end_piece": "short end",
    "min_joint_offset": "close joints",
    "no_joints": "joint in doorway",
    "post": "split",
    "wall_error": "no drift",
    "widths": "same width",
}
_ROWS = re.compile(r"\d+")

_SLANT = 0.1  # a wall that leans more from the rows than this is no start wall
_KEY = 34.0  # from one line of the strip to the next


def strip_height(zone: Zone, plan: Plan) -> float:
    """Return what the strip under the drawing takes, in paper units."""
    return 176.0 + _KEY * (bool(_kinds_in(zone)) + bool(shade_words(plan)))


def shade_words(plan: Plan) -> str:
    """Return which planks of every width and shade a plan takes, or how to spread them by eye.

    Nothing where all boards look alike. Planks that are down already are counted too.
    """
    if plan.spread is not None:
        return f"{plan.spread.shades} shades, spread by eye: {plan.spread.rule}"
    planks = Counter({p.plank: (-p.size[1], p.variant) for p in plan.pieces if p.variant}.values())
    widths = sorted({width for width, _ in planks})
    words = []
    for wide in widths:
        counts = sorted((name or "", n) for (width, name), n in planks.items() if width == wide)
        boards = ", ".join(f"{name} {count}" for name, count in counts)
        size = f"{length_words(-wide, plan.unit)}: " if len(widths) > 1 else ""
        words.append(f"{size}{boards}")
    return f"planks by shade: {'; '.join(words)}" if words else ""


def _kinds_in(zone: Zone) -> list[EdgeKind]:
    """Return the kinds of edges that are drawn in a line of their own."""
    kinds = {kind_at(zone, i) for i in range(len(zone.outline))}
    return [kind for kind in EDGE_DASHES if kind in kinds]


def draw_start(paper: DrawingPaper, request: PlanRequest, plan: Plan) -> None:
    """Write "start wall" outside the start wall, with an arrow the way the rows go."""
    cos, sin = direction_vector(plan.direction_deg)
    way = 1 if request.lay.start is Side.LOW else -1
    ux, uy = -sin * way, -cos * way  # the way rows go, on the paper (y downwards)
    x, y = paper.at(start_place(request, plan))
    tip = (x - ux * 12, y - uy * 12)
    tail = (tip[0] - ux * 34, tip[1] - uy * 34)
    paper.arrow(tail, tip, name="start")
    beside = (max(10.0, 9.0 * paper.letters), 0.0) if abs(uy) > 0.3 else (0.0, -14.0)
    middle = ((tail[0] + tip[0]) / 2 + beside[0], (tail[1] + tip[1]) / 2 + beside[1])
    anchor = "start" if beside[0] else "end" if ux > 0 else "start"
    paper.letter(middle, "start wall", size=SMALL, anchor=anchor, name="start")


def draw_control_line(paper: DrawingPaper, request: PlanRequest, plan: Plan, rows: Rows) -> None:
    """Draw the line that rows go both ways from, where they do, with an arrow each way."""
    number = request.lay.control_row
    if number is None or number not in rows:
        return
    low, high = band(rows[number])
    level = low if request.lay.start is Side.LOW else high
    left, right = (f(p.bounds[i] for p in rows[number]) for f, i in ((min, 0), (max, 2)))
    ends = from_frame([(left, level), (right, level)], plan.direction_deg)
    paper.lines([ends], name="control-line", weight=OBJECT, dash="16 4 3 4")
    middle = ((left + right) / 2, level)
    reach = 40 / paper.scale
    for way in (-1, 1):
        tip = (middle[0], middle[1] + way * reach)
        a, b = (paper.at(p) for p in from_frame([middle, tip], plan.direction_deg))
        paper.arrow(a, b, name="control-line")
    spots = list(spots_around(paper.at(ends[1]), first=-plan.direction_deg))
    paper.word(f"control line, row {number} first", spots, name="control-line")


def start_place(request: PlanRequest, plan: Plan) -> Point:
    """Return a point of the start wall: the longest edge that the first row lies along.

    A quarter along it, clear of the middle; a corner, where no edge runs along the rows.
    """
    points = to_frame(request.zone.outline, plan.direction_deg)
    way = 1 if request.lay.start is Side.LOW else -1
    floor_left = ring_area(request.zone.outline) > 0
    depth = max(y * way for _, y in points) - min(y * way for _, y in points)
    least = min(y * way for _, y in points) + depth * 0.05
    best, longest = min(points, key=lambda point: point[1] * way), 0.0
    for (ax, ay), (bx, by) in edges_of(points):
        long = abs(bx - ax)
        faces = ((bx > ax) == floor_left) == (way > 0)
        lies = abs(by - ay) <= _SLANT * long and min(ay * way, by * way) <= least
        if lies and faces and long > longest:
            share = 0.25 if bx > ax else 0.75
            best, longest = (ax + (bx - ax) * share, ay + (by - ay) * share), long
    return from_frame([best], plan.direction_deg)[0]


def beside_by(letters: float) -> float:
    """Return how far beside a floor its depth is drawn, clear of the widths of rows."""
    return max(132.0, 60 + 40 * letters)


def draw_overall(paper: DrawingPaper, outline: Ring) -> None:
    """Draw the overall width and depth of the room on dimension lines."""
    x0, y0, x1, y1 = bounds_of(outline)
    below, beside = paper.bottom + 40 + 34 * paper.letters, paper.right + beside_by(paper.letters)
    paper.dimension((paper.left, below), (paper.right, below), paper.length(x1 - x0))
    paper.dimension((beside, paper.bottom), (beside, paper.top), paper.length(y1 - y0))


def draw_row_widths(paper: DrawingPaper, rows: Rows, turn: float) -> None:
    """Draw the widths of the first and last row where rows lie along or up the sheet."""
    if not rows or turn % 90:
        return
    for number in {min(rows), max(rows)}:
        low, high = band(rows[number])
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


def draw_strip(
    paper: DrawingPaper, request: PlanRequest, plan: Plan, rows: Rows, title: str
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
    _draw_cut_key(paper, (560, y))
    if rows:
        first, last = band(rows[min(rows)]), band(rows[max(rows)])
        text = f"first row {paper.length(first[1] - first[0])}, "
        text += f"last row {paper.length(last[1] - last[0])}"
        paper.letter((980, y), text, size=SMALL, anchor="end")
    if _kinds_in(request.zone):
        _draw_edge_key(paper, request.zone, y + 44)
        y += _KEY
    if shades := shade_words(plan):
        paper.letter((40, y + 44), shades, size=SMALL, anchor="start", name="shades")
        y += _KEY
    if title:
        paper.letter((40, y + 44), title, anchor="start", name="title")


def _draw_cut_key(paper: DrawingPaper, place: Point) -> None:
    """Draw a dotted square and say what it means."""
    x, y = place
    corners = [(x, y - 9), (x + 18, y - 9), (x + 18, y + 9), (x, y + 9)]
    paper.patch(corners, fill=f"url(#{paper.ident}-cut)")
    paper.letter((x + 26, y), "cut piece", size=SMALL, anchor="start")


def _draw_edge_key(paper: DrawingPaper, zone: Zone, y: float) -> None:
    """Draw the lines of what stands at edges, and say what they mean."""
    x = 302.0
    for kind in _kinds_in(zone):
        word = EDGE_WORDS[kind]
        dash = EDGE_DASHES[kind]
        paper.stroke((x, y), (x + 56, y), weight=WALL, name="key", dash=dash)
        paper.letter((x + 68, y), word, size=SMALL, anchor="start")
        x += 100 + lettering_width(word, SMALL)


def description(request: PlanRequest, plan: Plan, rows: Rows) -> str:
    """Return the plan in a sentence for those who can't see it."""
    boards = request.product.boards
    widths = " and ".join(length_words(board.width, plan.unit) for board in boards)
    size = f"{length_words(boards[0].length, plan.unit)} by {widths}"
    facts = [f"{len(rows)} rows of boards {size}", f"{plan.totals.planks} planks"]
    if rows:
        for word, number in (("first", min(rows)), ("last", max(rows))):
            low, high = band(rows[number])
            facts.append(f"{word} row {length_words(high - low, plan.unit)} wide")
    facts += filter(None, [shade_words(plan)])
    facts.append(f"laid from the {request.lay.start.value} side at {plan.direction_deg:g} degrees")
    if request.lay.control_row is not None:
        facts.append(f"both ways from a control line at row {request.lay.control_row}")
    return ", ".join(facts) + "."


def draw_warnings(
    paper: DrawingPaper, rows: Mapping[int, Sequence[LaidPiece]], request: PlanRequest, plan: Plan
) -> None:
    """Mark each row that a warning is about, each word once a row, at the end where rows end."""
    turn, way = plan.direction_deg, 90 if request.lay.start is Side.LOW else -90
    left = request.lay.first_end is End.LEFT
    written: set[tuple[int, str]] = set()
    for warning in plan.warnings:
        word = WARNING_WORDS.get(warning.rule)
        named = [int(number) for number in _ROWS.findall(warning.where)]
        row = next((number for number in named if number in rows), None)
        if word is None or row is None or (row, word) in written:
            continue
        written.add((row, word))
        last = rows[row][-1 if left else 0]
        inside = last.shape.representative_point()
        place = paper.at(from_frame([(inside.x, inside.y)], turn)[0])
        spots = list(spots_around(place, first=-(turn + way) - 45))
        if not paper.word(f"{word}, row {row}", spots, name="warning"):
            paper.dot(place)
