"""Casing templates: the cut round a casing or jamb at true size, to lay on the board and trace.

+-----------------------------+   the sheet shows the shaped cut and what lies round it, the
| piece 15-2   rulers         |   board face up as the person of the cut sheet sees it, who
|   - - - - - +//////         |   kneels on the laid floor and faces the next row
|   stays     |/goes/         |
+-----------------------------+
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import union_all
from shapely.affinity import affine_transform, translate
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from layout.cutsheet.cut_view import ENDS
from layout.cutsheet.seen_piece import SeenPiece, seen_piece
from layout.cutsheet.words import figures_of
from layout.drawing.notched import too_many
from layout.drawing.true_size import FINE, HEAD, TALL, THICK, THIN, WIDE, TrueSize, tiles
from layout.values.errors import InputError
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.outline import EdgeKind, Point, Zone, edges_of, to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import INCH, length_words

_MARGIN, _SHARED = 5.0, 12.0  # millimeters beside the drawing; what two sheets share
_ROUND = 15.0  # millimeters shown round a cut
_SQUARE = frozenset({"crosscut", "rip"})
_LEVEL = 0.25  # millimeters that a square edge may be out over its length
_NAMED = 7.0  # millimeters from which an edge of the cut is long enough for its figure

Box = tuple[float, float, float, float]


@dataclass(frozen=True, eq=False, kw_only=True)
class _Cut:
    """A piece on what it is cut from, in millimeters: what stays, lines to trace, where to look.

    ``lines`` are where its shaped cuts run, ``ends`` the ends that these are measured from;
    ``focus`` is what the sheets must show of them.
    """

    piece: LaidPiece
    seen: SeenPiece
    shape: Polygon
    blank: Polygon
    lines: tuple[BaseGeometry, ...]
    ends: tuple[str, ...]
    focus: BaseGeometry
    unit: str

    @property
    def scale(self) -> float:
        """Millimeters in one unit of the form."""
        return INCH["mm"] / INCH[self.unit]

    def words(self, value: float) -> str:
        """Return a length on the sheet in words."""
        return length_words(value / self.scale, self.unit, on_tape=True)


def casing_pieces(request: PlanRequest, plan: Plan, sheet: CutSheet) -> tuple[str, ...]:
    """Return the ids of the pieces that are cut to a shape at a casing, in the order of laying."""
    return tuple(
        piece.piece.id
        for piece in laid_pieces(plan, request.laid)
        if not piece.before and _cut_of(request, plan, sheet, piece, at_casings=True) is not None
    )


def traced_pieces(request: PlanRequest, plan: Plan, sheet: CutSheet) -> tuple[str, ...]:
    """Return the ids of the pieces that are traced from a template, in the order of laying.

    Those whose cut at a casing follows a traced profile: where all of it is square, figures do.
    And those with more marks than figures could tell.
    """
    names = []
    for piece in laid_pieces(plan, request.laid):
        if piece.before:
            continue
        cut = _cut_of(request, plan, sheet, piece, at_casings=True)
        profiled = cut is not None and any(not _square(line) for line in cut.lines)
        seen = seen_piece(request, plan, sheet, piece.piece.id) if not profiled else None
        shaped = seen is not None and any(view.cut.kind not in _SQUARE for view in seen.views)
        if profiled or (seen is not None and shaped and too_many(seen)):
            names.append(piece.piece.id)
    return tuple(names)


def _square(line: BaseGeometry) -> bool:
    """Whether every edge of a cut runs along the board or across it."""
    return all(min(abs(a[0] - b[0]), abs(a[1] - b[1])) <= _LEVEL for a, b in _edges(line))


def draw_casing_template(
    request: PlanRequest, plan: Plan, sheet: CutSheet, piece_id: str, *, title: str = ""
) -> tuple[str, ...]:
    """Return the shaped cuts of a piece at true size as SVG, one for each sheet of paper.

    Cuts at casings alone where the piece has any there, else all that are neither square across
    nor straight along. Raises InputError where no piece of the plan by that id has such a cut.
    """
    pieces = {piece.piece.id: piece for piece in laid_pieces(plan, request.laid)}
    cut = None
    if (piece := pieces.get(piece_id)) is not None:
        cut = _cut_of(request, plan, sheet, piece, at_casings=True)
        cut = cut or _cut_of(request, plan, sheet, piece, at_casings=False)
    if cut is None:
        named = ", ".join(casing_pieces(request, plan, sheet)[:12]) or "none of this plan"
        raise InputError("casing", piece_id, f"a piece cut to a shape at a casing: {named}")
    windows = list(_windows(cut))
    return tuple(_sheet(cut, window, windows, title) for window in windows)


def _cut_of(
    request: PlanRequest, plan: Plan, sheet: CutSheet, piece: LaidPiece, *, at_casings: bool
) -> _Cut | None:
    """Return a piece with its shaped cuts, at casings or anywhere; None where it has none there."""
    seen = seen_piece(request, plan, sheet, piece.piece.id)
    if seen is None:
        return None
    near, scale = LENGTH_TOLERANCE[plan.unit], INCH["mm"] / INCH[plan.unit]
    views = [view for view in seen.views if view.cut.kind not in _SQUARE]
    rim = seen.shape.boundary.buffer(near)
    lines = [view.line.intersection(rim) for view in views]
    shown = lines
    if at_casings and views:
        under = views[0].seen(union_all(list(_casings(request, plan, piece))))
        shown = [line.intersection(under) for line in lines]
    kept = [i for i, line in enumerate(shown) if line.length > 2 * near]
    if not kept:
        return None
    larger = [scale, 0, 0, scale, 0, 0]
    return _Cut(
        piece=piece,
        seen=seen,
        shape=affine_transform(seen.shape, larger),
        blank=affine_transform(seen.taken, larger),
        lines=tuple(affine_transform(lines[i], larger) for i in kept),
        ends=tuple(figure[0] for i in kept for figure in figures_of(views[i])),
        focus=affine_transform(union_all([shown[i] for i in kept]), larger),
        unit=plan.unit,
    )


def _casings(request: PlanRequest, plan: Plan, piece: LaidPiece) -> Iterator[Polygon]:
    """Yield what lies within the gap of the casings near a piece, in its plank's coordinates."""
    zone: Zone = request.zone
    near = 4 * LENGTH_TOLERANCE[plan.unit]
    for i, (a, b) in enumerate(edges_of(to_frame(zone.outline, plan.direction_deg))):
        edge = zone.edges.get(i)
        if edge is not None and edge.kind is EdgeKind.CASING:
            gap = request.rules.expansion_gap if edge.gap is None else edge.gap
            strip = LineString([a, b]).buffer(gap + near, cap_style="flat")
            if strip.intersects(piece.shape):
                yield translate(strip, -piece.x0, -piece.y0)


