"""A floor in other directions and products, side by side."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_http_methods, require_POST

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.domain.checks import BadValueError
from jobs.forms.floors.comparison import CompareForm, TakeForm
from jobs.http import go_to, render_page, wants_part
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
from jobs.worker.errands import stop_and_keep, worker_is_running
from layout.values.errors import LayoutError


@require_http_methods(["GET", "HEAD", "POST"])
@office
def zone_compare(request: SignedInRequest, pk: int) -> HttpResponse:
    """Ask for a comparison, follow it, and read it."""
    found = writable_zone_for(request, pk)
    try:
        refuse_begun(found)
        turns = directions_of(found)
    except (LayoutError, BadValueError) as refused:
        messages.error(request, str(refused))
        return go_to(request, "zone", found.pk)
    sent = request.POST if request.method == "POST" else None
    form = CompareForm(sent, zone=found, directions=turns)
    if sent is not None and form.is_valid():
        ask_to_compare(
            zone=found,
            products=form.cleaned_data["products"],
            directions=form.turns,
            user=request.user,
        )
        return go_to(request, "zone-compare", found.pk)
    status = 422 if form.errors else 200
    return render_page(
        request,
        "jobs/floors/comparison.html",
        _context(request, found, form),
        part="comparison" if sent is None else "",
        status=status,
    )


@require_POST
@office
def zone_compare_stop(request: SignedInRequest, pk: int) -> HttpResponse:
    """End a comparison with the alternatives that stand."""
    found = writable_zone_for(request, pk)
    errand = comparison_of(found)
    if errand is not None and is_active(errand):
        stop_and_keep(errand)
    return go_to(request, "zone-compare", found.pk)


@require_POST
@office
def zone_take(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take one alternative: the floor changes to it and is planned in full."""
    found = writable_zone_for(request, pk)
    form = TakeForm(request.POST, zone=found)
    if found.going_on or not form.is_valid():
        begun = (
            ["Rows are down: they hold the direction and the product."] if found.going_on else []
        )
        messages.error(request, " ".join([*begun, *_said(form)]))
        return go_to(request, "zone-compare", found.pk)
    changed = form.carry_out(
        lambda: take_alternative(
            zone=found,
            product=form.cleaned_data["product"],
            direction_deg=form.cleaned_data["direction"],
            user=request.user,
            expected=form.cleaned_data["version"],
            key=form.once_key,
        )
    )
    if changed is None:
        messages.error(request, "Somebody changed this floor meanwhile; compare again.")
        return go_to(request, "zone-compare", found.pk)
    try:
        ask_for_plan(zone=changed, user=request.user)
    except LayoutError as refused:
        messages.error(request, str(refused))
    return go_to(request, "zone", found.pk)


def _said(form: TakeForm) -> list[str]:
    """Return what a form refuses, in sentences."""
    return [str(text) for texts in form.errors.values() for text in texts]


def _context(request: SignedInRequest, found: FloorZone, form: CompareForm) -> dict[str, Any]:
    """Return what the page shows."""
    errand = comparison_of(found)
    own: dict[str, Any] = {} if wants_part(request) else path_context(request, found.job, "Floor")
    return own | {
        "zone": found,
        "form": form,
        "errand": errand,
        "active": is_active(errand),
        "worker": worker_is_running(),
        "compared": compared(errand),
        "take": TakeForm(zone=found),
        "own_direction": found.direction_deg,
    }
