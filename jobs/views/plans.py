"""Plans of a floor: the page with its drawing, one piece of it, and the files. No prices here."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, plan_for, signed_in
from jobs.domain.lengths import core_area_words, core_length_words
from jobs.domain.plans.advice import (
    bought_sentence,
    relax_offers,
    short_words,
    spread_sentence,
)
from jobs.domain.plans.breaches import breaches_of
from jobs.domain.plans.halls import hall_sentences
from jobs.domain.plans.hand_check import drift_sentence, hand_check
from jobs.domain.plans.piece import details_of
from jobs.domain.plans.sorting import sorting_of
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.plans.tables import (
    buying_sentence,
    carton_sentence,
    marks_of,
    proof_sentence,
    row_now,
    rows_of,
    starts_of,
    trapped_of,
)
from jobs.http import Context, render_page, wants_part
from jobs.models import FloorPlan
from jobs.readers.floors.cartons import shares_product
from jobs.readers.path import path_context
from jobs.readers.plan_request import whats_changed
from jobs.readers.plans import piece_picture, plan_picture
from jobs.readers.stored_plan import stored_plan
from jobs.views.older_plans import older_plan_page
from layout.cutsheet.rows import HOW_TO_READ, RowsOfSheet
from layout.cutsheet.sheet import cut_sheet
from layout.drawing.pictures.cartons import draw_stack
from layout.values.plan import Plan
from layout.values.sheet import CutSheet

_NO_CUTS = CutSheet(unit="", planks=())  # where neither a piece nor a row is asked for


@require_safe
@signed_in
def plan(request: SignedInRequest, pk: int) -> HttpResponse:
    """A plan: drawing, figures, what breaks a rule, rows and cuts as tables; or one piece of it."""
    plan = plan_for(request, pk)
    stored = stored_plan(plan)
    if stored.is_older:
        return older_plan_page(request, plan, stored)
    piece, row = request.GET.get("piece", ""), request.GET.get("row", "")
    context: Context = {"plan": plan, "zone": plan.zone}
    sheet = cut_sheet(stored.request, stored.plan) if piece or row else _NO_CUTS
    context |= _piece(stored, sheet, piece)
    context |= {"row": row_now(stored.request, stored.plan, sheet, row)}
    if wants_part(request):
        part = "piece" if piece else "row"
        return render_page(request, "jobs/plans/plan.html", context, part=part)
    context |= path_context(request, plan.zone.job, "Floor") | _whole(plan, stored)
    return render_page(request, "jobs/plans/plan.html", context)


@require_safe
@signed_in
def plan_cuts(request: SignedInRequest, pk: int) -> HttpResponse:
    """The cut sheet of a plan: every cut in words, the rack list, the row lines."""
    plan = plan_for(request, pk)
    stored = stored_plan(plan)
    if stored.is_older:
        return older_plan_page(request, plan, stored)
    sheet = cut_sheet(stored.request, stored.plan)
    rows = RowsOfSheet(stored.request, stored.plan, sheet)
    context = path_context(request, plan.zone.job, "Floor") | {
        "plan": plan,
        "sheet": rows.rows(),
        "how_to_read": HOW_TO_READ,
        "rack": rows.rack(),
        "sorting": sorting_of(stored.request, stored.plan),
        "marks": marks_of(stored.request, stored.plan),
    }
    return render_page(request, "jobs/plans/cuts.html", context)


@require_safe
@signed_in
def plan_drawing(request: SignedInRequest, pk: int) -> HttpResponse:
    """The drawing of a plan as an SVG file."""
    plan = plan_for(request, pk)
    return _file(plan_picture(plan), "image/svg+xml", f"{_stem(plan)}.svg")


@require_safe
@signed_in
def plan_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """A plan in its JSON form, as frozen."""
    plan = plan_for(request, pk)
    stored_plan(plan)  # nothing leaves the house that is not as it was stored
    return _file(plan.document.text, "application/json", f"{_stem(plan)}.json")


@require_safe
@signed_in
def plan_request_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """What a plan was asked for, in its JSON form, as frozen."""
    plan = plan_for(request, pk)
    stored_plan(plan)
    return _file(plan.request.text, "application/json", f"{_stem(plan)}-request.json")


def _piece(stored: StoredPlan, sheet: CutSheet, name: str) -> Context:
    """Return one piece in words and as a drawing. Raises Http404 where there is no such piece."""
    if not name:
        return {"piece": None}
    try:
        return {
            "piece": details_of(stored.request, stored.plan, sheet, name),
            "piece_svg": piece_picture(stored.request, stored.plan, sheet, name),
        }
    except KeyError:
        text = "This plan has no such piece."
        raise Http404(text) from None


def _whole(row: FloorPlan, stored: StoredPlan) -> Context:
    """Return what only the whole page shows."""
    request, plan = stored.request, stored.plan
    newer = row.zone.plans.filter(number__gt=row.number).first()
    return {
        "newer": newer,
        "shared": shares_product(row.zone),
        "changed": "" if newer else whats_changed(row),
        "svg": plan_picture(row, read=stored),
        "proof": proof_sentence(request, plan),
        "buying": buying_sentence(request, plan),
        "going_on": request.on_hand is not None,
        "stack": _stack(stored),
        "stacked": carton_sentence(request, plan),
        "hand": hand_check(request, plan),
        "drift": drift_sentence(request, plan),
        "bought": bought_sentence(plan),
        "short": short_words(plan),
        "relax": relax_offers(plan),
        "halls": hall_sentences(request, plan),
        "spread": spread_sentence(plan),
        "sorting": sorting_of(request, plan),
        "rows": rows_of(plan),
        "trapped": trapped_of(request, plan),
        "starts": starts_of(request, plan),
        "warnings": breaches_of(plan),
        "directions": plan.directions,
        **_figures(plan),
    }


def _stack(stored: StoredPlan) -> str:
    """Return the plan's cartons as a stack; empty where it goes on from planks at hand."""
    request, plan = stored.request, stored.plan
    if request.on_hand is not None:
        return ""
    return draw_stack(
        plan.totals.cartons,
        planks=plan.totals.planks,
        per_carton=request.product.per_carton,
        title="Cartons to buy",
    )


def _figures(plan: Plan) -> Context:
    """Return the plan's figures in words."""
    smallest = plan.totals.look.smallest_offset
    return {
        "totals": plan.totals,
        "cut_count": sum(1 for piece in plan.pieces if piece.cuts),
        "floor_area": core_area_words(plan.totals.floor_area, plan.unit),
        "laid_area": core_area_words(plan.totals.laid_area, plan.unit),
        "smallest": "" if smallest is None else core_length_words(smallest, plan.unit),
        "direction": f"{plan.direction_deg:g}°",
    }


def _stem(plan: FloorPlan) -> str:
    """Return the name under which a plan's files are kept."""
    return f"job-{plan.zone.job.number}-floor-{plan.zone_id}-plan-{plan.number}"


def _file(text: str, content_type: str, name: str) -> HttpResponse:
    disposition = f'attachment; filename="{name}"'
    return HttpResponse(
        text,
        content_type=f"{content_type}; charset=utf-8",
        headers={"Content-Disposition": disposition},
    )
