"""The doorways of a room: a new one, a changed one, removing one."""

from __future__ import annotations

from decimal import Decimal

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, office, writable_doorway_for, writable_room_for
from jobs.forms.base import sent
from jobs.forms.openings.doorways import DoorwayForm, initial_of_doorway
from jobs.http import Context, render_page
from jobs.models import Doorway, Room, SiteFacts, UnitSystem
from jobs.readers.openings.doorways import doorway_words
from jobs.readers.openings.pictures import doorway_picture
from jobs.readers.path import path_context
from jobs.readers.room_drawings import sketch_to_pick, sketches_of
from jobs.services.openings import doorways
from jobs.views.edit_page import asks_to_propose, confirm_page, edit_page, edits

TEMPLATE = "jobs/openings/doorway.html"

# A door's common width and an interior wall with its board: common practice, no source.
FIRST = {
    UnitSystem.IMPERIAL: {"width": '32"', "depth": '4 1/2"'},
    UnitSystem.METRIC: {"width": "800 mm", "depth": "100 mm"},
}

FIRST_WIDTH_MM = Decimal(800)


@edits
@office
def doorway_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note an opening in a wall of a room."""
    room = writable_room_for(request, pk)
    counts = {"casings": 2, "doors_off": 0}
    initial = {**FIRST[UnitSystem(room.job.units)], **counts, **_picked(request)}
    form = DoorwayForm(sent(request), room=room, units=room.job.units, initial=initial)
    context = _context(request, room, None) | {"title": f"New doorway of {room.name}"}
    if asks_to_propose(request):
        return _proposal(request, form, context, _blank(room))
    context |= _follows(_blank(room))
    return edit_page(
        request,
        form=form,
        write=lambda: doorways.add_doorway(
            room=room, user=request.user, key=form.once_key, values=form.values
        ),
        done="The doorway is in the book.",
        to=lambda _: reverse("room-edit", args=[room.pk]),
        context=context,
        template=TEMPLATE,
    )


@edits
@office
def doorway_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change an opening."""
    doorway = writable_doorway_for(request, pk)
    room = doorway.room
    form = DoorwayForm(
        sent(request),
        room=room,
        units=room.job.units,
        initial=initial_of_doorway(doorway) | _picked(request),
        version=doorway.version,
    )
    context = _context(request, room, doorway) | {"title": str(doorway)}
    if asks_to_propose(request):
        return _proposal(request, form, context, doorway)
    context |= _follows(doorway)
    return edit_page(
        request,
        form=form,
        write=lambda: doorways.change_doorway(
            doorway=doorway,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The doorway is changed.",
        to=lambda _: reverse("room-edit", args=[room.pk]),
        context=context,
        template=TEMPLATE,
    )


@edits
@office
def doorway_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove an opening, after asking."""
    doorway = writable_doorway_for(request, pk)
    return confirm_page(
        request,
        title=f"Remove: {doorway}",
        sentence="Its transition goes with it, and base runs on through the wall.",
        action="Remove the doorway",
        write=lambda: doorways.remove_doorway(doorway=doorway, user=request.user),
        done="The doorway is removed.",
        to=reverse("room-edit", args=[doorway.room_id]),
        back=reverse("doorway-edit", args=[pk]),
    )


def _context(request: SignedInRequest, room: Room, doorway: Doorway | None) -> Context:
    """Return the path, and the drawings of this room and the others."""
    others = room.job.rooms.exclude(pk=room.pk)
    return path_context(request, room.job, "Rooms") | {
        "room": room,
        "doorway": doorway,
        "svg": sketch_to_pick(room),
        "others": sketches_of(others),
    }


def _picked(request: SignedInRequest) -> dict[str, int]:
    """Return the wall that was picked on the picture; nothing for what is no wall's number."""
    wall = request.GET.get("wall", "")
    return {"wall": int(wall)} if wall.isascii() and wall.isdigit() and len(wall) < 4 else {}


def _blank(room: Room) -> Doorway:
    """Return a doorway nobody has measured yet, for what follows from it."""
    blank = Doorway(room=room, wall=0, offset_mm=Decimal(0), width_mm=FIRST_WIDTH_MM)
    return doorways.filled(blank, {})


def _proposal(
    request: SignedInRequest, form: DoorwayForm, context: Context, doorway: Doorway
) -> HttpResponse:
    """Return the page, or its part, with what follows from the figures typed so far."""
    form.is_valid()
    doorways.filled(doorway, form.values)
    context |= {"form": form} | _follows(doorway)
    return render_page(request, TEMPLATE, context, part="proposal")


def _follows(doorway: Doorway) -> Context:
    """Return a doorway in words and as a cross-section."""
    site = SiteFacts.objects.filter(job=doorway.room.job).first()
    return {"words": doorway_words(doorway, site), "section": doorway_picture(doorway)}
