"""A floor in other directions and products, side by side."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.domain.checks import BadValueError
from jobs.domain.plans.refused import refusal_words
from jobs.forms.base import sent
from jobs.forms.floors.comparison import CompareForm, TakeForm
from jobs.http import Context, go_to, render_page, wants_part
from jobs.models import FloorZone
from jobs.readers.path import path_context
from jobs.services.floors.comparison import (
    ask_to_compare,
    compared,
    comparison_of,
    directions_of,
    refuse_begun,
    take_alternative,
)
from jobs.services.plans import ask_for_plan, is_active
from jobs.views.edit_page import edits, refusals
from jobs.worker.errands import stop_and_keep, worker_is_running
from layout.values.errors import LayoutError


@edits
@office
def zone_compare(request: SignedInRequest, pk: int) -> HttpResponse:
    """Ask for a comparison, follow it, and read it."""
    zone = writable_zone_for(request, pk)
    try:
        refuse_begun(zone)
        turns = directions_of(zone)
    except LayoutError as refused:
        messages.error(request, refusal_words(refused, zone.job.unit))
        return go_to(request, "zone", zone.pk)
    except BadValueError as refused:
        messages.error(request, str(refused))
        return go_to(request, "zone", zone.pk)
    form = CompareForm(sent(request), zone=zone, directions=turns)
    if form.is_valid():
        ask_to_compare(
            zone=zone,
            products=form.cleaned_data["products"],
            directions=form.turns,
            user=request.user,
        )
        return go_to(request, "zone-compare", zone.pk)
    status = 422 if form.errors else 200
    return render_page(
        request,
        "jobs/floors/comparison.html",
        _context(request, zone, form),
        part="" if form.is_bound else "comparison",
        status=status,
    )


@require_POST
@office
def zone_compare_stop(request: SignedInRequest, pk: int) -> HttpResponse:
    """End a comparison with the alternatives that stand."""
    zone = writable_zone_for(request, pk)
    errand = comparison_of(zone)
    if errand is not None and is_active(errand):
        stop_and_keep(errand)
    return go_to(request, "zone-compare", zone.pk)


@require_POST
@office
def zone_take(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take one alternative: the floor changes to it and is planned in full."""
    zone = writable_zone_for(request, pk)
    form = TakeForm(request.POST, zone=zone)
    if zone.going_on or not form.is_valid():
        begun = ["Rows are down: they hold the direction and the product."] if zone.going_on else []
        messages.error(request, " ".join([*begun, *refusals(form)]))
        return go_to(request, "zone-compare", zone.pk)
    changed = form.carry_out(
        lambda: take_alternative(
            zone=zone,
            product=form.cleaned_data["product"],
            direction_deg=form.cleaned_data["direction"],
            user=request.user,
            expected=form.cleaned_data["version"],
            key=form.once_key,
        )
    )
    if changed is None:
        messages.error(request, "Somebody changed this floor meanwhile; compare again.")
        return go_to(request, "zone-compare", zone.pk)
    try:
        ask_for_plan(zone=changed, user=request.user)
    except LayoutError as refused:
        messages.error(request, refusal_words(refused, zone.job.unit))
    return go_to(request, "zone", zone.pk)


def _context(request: SignedInRequest, zone: FloorZone, form: CompareForm) -> Context:
    """Return what the page shows."""
    errand = comparison_of(zone)
    path: Context = {} if wants_part(request) else path_context(request, zone.job, "Floor")
    return path | {
        "zone": zone,
        "form": form,
        "errand": errand,
        "active": is_active(errand),
        "worker": worker_is_running(),
        "compared": compared(errand),
        "take": TakeForm(zone=zone),
        "direction_now": zone.direction_deg,
    }
