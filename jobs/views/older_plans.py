"""The page of a plan that was made by older rules: shown as it was planned. No prices here."""

from __future__ import annotations

from itertools import groupby

from django.http import HttpResponse

from jobs.access import SignedInRequest
from jobs.domain.lengths import core_area_words
from jobs.domain.plans.breaches import breaches_of
from jobs.domain.plans.older import older_leftovers, older_pieces
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.plans.tables import buying_sentence, proof_sentence
from jobs.http import Context, render_page
from jobs.models import FloorPlan
from jobs.readers.floors.cartons import shares_product
from jobs.readers.path import path_context
from jobs.readers.plan_request import whats_changed
from jobs.readers.plans import plan_picture


def older_plan_page(request: SignedInRequest, row: FloorPlan, stored: StoredPlan) -> HttpResponse:
    """Return the page of an older plan: drawing, figures, pieces with their cuts as planned."""
    newer = row.zone.plans.filter(number__gt=row.number).first()
    context = path_context(request, row.zone.job, "Floor") | {
        "plan": row,
        "zone": row.zone,
        "shared": shares_product(row.zone),
        "newer": newer,
        "changed": "" if newer else whats_changed(row),
        "svg": plan_picture(row, read=stored),
        **_said(stored),
    }
    return render_page(request, "jobs/plans/older.html", context)


def _said(stored: StoredPlan) -> Context:
    """Return what an older plan itself says, in words."""
    request, plan = stored.request, stored.plan
    rows = groupby(older_pieces(request, plan), key=lambda piece: piece.row)
    return {
        "totals": plan.totals,
        "proof": proof_sentence(request, plan),
        "buying": buying_sentence(request, plan),
        "going_on": request.on_hand is not None,
        "floor_area": core_area_words(plan.totals.floor_area, plan.unit),
        "warnings": breaches_of(plan),
        "rows": [(number, tuple(pieces)) for number, pieces in rows],
        "leftovers": older_leftovers(plan),
    }
