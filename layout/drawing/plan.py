"""Drawings of rooms and plans: one function each for screen and print.

Legible in black and white: walls thick, rows thin, joints thinner; cut pieces dotted, what is
taken away hatched; row numbers in rings where runs begin; posts crossed, registers dashed;
what stands at an edge told in a word; the shade of a piece, where it has one, in its middle.
Everything is drawn in room coordinates, y up the sheet.
"""

from __future__ import annotations

import math

from layout.drawing.boards import draw_boards, draw_numbers, draw_shades, draw_trapped
from layout.drawing.notes import (
    description,
    draw_control_line,
    draw_overall,
    draw_row_widths,
    draw_start,
    draw_strip,
    draw_warnings,
    strip_height,
)
from layout.drawing.paper import FINE, DrawingPaper, Margins
from layout.drawing.walls import bounds_of, draw_holes, draw_wall_lengths, draw_walls, letter_edges
from layout.values.laid_pieces import in_rows, laid_pieces
from layout.values.outline import Zone, edges_of
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.units import length_words


def draw_plan(
    request: PlanRequest, plan: Plan, *, title: str = "", ident: str = "plan", numbers: bool = True
) -> str:
    """Return a plan as SVG: every row and joint, cut pieces dotted, dimensions, scale bar.

    ``title`` is told to screen readers and written under the drawing; ``ident`` begins the ids
    inside. Every piece has a clear shape with its id as ``data-piece``, class ``piece`` and
    ``whole`` or ``cut``. Without ``numbers`` rows have no rings and pieces no shades (a small
    picture for a quote).
    """
    paper = DrawingPaper(
        bounds_of(request.zone.outline),
        unit=plan.unit,
        margins=Margins(left=92, right=168, top=70, bottom=strip_height(request.zone, plan)),
        ident=ident,
    )
    pieces, turn = laid_pieces(plan, request.laid), plan.direction_deg
    rows = in_rows(pieces)
    draw_boards(paper, pieces, turn)
    for ring in request.zone.no_joints:
        paper.lines([ring], name="no-joint", weight=FINE, dash="8 3 2 3", closed=True)
    draw_walls(paper, request.zone)
    draw_holes(paper, request.zone.holes)
    draw_overall(paper, request.zone.outline)
    draw_row_widths(paper, rows, turn)
    draw_strip(paper, request, plan, rows, title)
    draw_start(paper, request, plan)
    draw_control_line(paper, request, plan, rows)
    if numbers:
        draw_numbers(paper, pieces, request, turn)
        draw_shades(paper, pieces, turn)
    # Words that may move aside come last, so that they see what they must keep clear of.
    draw_trapped(paper, pieces, request, plan)
    draw_warnings(paper, rows, request, plan)
    letter_edges(paper, request.zone)
    return paper.svg(title or "Floor plan", description(request, plan, rows))


def draw_outline(
    zone: Zone, *, unit: str, title: str = "", ident: str = "room", lengths: bool = True
) -> str:
    """Return a room as SVG: walls, what stands in them and at them, each wall's length."""
    paper = DrawingPaper(
        bounds_of(zone.outline),
        unit=unit,
        margins=Margins(left=92, right=92, top=92, bottom=130),
        ident=ident,
    )
    draw_walls(paper, zone)
    draw_holes(paper, zone.holes)
    paper.scale_bar((paper.left, paper.bottom + 96), 240)
    if lengths:
        draw_wall_lengths(paper, zone.outline)
    letter_edges(paper, zone)
    walls = ", ".join(
        f"wall {i + 1} {length_words(math.dist(a, b), unit)}"
        for i, (a, b) in enumerate(edges_of(zone.outline))
    )
    return paper.svg(title or "Room", f"{len(zone.outline)} walls: {walls}.")
