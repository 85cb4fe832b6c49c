"""The piles of a floor: boards counted by width and shade once cartons are open. No prices here."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, signed_in, zone_for
from jobs.forms.base import sent
from jobs.forms.floors.piles import PilesForm
from jobs.readers.path import path_context
from jobs.services.floors import rules
from jobs.views.edit_page import edit_page, edits


@edits
@signed_in
def zone_piles(request: SignedInRequest, pk: int) -> HttpResponse:
    """Count whole planks by width and shade; whoever sees the floor may: they open the cartons."""
    zone = zone_for(request, pk)
    form = PilesForm(sent(request), zone=zone, units=zone.job.units, version=zone.version)
    return edit_page(
        request,
        form=form,
        write=lambda: rules.set_piles(
            zone=zone,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            piles=form.piles,
        ),
        done="The piles are noted. The floor is planned from exactly these.",
        to=lambda _: reverse("zone", args=[zone.pk]),
        context=path_context(request, zone.job, "Floor") | {"zone": zone},
        template="jobs/floors/piles.html",
    )
