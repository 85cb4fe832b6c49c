"""One floor of a packet: drawing, cut sheet, offcuts, row lines, what breaks a rule. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from jobs.domain.formats import Fields
from jobs.domain.load_list import sorting_content
from jobs.domain.packet.notched import notched_content, templates_content, thin_notes
from jobs.domain.packet.offcuts import offcuts_content
from jobs.domain.packet.sliding.joining import joining_content
from jobs.domain.packet.stick import stick_content
from jobs.domain.packet.strips import strips_content
from jobs.domain.packet.words.ends import ends_of
from jobs.domain.packet.words.site import (
    door_words,
    first_two,
    turned_alike,
    wall_words,
    walls_of_lines,
)
from jobs.domain.packet.words.tape import size_words
from jobs.domain.plans.breaches import breaches_of
from jobs.domain.plans.sorting import sorting_of
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.lines import line_places
from layout.cutsheet.strips.rows import floor_strips
from layout.cutsheet.strips.values import FloorStrips
from layout.drawing.floor.landmarks import Landmark
from layout.drawing.floor.sheets import draw_floor_sheets
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet


@dataclass(frozen=True, kw_only=True, slots=True)
class PacketFloor:
    """One floor of the packet: its plan as asked and as made, and the product's words.

    ``card``: what the product's own sheet says of joining, each sentence with its source.
    ``under``: how thick its plank is and what lies under it.
    ``roomy``: few floors are printed, so that each has a sheet for its drawing.
    ``landmarks``: its walls and doorways as people name them. ``tasks``: codes of what is done
    in it.
    """

    name: str
    product: str
    lock: str
    number: int
    sha256: str
    request: PlanRequest
    plan: Plan
    card: tuple[str, ...] = ()
    under: str = ""
    roomy: bool = False
    landmarks: tuple[Landmark, ...] = ()
    tasks: tuple[str, ...] = ()


def floor_content(floor: PacketFloor, place: int) -> Fields:
    """Return one floor: drawing, cut sheet, rack list, row lines, what breaks a rule."""
    plan, request = floor.plan, floor.request
    sheet = cut_sheet(request, plan)
    rows = RowsOfSheet(request, plan, sheet)
    strips = _strips(floor, sheet)
    sorting = sorting_of(request, plan)
    brought = {row.row: (f"Bring {row.words}.",) for row in sorting.rows} if sorting else {}
    notched = _notched(request, plan, sheet, strips, place)
    thin = thin_notes(request, plan, sheet, drawn={piece["id"] for piece in notched["pieces"]})
    joining = joining_content(request, floor.lock, floor.card, floor.under)
    pair = first_two(strips, request) if floor.roomy and joining["steps"] else {}
    notes = {
        row: (*pair.get(row, ()), *brought.get(row, ()), *thin.get(row, ()))
        for row in sorted({*pair, *brought, *thin})
    }
    title = f"{floor.name}: rows and joints"
    drawings = draw_floor_sheets(
        request,
        plan,
        title=title,
        ident=f"floor-{place}",
        landmarks=floor.landmarks,
        roomy=floor.roomy,
    )
    return {
        "name": floor.name,
        "product": floor.product,
        "plan": floor.number,
        "plan_sha256": floor.sha256,
        "planks": plan.totals.planks,
        "cartons": plan.totals.cartons,
        "spares": request.spares,
        "row_count": max((piece.row for piece in plan.pieces), default=0),
        "wide": False,
        "drawing": "",
        "drawings": list(drawings.sheets),
        "beside": drawings.beside,
        "walls": wall_words(floor.tasks, bare_words(request.rules.expansion_gap, request.unit)),
        "doorless": door_words(
            doorways=sum(one.doorway for one in floor.landmarks),
            turned_alike=turned_alike(request),
        )
        if floor.landmarks
        else "",
        "strips": {
            **strips_content(request, strips, sheet, name=floor.name, notes=notes),
            "size": size_words(request, plan),
            "taped": any(row.tape for row in strips.rows),
        },
        "offcuts": offcuts_content(rows, spares=strips.spares),
        "stick": stick_content(request, plan, place, floor.name, sheet=sheet),
        "notched": notched,
        "templates": templates_content(request, plan, sheet),
        "joining": joining,
        "warnings": [{"where": one.where, "text": one.text} for one in breaches_of(plan)],
        **sorting_content(sorting),
        "older": {},
    }


def _strips(floor: PacketFloor, sheet: CutSheet) -> FloorStrips:
    """Return the strips of a floor, its lines named by their walls."""
    strips = floor_strips(floor.request, floor.plan, sheet)
    walls = walls_of_lines(floor.request, floor.landmarks)
    return replace(strips, lines=tuple(dict.fromkeys(line_places(floor.request, walls))))


def _notched(
    request: PlanRequest, plan: Plan, sheet: CutSheet, strips: FloorStrips, place: int
) -> Fields:
    """Return the notched planks, without those whose strip says all of them."""
    apart = {piece.id for row in strips.rows for piece in row.pieces if piece.notched}
    content = notched_content(request, plan, sheet, place, ends_of(strips))
    return {**content, "pieces": [piece for piece in content["pieces"] if piece["id"] in apart]}