def _windows(cut: _Cut) -> Iterator[Box]:
    """Yield what each sheet shows of the blank: all of the cuts, with an end and edge if near."""
    x0, y0, x1, y1 = cut.focus.bounds
    left, near, right, far = cut.shape.bounds
    across = WIDE - 2 * _MARGIN
    down = TALL - HEAD - 2 * _MARGIN
    wx0, wx1 = _grown(x0, x1, (left, right), across)
    wy0, wy1 = _grown(y0, y1, (near, far), down)
    for low, high in tiles(wy0, wy1, down, _SHARED):
        for begin, end in tiles(wx0, wx1, across, _SHARED):
            if cut.focus.intersects(box(begin, low, end, high)):
                yield begin, low, end, high


def _grown(low: float, high: float, ends: tuple[float, float], most: float) -> tuple[float, float]:
    """Return a stretch with some room round it, out to the piece's own ends where they are near."""
    least, longest = min(low, ends[0]) - _MARGIN, max(high, ends[1]) + _MARGIN
    if longest - least <= most:
        return least, longest
    if high - least + _ROUND <= most:
        return least, high + _ROUND
    if longest - low + _ROUND <= most:
        return low - _ROUND, longest
    return low - _ROUND, high + _ROUND


def _sheet(cut: _Cut, window: Box, windows: Sequence[Box], title: str) -> str:
    """Return one sheet."""
    sheet = TrueSize()
    piece = cut.piece.piece
    count = len(windows)
    pages = f", sheet {windows.index(window) + 1} of {count}" if count > 1 else ""
    heading = f"Piece {piece.id}, row {piece.row}{pages}"
    sheet.words((_MARGIN, 6), f"{heading}{': ' if title else ''}{title}", size=5, name="title")
    sheet.words((_MARGIN, 13), "Print at 100 %. Cut out and trace only where both rulers measure.")
    sheet.words((_MARGIN, 18.5), "This side up on the face of the board; facing the next row.")
    sheet.rulers(27)
    shown = _Placed(window)
    sheet.hatch(shown.on_sheet(cut.blank.difference(cut.shape)))
    sheet.lines(shown.on_sheet(cut.blank.boundary), name="board", weight=FINE, dash="3 2")
    sheet.lines(shown.on_sheet(cut.shape.boundary), name="piece", weight=THIN)
    for line in cut.lines:
        sheet.lines(shown.on_sheet(line), name="cut", weight=THICK)
        _name_edges(sheet, shown, cut, line)
    _name_sides(sheet, shown, cut)
    _draw_reference(sheet, shown, cut)
    _draw_joins(sheet, shown, windows)
    return sheet.svg(f"Template of piece {piece.id}", f"{heading}. True size, 190 by 254 mm.")


class _Placed:
    """A window of the blank on a sheet."""

    def __init__(self, window: Box) -> None:
        self.window = box(*window)
        x0, _, x1, y1 = window
        self.left = (WIDE - (x1 - x0)) / 2 - x0
        self.top = HEAD + _MARGIN + y1
        self.bounds = window

    def at(self, point: Point) -> Point:
        """Return a point of the blank on the sheet."""
        return self.left + point[0], self.top - point[1]

    def on_sheet(self, shape: BaseGeometry) -> BaseGeometry:
        """Return what the window shows of a shape, on the sheet."""
        shown = shape.intersection(self.window)
        return affine_transform(shown, [1, 0, 0, -1, self.left, self.top])

    def shows(self, point: Point) -> bool:
        """Whether a point lies in the window."""
        x0, y0, x1, y1 = self.bounds
        return x0 <= point[0] <= x1 and y0 <= point[1] <= y1


