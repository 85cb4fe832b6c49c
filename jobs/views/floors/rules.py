"""The rules of one floor, and where it is broken."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.domain.numerals import whole_number
from jobs.forms.base import VersionedForm, sent
from jobs.forms.floors.rules import ZoneRulesForm
from jobs.http import go_to
from jobs.models import Doorway
from jobs.readers.floors.rules import FLOOR_LENGTHS
from jobs.readers.path import path_context
from jobs.services.floors import rules
from jobs.views.edit_page import edit_page, edits, refusals


@edits
@office
def zone_rules(request: SignedInRequest, pk: int) -> HttpResponse:
    """Set rules for one floor; plans made before stand and are marked as outdated.

    A limit that a plan proposes comes with the address and stands in its field, not yet saved.
    """
    zone = writable_zone_for(request, pk)
    units, version = zone.job.units, zone.version
    tried = {name: request.GET[name] for name in FLOOR_LENGTHS if name in request.GET}
    form = ZoneRulesForm(sent(request), zone=zone, units=units, version=version, tried=tried)
    return edit_page(
        request,
        form=form,
        write=lambda: rules.set_rules(
            zone=zone,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            lengths=form.lengths,
            stagger=form.cleaned_data["stagger"],
        ),
        done="The rules of this floor are set.",
        to=lambda _: reverse("zone", args=[zone.pk]),
        context=path_context(request, zone.job, "Floor") | {"zone": zone},
        template="jobs/floors/rules.html",
    )


@require_POST
@office
def zone_break(request: SignedInRequest, pk: int) -> HttpResponse:
    """Break a floor at a doorway; the rooms beyond become a floor of their own."""
    zone = writable_zone_for(request, pk)
    form = VersionedForm(request.POST)
    named = str(request.POST.get("doorway", ""))
    doorways = Doorway.objects.filter(room__zone=zone).select_related("room__job", "beyond__job")
    doorway = get_object_or_404(doorways, pk=whole_number(named) or 0)
    beyond = None
    if form.is_valid():
        beyond = form.carry_out(
            lambda: rules.break_floor(
                zone=zone,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                doorway=doorway,
            )
        )
    for sentence in refusals(form):
        messages.error(request, sentence)
    if beyond is not None:
        messages.success(request, f"{beyond} is a floor of its own now. Plan both floors.")
    return go_to(request, "zone", zone.pk)
