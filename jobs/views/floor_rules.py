"""The rules of one floor."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.forms.base import sent
from jobs.forms.floor_rules import ZoneRulesForm
from jobs.path import path_context
from jobs.services import floors
from jobs.views.editing import edit_page


@require_http_methods(["GET", "HEAD", "POST"])
@office
def zone_rules(request: SignedInRequest, pk: int) -> HttpResponse:
    """Set rules for one floor; plans made before stand and are marked as outdated."""
    found = writable_zone_for(request, pk)
    units, version = found.job.units, found.version
    form = ZoneRulesForm(sent(request), zone=found, units=units, version=version)
    return edit_page(
        request,
        form=form,
        write=lambda: floors.set_rules(
            zone=found,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            lengths=form.lengths,
            stagger=form.cleaned_data["stagger"],
        ),
        done="The rules of this floor are set.",
        to=lambda _: reverse("zone", args=[found.pk]),
        context=path_context(request, found.job, "Floor") | {"zone": found},
        template="jobs/zone_rules.html",
    )
