"""What stands in a job packet: the crew's paper, without a price. Pure.

The content is frozen as it was issued, drawings included, so that a packet of last year prints as
it did. Checks and joining words are common practice without a source; the maker's sheet goes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.formats import DocumentForm, Fields
from jobs.domain.load_list import sorting_content
from jobs.domain.packet_upgrades import numbered_cuts
from jobs.domain.plans.sorting import sorting_of
from jobs.domain.plans.tables import marks_of
from jobs.domain.products.joining import JOINING, JOINING_CARE
from jobs.domain.site.facts import Caution
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

PACKET = DocumentForm(kind="packet", word="packet", upgrades=(numbered_cuts,))
WIDE = 1.7
"""From this ratio on a floor is drawn on a sheet that lies on its side."""

_CHECKS: Mapping[str, tuple[str, ...]] = {
    "carry": ("All cartons of one lot; lot number noted", "Cartons flat, out of the sun"),
    "undercut": ("Casings cut with a gauge of floor and pad",),
    "prep": ("Subfloor flat, dry, screwed; nothing stands up",),
    "level": ("Filler dry before anything lies on it",),
    "underlay": ("Subfloor vacuumed", "Seams taped, no overlap that lifts the floor"),
    "lay": (
        "Subfloor vacuumed, locks wiped",
        "Boards flat, ends flush, no light in a joint",
        "Row line measured again every five rows",
        "Looked at from the doorway",
    ),
    "base": ("Nailed to the wall, never through the floor",),
    "shoe": ("Nailed to the base, never through the floor",),
    "doors_on": ("Every door swings and latches",),
    "clean": ("Spare boards, lot number and care sheet stay with the client",),
}
_SHAPED = frozenset({"notch", "angle", "hole"})
_FIRST_ROWS = "Rows one and two joined off the wall, straight, then slid back"
_EVENING = ("Exits free, one toilet usable", "Blades covered, power off, dust swept")


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


@dataclass(frozen=True, kw_only=True, slots=True)
class DayTask:
    """One task of a day; ``holds`` are titles of hold points that were open at issue.

    ``begins`` tells that the first row of a floor is laid.
    """

    code: str
    name: str
    hours: Decimal
    rows: str
    begins: bool
    helper: bool
    holds: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class PacketDay:
    """One day of the packet."""

    number: int
    date: date
    crew: str
    people: tuple[str, ...]
    hours: Decimal
    tasks: tuple[DayTask, ...]
    notes: tuple[str, ...]


def caution_content(
    cautions: Iterable[Caution], clearances: Mapping[str, Mapping[str, str]]
) -> list[dict[str, object]]:
    """Return the cautions of the packet, holds first, each hold with who cleared it."""
    return [
        {
            "code": caution.code,
            "title": caution.title,
            "text": caution.text,
            "source": caution.source,
            "severity": caution.severity,
            "cleared": clearances.get(caution.code) if caution.severity == "hold" else None,
        }
        for caution in cautions
        if "packet" in caution.shown_on
    ]


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
        "joining": JOINING.get(floor.lock, ""),
        "card": list(floor.card),
        "plan": floor.number,
        "plan_sha256": floor.sha256,
        "planks": plan.totals.planks,
        "gap": length_words(request.rules.expansion_gap, plan.unit, on_tape=True),
        "cartons": plan.totals.cartons,
        "spares": request.spares,
        "row_count": max((piece.row for piece in plan.pieces), default=0),
        "wide": max(xs) - min(xs) > WIDE * (max(ys) - min(ys)),
        "drawing": drawing,
        "rows": [
            _row(row) | {"new": sorting.of_row(row.row) if sorting else ""} for row in rows.rows()
        ],
        **sorting_content(sorting),
        "shaped": _shaped(request, plan, sheet, place),
        "templates": _templates(request, plan, sheet),
        "rack": [_rack(entry) for entry in rows.rack()],
        "row_lines": _row_lines(request, plan),
        "stick": [
            {"source": line.source, "marks": list(line.marks), "scribe": list(line.scribe)}
            for line in marks_of(request, plan)
        ],
        "warnings": [
            {"where": one.where, "text": one.text} for one in plan.warnings if one.rule != "start"
        ],
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


def day_content(day: PacketDay) -> dict[str, object]:
    """Return one day: tasks, rows, waits, checks with boxes."""
    return {
        "number": day.number,
        "date": day.date,
        "crew": day.crew,
        "people": list(day.people),
        "hours": day.hours,
        "tasks": [
            {
                "name": task.name,
                "hours": task.hours,
                "rows": task.rows,
                "helper": task.helper,
                "holds": list(task.holds),
            }
            for task in day.tasks
        ],
        "notes": list(day.notes),
        "holds": list(dict.fromkeys(hold for task in day.tasks for hold in task.holds)),
        "checks": checks_for(day.tasks),
    }


def checks_for(tasks: Sequence[DayTask]) -> list[str]:
    """Return what is checked on a day of these tasks, once each, the evening's last."""
    checks: list[str] = []
    for task in tasks:
        checks += [_FIRST_ROWS] if task.begins else []
        checks += _CHECKS.get(task.code, ())
    return list(dict.fromkeys([*checks, *_EVENING]))


def packet_content(
    *,
    job: Mapping[str, object],
    client: Mapping[str, object],
    company: Mapping[str, object],
    access: str,
    scope: Mapping[str, object],
    cautions: Sequence[Mapping[str, object]],
    loads: Sequence[Mapping[str, object]],
    floors: Sequence[Fields],
    days: Sequence[PacketDay],
    edges: Mapping[str, object],
) -> Fields:
    """Return the content of a packet without its number and date of issue.

    ``floors``: each as `floor_content` returns it, or as an earlier packet has it.
    """
    return {
        **PACKET.head,
        "job": dict(job),
        "client": dict(client),
        "company": dict(company),
        "access": access,
        "scope": dict(scope),
        "cautions": list(cautions),
        "loads": list(loads),
        "joining_care": JOINING_CARE,
        "floors": list(floors),
        "edges": dict(edges),
        "days": [day_content(day) for day in days],
    }


def packet_from(fields: Fields) -> Fields:
    """Return the stored fields of a packet with days as dates and hours as decimals."""
    days = [
        {
            **day,
            "date": date.fromisoformat(day["date"]),
            "hours": Decimal(day["hours"]),
            "tasks": [{**task, "hours": Decimal(task["hours"])} for task in day["tasks"]],
        }
        for day in fields["days"]
    ]
    return {**fields, "days": days, "issued_on": date.fromisoformat(fields["issued_on"])}
