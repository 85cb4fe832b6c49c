"""A floor for those who lay it: rows, walls and doorways, nothing hatched, 9 pt and more on paper.

Hatched is what is cut off, and nothing of that is drawn here. A floor whose rows would lie too
close together on one sheet is drawn on several, which overlap: on a dashed line with a letter the
one meets the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout.drawing.boards import draw_lines, draw_trapped, row_pitch
from layout.drawing.floor.hands import draw_hands, hands_reach
from layout.drawing.floor.landmarks import Landmark, draw_jambs, letter_landmarks
from layout.drawing.notes import (
    beside_by,
    description,
    draw_control_line,
    draw_overall,
    draw_row_widths,
    draw_start,
    draw_warnings,
    shade_words,
)
from layout.drawing.paper import FINE, SHEET, SMALL, DrawingPaper, Margins
from layout.drawing.walls import bounds_of, draw_holes, draw_walls, letter_edges
from layout.values.laid_pieces import LaidPiece, in_rows, laid_pieces
from layout.values.outline import Point, direction_vector, from_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.units import MM_PER_INCH

WIDE_MM, TALL_MM = 172.0, 196.0
"""What a sheet of Letter or A4 has for a drawing, between margins for a clip and for holes."""
_HALF_MM, _SMALL_MM, _LOW_MM = 88.0, 86.0, 122.0
"""How wide and tall a floor is drawn beside its offcuts, and how tall above them."""
_LEAST_MM = 9.3 * float(MM_PER_INCH) / 72  # 9 pt, and a little for the renderer
_PITCH_MM = 2.0  # rows closer than this can't be told apart on their knees: ours, no source
_OVERLAP = 60.0
_UNDER, _CLEAR = 22.0, 8.0  # from a dimension to what stands under it
_MOST_SHEETS = 4  # a side
_STEPS = (1, 2, 5, 10, 20)  # every row has its number, or every second, fifth, ...


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorSheets:
    """A floor as one SVG, or as several that overlap where it is large.

    ``beside``: it takes half a sheet's width, so that words stand beside it.
    """

    sheets: tuple[str, ...]
    beside: bool = False


def draw_floor_sheets(
    request: PlanRequest,
    plan: Plan,
    *,
    title: str,
    ident: str,
    landmarks: Sequence[Landmark] = (),
    roomy: bool = False,
) -> FloorSheets:
    """Return a floor drawn as small as its rows can be told apart, with its ``landmarks``.

    ``roomy``: it has a sheet to itself, and is drawn on all of the sheet's width.
    """
    paper = _paper(request, plan, ident, 1.0)
    pitch = row_pitch(paper, laid_pieces(plan, request.laid))
    half = min(_HALF_MM / SHEET, _SMALL_MM / paper.height)
    low = min(WIDE_MM / SHEET, _LOW_MM / paper.height)
    first = [low] if roomy else [half, low]
    units = [*first, *(_unit_mm(paper.height, count) for count in range(1, _MOST_SHEETS))]
    sheets, unit = next(
        (
            (max(1, count - len(first) + 1), unit)
            for count, unit in enumerate(units)
            if pitch * unit >= _PITCH_MM
        ),
        (_MOST_SHEETS, _unit_mm(paper.height, _MOST_SHEETS)),
    )
    letters = max(1.0, _LEAST_MM / (SMALL * unit))
    if sheets == 1:
        floor = _drawn(request, plan, landmarks, title=title, ident=ident, letters=letters)
        size = f'<svg width="{SHEET * unit:.1f}mm" height="{floor.paper.height * unit:.1f}mm" '
        return FloorSheets(
            sheets=(floor.svg_of_all.replace("<svg ", size, 1),), beside=unit == half and not roomy
        )
    tiles = _tiles(
        request, plan, landmarks, title=title, ident=ident, letters=letters, sheets=sheets
    )
    return FloorSheets(sheets=tuple(tiles))


def _unit_mm(tall: float, sheets: int) -> float:
    """Return how long a unit of the drawing is on paper, so many sheets wide and as many high."""
    more = _OVERLAP * min(2, sheets - 1)
    return min(WIDE_MM / (SHEET / sheets + more), TALL_MM / (tall / sheets + more))


def _paper(request: PlanRequest, plan: Plan, ident: str, letters: float) -> DrawingPaper:
    foot = _foot(request, plan, letters) + 40 * letters * bool(shade_words(plan))
    under = max(28 + 12 * letters, hands_reach(request, plan, letters) + _CLEAR)
    return DrawingPaper(
        bounds_of(request.zone.outline),
        unit=plan.unit,
        margins=Margins(
            left=max(92.0, 64 + 28 * letters),
            right=max(150.0, beside_by(letters) + 18),
            top=70,
            bottom=foot + under,
        ),
        ident=ident,
        letters=letters,
    )


def _foot(request: PlanRequest, plan: Plan, letters: float) -> float:
    """Return how far under a floor the scale bar stands, clear of dimensions by all beside it."""
    dimension = 40 + 34 * letters
    return dimension + max(_UNDER, hands_reach(request, plan, letters) + _CLEAR)


class _DrawnFloor:
    """A drawn floor, and what it is called."""

    def __init__(self, paper: DrawingPaper, title: str, said: str) -> None:
        self.paper, self.svg_of_all = paper, paper.svg(title, said)


def _drawn(
    request: PlanRequest,
    plan: Plan,
    landmarks: Sequence[Landmark],
    *,
    title: str,
    ident: str,
    letters: float,
) -> _DrawnFloor:
    paper = _paper(request, plan, ident, letters)
    pieces, turn = laid_pieces(plan, request.laid), plan.direction_deg
    rows = in_rows(pieces)
    draw_lines(paper, pieces, turn)
    for ring in request.zone.no_joints:
        paper.lines([ring], name="no-joint", weight=FINE, dash="8 3 2 3", closed=True)
    draw_walls(paper, request.zone)
    draw_holes(paper, request.zone.holes)
    draw_jambs(paper, landmarks)
    draw_overall(paper, request.zone.outline)
    draw_row_widths(paper, rows, turn)
    _draw_foot(paper, request, plan)
    draw_start(paper, request, plan)
    draw_control_line(paper, request, plan, rows)
    _draw_rings(paper, pieces, turn)
    draw_trapped(paper, pieces, request, plan, called="slides in flat")
    draw_warnings(paper, rows, request, plan)
    letter_landmarks(paper, landmarks)
    letter_edges(paper, request.zone)
    return _DrawnFloor(paper, title, description(request, plan, rows))


def _draw_foot(paper: DrawingPaper, request: PlanRequest, plan: Plan) -> None:
    """Draw scale bar and the way rows advance under the drawing, and the shades if there are."""
    y = paper.bottom + _foot(request, plan, paper.letters)
    paper.scale_bar((60, y), 200)
    draw_hands(paper, (310.0, y), request, plan)
    if shades := shade_words(plan):
        at = (60, y + 24 + 24 * paper.letters)
        paper.letter(at, shades, size=SMALL, anchor="start", name="shades")


def _draw_rings(paper: DrawingPaper, pieces: Sequence[LaidPiece], turn: float) -> None:
    """Draw the numbers of rows in rings beside the floor, where none hides a joint.

    Of rows that lie too close together every second has one, or every fifth and so on, and always
    the first and the last.
    """
    rows = in_rows(pieces)
    if not rows:
        return
    radius = SMALL * paper.letters * (0.86 if len(rows) < 100 else 1.1)
    apart = 2.1 * radius / max(row_pitch(paper, pieces), 1.0)
    step = next((step for step in _STEPS if step >= apart), _STEPS[-1])
    first, last = min(rows), max(rows)
    for number, row in rows.items():
        near = min(number - first, last - number)
        if number in (first, last) or (number % step == 0 and near >= apart):
            at = _row_end(paper, row, turn)
            place = _off(at, radius + 8, turn)
            paper.stroke(at, _off(at, 8, turn), name="row-end")
            paper.ring(place, radius, str(number))


def _row_end(paper: DrawingPaper, row: Sequence[LaidPiece], turn: float) -> Point:
    """Return the end of a row to the left of the sheet, or the lower one where rows stand."""
    x0, x1 = min(piece.bounds[0] for piece in row), max(piece.bounds[2] for piece in row)
    level = (row[0].bounds[1] + row[0].bounds[3]) / 2
    a, b = (paper.at(point) for point in from_frame([(x0, level), (x1, level)], turn))
    return min(a, b) if _lies(turn) else max(a, b, key=lambda place: place[1])


def _lies(turn: float) -> bool:
    """Whether rows lie rather than stand on the sheet."""
    cos, sin = direction_vector(turn)
    return abs(cos) >= abs(sin)


def _off(place: Point, by: float, turn: float) -> Point:
    """Return a place so far off the end of a row."""
    return (place[0] - by, place[1]) if _lies(turn) else (place[0], place[1] + by)


def _tiles(
    request: PlanRequest,
    plan: Plan,
    landmarks: Sequence[Landmark],
    *,
    title: str,
    ident: str,
    letters: float,
    sheets: int,
) -> Iterator[str]:
    """Yield the windows of a large floor, row by row of sheets, each with its overlap marked."""
    for down in range(sheets):
        for across in range(sheets):
            number = down * sheets + across + 1
            part = f"{ident}-{number}"
            floor = _drawn(request, plan, landmarks, title=title, ident=part, letters=letters)
            wide, tall = SHEET / sheets, floor.paper.height / sheets
            _mark_overlaps(floor.paper, across, down, sheets)
            said = f"sheet {number} of {sheets * sheets}"
            whole = floor.paper.svg(f"{title}, {said}", f"The floor, {said}.")
            x, y = max(0.0, across * wide - _OVERLAP), max(0.0, down * tall - _OVERLAP)
            right = min(SHEET, (across + 1) * wide + _OVERLAP)
            low = min(floor.paper.height, (down + 1) * tall + _OVERLAP)
            before = f'viewBox="0 0 {SHEET:g} '
            at = whole.index(before)
            end = whole.index('"', at + 9)
            window = f'viewBox="{x:.1f} {y:.1f} {right - x:.1f} {low - y:.1f}'
            yield whole[:at] + window + whole[end:]


def _mark_overlaps(paper: DrawingPaper, across: int, down: int, sheets: int) -> None:
    """Draw the lines on which this sheet meets its neighbors, each with its letter."""
    wide, tall = SHEET / sheets, paper.height / sheets
    middle = ((across + 0.5) * wide, (down + 0.5) * tall)
    for edge in {across, across + 1} - {0, sheets}:
        x = edge * wide
        paper.stroke((x, 0), (x, paper.height), name="overlap", dash="14 6")
        paper.letter((x, middle[1]), f"{chr(64 + edge)}", size=SMALL, name="overlap", backed=True)
    for edge in {down, down + 1} - {0, sheets}:
        y = edge * tall
        paper.stroke((0, y), (SHEET, y), name="overlap", dash="14 6")
        letter = chr(64 + sheets - 1 + edge)
        paper.letter((middle[0], y), letter, size=SMALL, name="overlap", backed=True)
