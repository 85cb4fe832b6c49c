"""One floor of a packet: drawing, cut sheet, offcuts, row lines, what breaks a rule. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.domain.formats import Fields
from jobs.domain.load_list import sorting_content
from jobs.domain.plans.sorting import sorting_of
from jobs.domain.plans.tables import marks_of
from jobs.domain.products.joining import JOINING, JOINING_CARE
from layout.cutsheet.rows import PieceSheet, RackEntry, RowSheet, RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.drawing.casing_template import casing_pieces, draw_casing_template
from layout.drawing.piece import draw_piece
from layout.drawing.plan import draw_plan
from layout.values.material import Side
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.units import length_words

WIDE = 1.7
"""From this ratio on a floor is drawn on a sheet that lies on its side."""

_SHAPED = frozenset({"notch", "angle", "hole"})


@dataclass(frozen=True, kw_only=True, slots=True)
class PacketFloor:
    """One floor of the packet: its plan as asked and as made, and the product's words.

    ``card``: what the product's own sheet says of joining, each sentence with its source.
    """

    name: str
    product: str
    lock: str
    number: int
    sha256: str
    request: PlanRequest
    plan: Plan
    card: tuple[str, ...] = ()


def floor_content(floor: PacketFloor, place: int) -> Fields:
    """Return one floor: drawing, cut sheet, rack list, row lines, what breaks a rule."""
    plan, request = floor.plan, floor.request
    sheet = cut_sheet(request, plan)
    rows = RowsOfSheet(request, plan, sheet)
    sorting = sorting_of(request, plan)
    title = f"{floor.name}: rows and joints"
    drawing = draw_plan(request, plan, title=title, ident=f"floor-{place}")
    xs, ys = zip(*request.zone.outline, strict=True)
    return {
        "name": floor.name,
        "product": floor.product,
        "plan": floor.number,
        "plan_sha256": floor.sha256,
        "planks": plan.totals.planks,
        "cartons": plan.totals.cartons,
        "spares": request.spares,
        "row_count": max((piece.row for piece in plan.pieces), default=0),
        "wide": max(xs) - min(xs) > WIDE * (max(ys) - min(ys)),
        "drawing": drawing,
        "strips": [],
        "offcuts": [],
        "stick": {},
        "notched": [],
        "templates": [],
        "joining": {},
        "warnings": [
            {"where": one.where, "text": one.text} for one in plan.warnings if one.rule != "start"
        ],
        **sorting_content(sorting),
        "older": {
            "joining": JOINING.get(floor.lock, ""),
            "joining_care": JOINING_CARE,
            "card": list(floor.card),
            "gap": length_words(request.rules.expansion_gap, plan.unit, on_tape=True),
            "rows": [
                _row(row) | {"new": sorting.of_row(row.row) if sorting else ""}
                for row in rows.rows()
            ],
            "shaped": _shaped(request, plan, sheet, place),
            "templates": _templates(request, plan, sheet),
            "rack": [_rack(entry) for entry in rows.rack()],
            "row_lines": _row_lines(request, plan),
            "stick": [
                {"source": line.source, "marks": list(line.marks), "scribe": list(line.scribe)}
                for line in marks_of(request, plan)
            ],
        },
    }


def _row(row: RowSheet) -> dict[str, object]:
    return {
        "row": row.row,
        "begin": row.begin,
        "line": row.line,
        "trapped": list(row.trapped),
        "pieces": [_piece(piece) for piece in row.pieces],
    }


def _piece(piece: PieceSheet) -> dict[str, object]:
    return {
        "id": piece.id,
        "take": piece.take,
        "lies": piece.lies,
        "steps": [{"n": step.n, "text": step.text, "tool": step.tool} for step in piece.steps],
        "how_in": piece.how_in,
        "variant": piece.variant,
    }


def _shaped(request: PlanRequest, plan: Plan, sheet: CutSheet, place: int) -> list[dict[str, str]]:
    """Return a small drawing of every piece that is notched, cut at an angle or cut out inside."""
    shaped = {
        cut.then.in_hand for plank in sheet.planks for cut in plank.cuts if cut.kind in _SHAPED
    }
    return [
        {
            "id": piece.id,
            "drawing": draw_piece(request, plan, sheet, piece.id, ident=f"{place}-{piece.id}"),
        }
        for piece in plan.pieces
        if piece.id in shaped
    ]


def _templates(request: PlanRequest, plan: Plan, sheet: CutSheet) -> list[dict[str, object]]:
    """Return the sheets at true size for every piece that is cut round a casing."""
    return [
        {"id": name, "sheets": list(draw_casing_template(request, plan, sheet, name))}
        for name in casing_pieces(request, plan, sheet)
    ]


def _rack(entry: RackEntry) -> dict[str, object]:
    return {
        "label": entry.label,
        "size": entry.size,
        "stack": entry.stack,
        "cut_with": entry.cut_with,
        "used_by": entry.used_by,
    }


def _row_lines(request: PlanRequest, plan: Plan) -> list[str]:
    """Return how far the far edge of each row lies from the start wall: the notches of a stick.

    Measured across the rows from the part of the start wall that lies furthest out.
    """
    ys = [y for _, y in to_frame(request.zone.outline, plan.direction_deg)]
    edges: dict[int, float] = {}
    for piece in plan.pieces:
        reached = [y for _, y in to_frame(piece.outline, plan.direction_deg)]
        far = max(reached) - min(ys) if request.lay.start is Side.LOW else max(ys) - min(reached)
        edges[piece.row] = max(far, edges.get(piece.row, 0.0))
    return [length_words(edges[row], plan.unit, on_tape=True) for row in sorted(edges)]
