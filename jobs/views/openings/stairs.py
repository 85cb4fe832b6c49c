"""Flights of stairs: a new one, a changed one, removing one; what follows for their risers."""

from __future__ import annotations

from decimal import Decimal

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, office, writable_job_for, writable_stair_for
from jobs.domain.site.facts import VisitFacts
from jobs.domain.site.level_changes import edge_cautions
from jobs.forms.base import sent
from jobs.forms.openings.stairs import StairForm, initial_of_stair
from jobs.http import Context, render_page
from jobs.models import Job, StairFlight
from jobs.readers.openings.pictures import stair_picture
from jobs.readers.openings.stairs import flight_of, riser_lines, zone_of_stair
from jobs.readers.path import path_context
from jobs.services.openings import stairs
from jobs.services.records import put_values
from jobs.views.edit_page import asks_to_propose, confirm_page, edit_page, edits

TEMPLATE = "jobs/openings/stair.html"
FIRST = {"name": "Main stair", "treads": 12, "riser_boards": 13, "nosings": 13}


@edits
@office
def stair_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note a flight of stairs that gets the floor."""
    job = writable_job_for(request, pk)
    row = StairFlight(job=job, name="New stair", width_mm=Decimal(900))
    form = StairForm(sent(request), job=job, units=job.units, initial=FIRST)
    if asks_to_propose(request):
        return _followed(request, form, row)
    return edit_page(
        request,
        form=form,
        write=lambda: stairs.add_stair(
            job=job, user=request.user, key=form.once_key, values=form.values
        ),
        done="The stair is in the book.",
        to=lambda _: reverse("room-list", args=[job.pk]),
        context=_context(request, job, row) | {"title": "New stair"},
        template=TEMPLATE,
    )


@edits
@office
def stair_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a flight."""
    row = writable_stair_for(request, pk)
    form = StairForm(
        sent(request),
        job=row.job,
        units=row.job.units,
        initial=initial_of_stair(row),
        version=row.version,
    )
    if asks_to_propose(request):
        return _followed(request, form, row)
    return edit_page(
        request,
        form=form,
        write=lambda: stairs.change_stair(
            row=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The stair is changed.",
        to=lambda _: reverse("room-list", args=[row.job_id]),
        context=_context(request, row.job, row) | {"title": row.name},
        template=TEMPLATE,
    )


@edits
@office
def stair_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a flight, after asking."""
    row = writable_stair_for(request, pk)
    return confirm_page(
        request,
        title=f"Remove: {row.name}",
        sentence="Its treads, risers and nosings are not counted any more.",
        action="Remove the stair",
        write=lambda: stairs.remove_stair(row=row, user=request.user),
        done=f"{row.name} is removed.",
        to=reverse("room-list", args=[row.job_id]),
        back=reverse("stair-edit", args=[pk]),
    )


def _followed(request: SignedInRequest, form: StairForm, row: StairFlight) -> HttpResponse:
    """Return the page, or its part, with what follows from the figures typed so far."""
    form.is_valid()
    put_values(row, form.values)
    title = {"title": row.name or "New stair", "form": form}
    return render_page(request, TEMPLATE, _context(request, row.job, row) | title, part="risers")


def _context(request: SignedInRequest, job: Job, row: StairFlight) -> Context:
    """Return the path, the risers now and afterwards, and what the code says of them."""
    facts = VisitFacts(year_built=None, stairs=(flight_of(row),))
    return path_context(request, job, "Rooms") | {
        "stair": None if row._state.adding else row,  # noqa: SLF001  Django's documented flag
        "risers": riser_lines(row),
        "section": stair_picture(row),
        "checks": edge_cautions(facts),
        "floor": zone_of_stair(row, job.zones.all()),
    }
