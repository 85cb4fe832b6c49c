"""Plans of a floor: the page with its drawing, and the files of it. No prices here."""

from __future__ import annotations

import json
from typing import Any

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, plan_for, signed_in
from jobs.http import render_page
from jobs.models import FloorPlan
from jobs.path import path_context
from jobs.plan_pictures import plan_picture
from jobs.planning import whats_changed
from jobs.plansheet import buying_sentence, cut_lines, proof_sentence, rows_of
from jobs.words import core_area_words, core_length_words
from layout.plan import Plan, read_plan
from layout.request import PlanRequest, read_request


@require_safe
@signed_in
def plan(request: SignedInRequest, pk: int) -> HttpResponse:
    """A plan: drawing, figures, what breaks a rule, rows and cuts as tables."""
    found = plan_for(request, pk)
    asked, told = _read(found)
    newer = found.zone.plans.filter(number__gt=found.number).first()
    context = path_context(request, found.zone.job, "Floor") | {
        "plan": found,
        "zone": found.zone,
        "newer": newer,
        "changed": "" if newer else whats_changed(found),
        "svg": plan_picture(found),
        "proof": proof_sentence(asked, told),
        "buying": buying_sentence(asked, told),
        "rows": rows_of(told),
        "cuts": cut_lines(told),
        "warnings": told.warnings,
        "directions": told.directions,
        **_figures(told),
    }
    return render_page(request, "jobs/plan.html", context)


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
    return _file(found.document.text, "application/json", f"{_stem(found)}.json")


@require_safe
@signed_in
def plan_request_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """What a plan was asked for, in its JSON form, as frozen."""
    found = plan_for(request, pk)
    return _file(found.request.text, "application/json", f"{_stem(found)}-request.json")


def _read(found: FloorPlan) -> tuple[PlanRequest, Plan]:
    """Return a stored plan and its request as the layout core's values."""
    asked = read_request(json.loads(found.request.text))
    return asked, read_plan(json.loads(found.document.text))


def _figures(told: Plan) -> dict[str, Any]:
    """Return the plan's figures in words."""
    smallest = told.totals.look.smallest_offset
    return {
        "totals": told.totals,
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
