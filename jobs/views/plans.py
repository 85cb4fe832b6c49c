"""Plans of a floor: the page with its drawing, one piece of it, and the files. No prices here."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, plan_for, signed_in
from jobs.domain.lengths import core_area_words, core_length_words
from jobs.domain.plans.hand_check import drift_sentence, hand_check
from jobs.domain.plans.piece import details_of
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.plans.tables import (
    buying_sentence,
    marks_of,
    proof_sentence,
    row_now,
    rows_of,
    starts_of,
    trapped_of,
)
from jobs.http import render_page, wants_part
from jobs.models import FloorPlan
from jobs.readers.path import path_context
from jobs.readers.plan_request import whats_changed
from jobs.readers.plans import piece_picture, plan_picture
from jobs.readers.stored_plan import stored_plan
from layout.cutsheet.sheet import HOW_TO_READ, cut_sheet, rack_list
from layout.values.plan import Plan
from layout.values.request import PlanRequest


@require_safe
@signed_in
def plan(request: SignedInRequest, pk: int) -> HttpResponse:
    """A plan: drawing, figures, what breaks a rule, rows and cuts as tables; or one piece of it."""
    found = plan_for(request, pk)
    stored = stored_plan(found)
    asked, told = stored.request, stored.plan
    piece, row = request.GET.get("piece", ""), request.GET.get("row", "")
    context: dict[str, Any] = {"plan": found, "zone": found.zone}
    context |= _piece(asked, told, piece) | {"row": row_now(asked, told, row)}
    if wants_part(request):
        part = "piece" if piece else "row"
        return render_page(request, "jobs/plans/plan.html", context, part=part)
    context |= path_context(request, found.zone.job, "Floor") | _whole(found, stored)
    return render_page(request, "jobs/plans/plan.html", context)


@require_safe
@signed_in
def plan_cuts(request: SignedInRequest, pk: int) -> HttpResponse:
    """The cut sheet of a plan: every cut in words, the rack list, the row lines."""
    found = plan_for(request, pk)
    stored = stored_plan(found)
    asked, told = stored.request, stored.plan
    context = path_context(request, found.zone.job, "Floor") | {
        "plan": found,
        "sheet": cut_sheet(asked, told),
        "how_to_read": HOW_TO_READ,
        "rack": rack_list(asked, told),
        "marks": marks_of(asked, told),
    }
    return render_page(request, "jobs/plans/cuts.html", context)


@require_safe
@signed_in
def plan_drawing(request: SignedInRequest, pk: int) -> HttpResponse:
    """The drawing of a plan as an SVG file."""
    found = plan_for(request, pk)
    return _file(plan_picture(found), "image/svg+xml", f"{_stem(found)}.svg")


@require_safe
@signed_in
def plan_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """A plan in its JSON form, as frozen."""
    found = plan_for(request, pk)
    stored_plan(found)  # nothing leaves the house that is not as it was stored
    return _file(found.document.text, "application/json", f"{_stem(found)}.json")


@require_safe
@signed_in
def plan_request_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """What a plan was asked for, in its JSON form, as frozen."""
    found = plan_for(request, pk)
    stored_plan(found)
    return _file(found.request.text, "application/json", f"{_stem(found)}-request.json")


def _piece(asked: PlanRequest, told: Plan, name: str) -> dict[str, Any]:
    """Return one piece in words and as a drawing. Raises Http404 where there is no such piece."""
    if not name:
        return {"piece": None}
    try:
        return {
            "piece": details_of(asked, told, name),
            "piece_svg": piece_picture(asked, told, name),
        }
    except KeyError:
        text = "This plan has no such piece."
        raise Http404(text) from None


def _whole(found: FloorPlan, stored: StoredPlan) -> dict[str, Any]:
    """Return what only the whole page shows."""
    asked, told = stored.request, stored.plan
    newer = found.zone.plans.filter(number__gt=found.number).first()
    return {
        "newer": newer,
        "changed": "" if newer else whats_changed(found),
        "svg": plan_picture(found, read=stored),
        "proof": proof_sentence(asked, told),
        "buying": buying_sentence(asked, told),
        "going_on": asked.on_hand is not None,
        "hand": hand_check(asked, told),
        "drift": drift_sentence(asked, told),
        "rows": rows_of(told),
        "trapped": trapped_of(asked, told),
        "starts": starts_of(asked, told),
        "warnings": [one for one in told.warnings if one.rule != "start"],
        "directions": told.directions,
        **_figures(told),
    }


def _figures(told: Plan) -> dict[str, Any]:
    """Return the plan's figures in words."""
    smallest = told.totals.look.smallest_offset
    return {
        "totals": told.totals,
        "cut_count": sum(1 for piece in told.pieces if piece.cuts),
        "floor_area": core_area_words(told.totals.floor_area, told.unit),
        "laid_area": core_area_words(told.totals.laid_area, told.unit),
        "smallest": "" if smallest is None else core_length_words(smallest, told.unit),
        "direction": f"{told.direction_deg:g}°",
    }


def _stem(found: FloorPlan) -> str:
    """Return the name under which a plan's files are kept."""
    return f"job-{found.zone.job.number}-floor-{found.zone_id}-plan-{found.number}"


def _file(text: str, content_type: str, name: str) -> HttpResponse:
    disposition = f'attachment; filename="{name}"'
    return HttpResponse(
        text,
        content_type=f"{content_type}; charset=utf-8",
        headers={"Content-Disposition": disposition},
    )