def _name_edges(sheet: TrueSize, shown: _Placed, cut: _Cut, line: BaseGeometry) -> None:
    """Write the length of every edge of a cut beside it, on the part that goes."""
    for a, b in _edges(line):
        length = math.dist(a, b)
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        if length < _NAMED or not shown.shows(middle):
            continue
        nx, ny = -(b[1] - a[1]) / length * 3.2, (b[0] - a[0]) / length * 3.2
        side = -1 if cut.shape.contains(Spot(middle[0] + nx / 8, middle[1] + ny / 8)) else 1
        x, y = shown.at((middle[0] + nx * side, middle[1] + ny * side))
        turn = math.degrees(math.atan2(-(b[1] - a[1]), b[0] - a[0]))
        turn = turn if -90 < turn <= 90 else turn - math.copysign(180, turn)
        text = cut.words(length)
        sheet.words((x, y), text, size=3.4, anchor="middle", turn=turn, name="figure")


def _edges(line: BaseGeometry) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a line, or of several."""
    for part in getattr(line, "geoms", [line]):
        yield from pairwise(part.coords)


def _name_sides(sheet: TrueSize, shown: _Placed, cut: _Cut) -> None:
    """Write what stays, which sides are seen, and where the next row lies."""
    stays = cut.shape.intersection(shown.window).buffer(-4)
    if not stays.is_empty:
        x, y = shown.at(stays.representative_point().coords[0])
        sheet.words((x, y), "stays", size=4, anchor="middle", name="stays")
    left, near, right, far = cut.shape.bounds
    x0, y0, x1, y1 = shown.bounds
    middle, level = (max(x0, left) + min(x1, right)) / 2, (max(y0, near) + min(y1, far)) / 2
    square = {"near", "far"} | cut.seen.kept | {e for e in ENDS if cut.seen.straight(e)}
    for side, point, text, turn in (
        ("near", (middle, near - 3), "near edge", 0),
        ("far", (middle, far + 3), "far edge, next row", 0),
        ("left", (left - 3, level), "left end", -90),
        ("right", (right + 3, level), "right end", 90),
    ):
        if side in square and shown.shows(point):
            sheet.words(shown.at(point), text, size=3.3, anchor="middle", turn=turn, name="side")
    sheet.words((WIDE - 22, 31), "next row", size=3.4, anchor="end")
    sheet.arrow((WIDE - 18, 36), (WIDE - 18, 25))


def _draw_reference(sheet: TrueSize, shown: _Placed, cut: _Cut) -> None:
    """Say how far the cut lies from the end that is measured from, where no such end is shown."""
    left, near, right, far = cut.shape.bounds
    x0, low, x1, high = shown.bounds
    ends = {"left": left, "right": right}
    if any(name in cut.seen.kept and x0 <= x <= x1 for name, x in ends.items()):
        return
    named = next((end for end in cut.ends if end in ENDS), None)
    corners = [
        x for line in cut.lines for a, b in _edges(line) for x, y in (a, b) if shown.shows((x, y))
    ]
    if named is None or not corners:
        return
    end = 0.0 if named == "left" else cut.seen.size[0] * cut.scale
    at = min(corners, key=lambda x: abs(x - end))
    foot, top = shown.at((at, max(near, low))), shown.at((at, min(far, high)))
    sheet.line([foot, top], name="reference", weight=FINE, dash="6 1.5 1 1.5")
    text = f"this line: {cut.words(abs(at - end))} from the {named} end"
    sheet.words((foot[0] + 3, foot[1] - 20), text, size=3.4, turn=-90, name="reference")


def _draw_joins(sheet: TrueSize, shown: _Placed, windows: Sequence[Box]) -> None:
    """Draw the lines on which this sheet is joined to those beside, above and below it."""
    x0, y0, x1, y1 = shown.bounds
    half = _SHARED / 2
    for ox0, oy0, ox1, oy1 in windows:
        if oy0 == y0 and (ox0 < x0 <= ox1 or ox0 <= x1 < ox1):
            x = x0 + half if ox0 < x0 else x1 - half
            _draw_join(sheet, shown.at((x, y0)), shown.at((x, y1)))
        if ox0 == x0 and (oy0 < y0 <= oy1 or oy0 <= y1 < oy1):
            y = y0 + half if oy0 < y0 else y1 - half
            _draw_join(sheet, shown.at((x0, y)), shown.at((x1, y)))


def _draw_join(sheet: TrueSize, a: Point, b: Point) -> None:
    """Draw one line on which two sheets are joined."""
    sheet.line([a, b], name="join", weight=FINE, dash="1 1")
    sheet.words((b[0] + 1, b[1] + 2), "join here", size=3.3, name="join")
