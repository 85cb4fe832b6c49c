"""What is down of a floor, and planning what is left of it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.forms.base import sent
from jobs.forms.floors.resume import GoingOnForm
from jobs.http import go_to
from jobs.readers.floors.resume import begun_by_log, followed_plan
from jobs.readers.path import path_context
from jobs.services.floors import rules
from jobs.views.edit_page import edit_page, edits


@edits
@office
def zone_going_on(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note what is down and at hand; the floor is then planned from there."""
    zone = writable_zone_for(request, pk)
    plan = followed_plan(zone)
    if plan is None:
        messages.info(request, "There is no plan to go on from yet. Plan the floor first.")
        return go_to(request, "zone", zone.pk)
    begun = begun_by_log(zone, plan)
    form = GoingOnForm(sent(request), plan=plan, begun=begun, version=zone.version)
    return edit_page(
        request,
        form=form,
        write=lambda: rules.set_going_on(
            zone=zone,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            plan=plan,
            laid=form.cleaned_data["laid"],
            planks=form.cleaned_data["planks"],
            gone=form.cleaned_data["gone"],
            wider=form.wider,
        ),
        done="What is down is noted. Plan the floor to see what is left.",
        to=lambda _: reverse("zone", args=[zone.pk]),
        context=path_context(request, zone.job, "Floor")
        | {"zone": zone, "plan": plan, "begun": begun},
        template="jobs/floors/resume.html",
    )
