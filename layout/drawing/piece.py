"""One cut piece as a small working drawing: what stays, what goes hatched, the figures to mark.

Drawn for the person of the cut sheet, who kneels on the laid floor and faces the next row: near
edge below, far edge above.
"""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import Polygon, box

from layout.cutsheet.seen_piece import SeenPiece, seen_piece
from layout.drawing.lettering import lettering_width
from layout.drawing.paper import FINE, LETTER, OBJECT, SMALL, DrawingPaper, Margins
from layout.values.outline import Point, Region, Ring, polygons_of
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import FIGURE_TOLERANCE

_STEP = 38.0  # between dimension lines


def draw_piece(
    request: PlanRequest,
    plan: Plan,
    sheet: CutSheet,
    piece_id: str,
    *,
    title: str = "",
    ident: str = "piece",
) -> str:
    """Return one cut piece as SVG: board dashed, waste hatched, every mark on a dimension line.

    "" where nothing is cut for it. Raises KeyError where the plan has no such piece.
    """
    piece = seen_piece(request, plan, sheet, piece_id)
    if piece is None:
        return ""
    along = sorted({figure for figure in piece.figures if figure[0] in {"left", "right"}})
    across = sorted({figure for figure in piece.figures if figure[0] in {"near", "far"}})
    paper = DrawingPaper(
        (0, 0, *piece.size),
        unit=plan.unit,
        margins=Margins(
            left=40, right=60 + 96 * max(1, len(across)), top=70, bottom=56 + _STEP * len(along)
        ),
        ident=ident,
    )
    _draw_board(paper, piece)
    _draw_along(paper, piece, along)
    _draw_across(paper, piece, across)
    _draw_stays(paper, piece)
    _draw_hands(paper)
    return paper.svg(title or f"Piece {piece_id}", " ".join(view.cut.text for view in piece.views))


def _draw_board(paper: DrawingPaper, piece: SeenPiece) -> None:
    """Draw the board dashed, what goes of the part taken hatched, what stays in a thick line."""
    fill = paper.hatch("waste", 9)
    gone: Region = piece.taken.difference(piece.shape)
    paper.lines(_rings(gone), name="waste", weight=0, closed=True, fill=fill)
    board = box(0, 0, *piece.size)
    paper.lines(_rings(board), name="board", weight=FINE, dash="7 4", closed=True)
    paper.lines(_rings(piece.taken), name="taken", weight=FINE, closed=True)
    paper.lines(_rings(piece.shape), name="piece", weight=OBJECT, closed=True)


def _rings(region: Region) -> list[Ring]:
    """Return the rings of a region, holes included."""
    outlines: list[Ring] = []
    for polygon in polygons_of(region):
        if isinstance(polygon, Polygon):
            rings = (polygon.exterior, *polygon.interiors)
            outlines += [tuple(ring.coords)[:-1] for ring in rings]
    return outlines


def _draw_along(
    paper: DrawingPaper, piece: SeenPiece, figures: Sequence[tuple[str, float]]
) -> None:
    """Draw the figures along the board under it, the shortest nearest."""
    spans = [
        (0.0, at, True) if end == "left" else (at, piece.size[0], False) for end, at in figures
    ]
    spans = [span for span in spans if span[1] - span[0] > FIGURE_TOLERANCE]
    for i, (low, high, left) in enumerate(sorted(spans, key=lambda span: span[1] - span[0])):
        y = paper.bottom + 34 + _STEP * i
        (x0, _), (x1, _) = paper.at((low, 0)), paper.at((high, 0))
        for x in (x0, x1):
            paper.stroke((x, paper.bottom + 4), (x, y + 4), name="extension")
        text = paper.figure(high - low)
        if lettering_width(text, LETTER) < x1 - x0 - 8:
            paper.dimension((x0, y), (x1, y), text)
            continue
        # Too short for its figure: that stands outside, where no other line comes down.
        paper.dimension((x0, y), (x1, y), "")
        place: Point = (x0 - 12, y) if left else (x1 + 12, y)
        paper.letter(place, text, anchor="end" if left else "start")


def _draw_across(
    paper: DrawingPaper, piece: SeenPiece, figures: Sequence[tuple[str, float]]
) -> None:
    """Draw the figures across the board at its right, the shortest nearest."""
    spans = [(0.0, at) if edge == "near" else (at, piece.size[1]) for edge, at in figures]
    spans = [span for span in spans if span[1] - span[0] > FIGURE_TOLERANCE]
    for i, (low, high) in enumerate(sorted(spans, key=lambda span: span[1] - span[0])):
        x = paper.right + 56 + 96 * i
        (_, y0), (_, y1) = paper.at((0, low)), paper.at((0, high))
        for y in (y0, y1):
            paper.stroke((paper.right + 4, y), (x + 4, y), name="extension")
        paper.dimension((x, y0), (x, y1), paper.figure(high - low), level=True)


def _draw_stays(paper: DrawingPaper, piece: SeenPiece) -> None:
    """Write on the piece that it stays and lies face up, where there is room on it."""
    inside = piece.shape.representative_point()
    word = "stays, face up"
    wide, tall = lettering_width(word, SMALL) / 2 + 8, SMALL
    x, y = paper.at((inside.x, inside.y))
    corners = [
        (x - wide, y - tall),
        (x + wide, y - tall),
        (x + wide, y + tall),
        (x - wide, y + tall),
    ]
    if piece.shape.contains(Polygon([paper.back(corner) for corner in corners])):
        paper.letter((x, y), word, size=SMALL, name="stays")


def _draw_hands(paper: DrawingPaper) -> None:
    """Write left and right at the ends, and where the next row lies."""
    above = paper.top - 16
    paper.letter((paper.left, above), "left", size=SMALL, anchor="start")
    paper.letter((paper.right, above), "right", size=SMALL, anchor="end")
    x = (paper.left + paper.right) / 2
    paper.arrow((x, paper.top - 14), (x, paper.top - 50), name="next-row")
    paper.letter((x + 12, paper.top - 32), "next row", size=SMALL, anchor="start")
