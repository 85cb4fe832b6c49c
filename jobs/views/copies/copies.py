"""Copies: a room, a floor with its rooms, a house plan to its lots."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import (
    SignedInRequest,
    company_of,
    office,
    writable_job_for,
    writable_room_for,
    writable_zone_for,
)
from jobs.domain.copies import name_beside
from jobs.forms.base import sent
from jobs.forms.copies import CopyJobForm, CopyRoomForm, CopyToJobForm
from jobs.http import go_to, render_page
from jobs.models import FloorPlan, Job
from jobs.readers.path import path_context
from jobs.services.copies import copies
from jobs.views.edit_page import edit_page, edits, say_done

TEMPLATE = "jobs/copies/copy.html"
_ROOM_STAYS = (
    "The copy has the same walls, openings, trim and work. Depths and bags of leveler, notes and "
    "photographs stay with this room; in which floor the copy lies is chosen there."
)
_FLOOR_STAYS = (
    "The copy has the same rooms where they lie, openings, trim, product and rules. Plans, counted "
    "boards and what was read in the rooms stay with this floor; the copy is planned there."
)


@edits
@office
def room_copy(request: SignedInRequest, pk: int) -> HttpResponse:
    """Copy a room within its job or into another."""
    room = writable_room_for(request, pk)
    job = room.job
    name = name_beside(room.name, job.rooms.values_list("name", flat=True), longest=80)
    initial = {"name": name}
    form = CopyRoomForm(sent(request), initial=initial, job=job, company=company_of(request))
    return edit_page(
        request,
        form=form,
        write=lambda: copies.copy_room(
            room=room,
            to=form.to,
            user=request.user,
            key=form.once_key,
            name=form.cleaned_data["name"],
        ),
        done="The room is copied.",
        to=lambda new: reverse("room-edit", args=[new.pk]),
        context=path_context(request, job, "Rooms")
        | {
            "title": f"Copy {room.name}",
            "sentence": _ROOM_STAYS,
            "button": "Copy the room",
            "back_url": reverse("room-edit", args=[pk]),
        },
        template=TEMPLATE,
    )


@edits
@office
def zone_copy(request: SignedInRequest, pk: int) -> HttpResponse:
    """Copy a floor with its rooms within its job or into another."""
    zone = writable_zone_for(request, pk)
    form = CopyToJobForm(sent(request), job=zone.job, company=company_of(request))
    return edit_page(
        request,
        form=form,
        write=lambda: copies.copy_floor(
            zone=zone, to=form.to, user=request.user, key=form.once_key
        ),
        done="The floor is copied with its rooms.",
        to=lambda new: reverse("zone", args=[new.pk]),
        context=path_context(request, zone.job, "Floor")
        | {
            "title": f"Copy the floor {zone.name}",
            "sentence": _FLOOR_STAYS,
            "button": "Copy the floor",
            "back_url": reverse("zone", args=[pk]),
        },
        template=TEMPLATE,
    )


@edits
@office
def job_copy(request: SignedInRequest, pk: int) -> HttpResponse:
    """Copy a job to other addresses: a builder's house plan to its lots."""
    job = writable_job_for(request, pk)
    initial = {"client": job.client_id, "title": job.title}
    form = CopyJobForm(sent(request), initial=initial, company=company_of(request))
    if request.method == "POST" and form.is_valid():
        lots = form.carry_out(lambda: _to_lots(request, job, form))
        if lots:
            return _copied(request, job, lots, plan_too=form.cleaned_data["plan_too"])
    context = path_context(request, job, "Site") | {
        "form": form,
        "planned": FloorPlan.objects.filter(zone__job=job).exists(),
        "rooms": job.rooms.count(),
        "floors": job.zones.count(),
    }
    return render_page(request, "jobs/copies/lots.html", context, status=form.status)


def _to_lots(request: SignedInRequest, job: Job, form: CopyJobForm) -> list[Job]:
    data = form.cleaned_data
    return copies.copy_job(
        job=job,
        user=request.user,
        key=form.once_key,
        client=data["client"],
        title=data["title"],
        addresses=data["addresses"],
    )


def _copied(request: SignedInRequest, job: Job, lots: list[Job], *, plan_too: bool) -> HttpResponse:
    """Say how many jobs there are now and how many floors are being planned; lead to them."""
    planning = copies.plan_copies(job=job, copies=lots, user=request.user) if plan_too else 0
    done = f"Job {lots[0].number} is there." if len(lots) == 1 else ""
    done = done or f"Jobs {lots[0].number} to {lots[-1].number} are there."
    if planning:
        done += f" {planning} floor{' is' if planning == 1 else 's are'} being planned."
    say_done(request, done)
    return go_to(request, "job", lots[0].pk) if len(lots) == 1 else go_to(request, "job-list")
