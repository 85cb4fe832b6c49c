"""What the planks that are left of the last carton could buy: before, after, take it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.domain.checks import BadValueError, as_sentence
from jobs.forms.base import VersionedForm
from jobs.http import Context, go_to, render_page, wants_part
from jobs.models import FloorZone
from jobs.readers.floors.spending import SpendOffer, offer_for
from jobs.readers.path import path_context
from jobs.readers.plans import plan_picture
from jobs.services.floors.spending import (
    ask_to_spend,
    spending_errand,
    take_spending,
    tried_spending,
)
from jobs.services.plans import is_active
from jobs.views.edit_page import edits, refusals
from jobs.worker.errands import worker_is_running
from layout.drawing.plan import draw_plan


@edits
@office
def zone_spend(request: SignedInRequest, pk: int) -> HttpResponse:
    """Try what the planks that are left could buy, follow it, look at before and after."""
    zone = writable_zone_for(request, pk)
    if request.method == "POST":
        try:
            ask_to_spend(zone=zone, user=request.user)
        except BadValueError as refused:
            messages.error(request, as_sentence(refused))
            return go_to(request, "zone", zone.pk)
        return go_to(request, "zone-spend", zone.pk)
    offer = offer_for(zone)
    if offer is None:
        messages.info(request, "No plank of the last carton is left to spend on this floor.")
        return go_to(request, "zone", zone.pk)
    return render_page(
        request, "jobs/floors/spending.html", _context(request, zone, offer), part="trial"
    )


@require_POST
@office
def zone_spend_take(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take what was tried as the floor's plan."""
    zone = writable_zone_for(request, pk)
    form = VersionedForm(request.POST)
    if form.is_valid():
        plan = form.carry_out(
            lambda: take_spending(
                zone=zone,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
            )
        )
        if plan is not None:
            messages.success(request, "The planks are spent; this is the floor's plan now.")
            return go_to(request, "plan", plan.pk)
    for sentence in refusals(form):
        messages.error(request, sentence)
    return go_to(request, "zone-spend", zone.pk)


def _context(request: SignedInRequest, zone: FloorZone, offer: SpendOffer) -> Context:
    """Return what the page shows."""
    errand = spending_errand(zone)
    tried = tried_spending(offer, errand)
    path: Context = {} if wants_part(request) else path_context(request, zone.job, "Floor")
    after = tried and draw_plan(tried.request, tried.after, title=zone.name, ident="after")
    return path | {
        "zone": zone,
        "offer": offer,
        "errand": errand,
        "active": is_active(errand),
        "worker": worker_is_running(),
        "tried": tried,
        "before_svg": plan_picture(offer.plan, read=offer.stored) if tried else "",
        "after_svg": after,
        "take": VersionedForm(version=zone.version),
    }
