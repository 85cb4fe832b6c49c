"""The doorways of a room: a new one, a changed one, removing one."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from jobs.access import SignedInRequest, office, writable_doorway_for, writable_room_for
from jobs.forms.base import OnceForm, sent
from jobs.forms.doorways import DoorwayForm
from jobs.http import go_to, render_page
from jobs.models import Doorway, Room, UnitSystem
from jobs.path import path_context
from jobs.services import measure
from jobs.sketches import sketch_stored
from jobs.views.editing import edit_page

edits = require_http_methods(["GET", "HEAD", "POST"])
TEMPLATE = "jobs/doorway.html"

# A door's common width and an interior wall with its board: common practice, no source.
FIRST = {
    UnitSystem.IMPERIAL: {"width": '32"', "depth": '4 1/2"', "step": "0"},
    UnitSystem.METRIC: {"width": "800 mm", "depth": "100 mm", "step": "0"},
}


@edits
@office
def doorway_add(request: SignedInRequest, room: int) -> HttpResponse:
    """Note an opening in a wall of a room."""
    found = writable_room_for(request, room)
    counts = {"casings": 2, "doors_off": 0}
    initial = {**FIRST[UnitSystem(found.job.units)], **counts}
    form = DoorwayForm(sent(request), room=found, units=found.job.units, initial=initial)
    return edit_page(
        request,
        form=form,
        write=lambda: measure.add_doorway(
            room=found, user=request.user, key=form.once_key, values=form.values
        ),
        done="The doorway is in the book.",
        to=lambda _: reverse("room-edit", args=[found.pk]),
        context=_context(request, found, None) | {"title": f"New doorway of {found.name}"},
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
        initial=_initial(doorway),
        version=doorway.version,
    )
    return edit_page(
        request,
        form=form,
        write=lambda: measure.change_doorway(
            doorway=doorway,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The doorway is changed.",
        to=lambda _: reverse("room-edit", args=[room.pk]),
        context=_context(request, room, doorway) | {"title": str(doorway)},
        template=TEMPLATE,
    )


@edits
@office
def doorway_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove an opening, after asking."""
    doorway = writable_doorway_for(request, pk)
    if request.method == "POST":
        room = doorway.room_id
        measure.remove_doorway(doorway=doorway, user=request.user)
        messages.success(request, "The doorway is removed.")
        return go_to(request, "room-edit", room)
    context = {
        "title": f"Remove: {doorway}",
        "sentence": "Its transition goes with it, and base runs on through the wall.",
        "action": "Remove the doorway",
        "tone": "stop",
        "action_url": reverse("doorway-remove", args=[pk]),
        "back_url": reverse("doorway-edit", args=[pk]),
        "form": OnceForm(),
    }
    return render_page(request, "parts/confirm.html", context)


def _context(request: SignedInRequest, room: Room, doorway: Doorway | None) -> dict[str, Any]:
    """Return the path, and the drawings of this room and the others."""
    others = room.job.rooms.exclude(pk=room.pk)
    return path_context(request, room.job, "Rooms") | {
        "room": room,
        "doorway": doorway,
        "svg": sketch_stored(room),
        "others": [(other, sketch_stored(other)) for other in others],
    }


def _initial(doorway: Doorway) -> dict[str, Any]:
    """Return what the form of a doorway shows first."""
    names = ("wall", "beyond", "beyond_floor", "treatment", "casings", "doors_off")
    initial = {name: getattr(doorway, name) for name in names}
    lengths = ("offset", "width", "depth", "step")
    initial |= {name: Decimal(getattr(doorway, f"{name}_mm")) for name in lengths}
    wall = doorway.beyond_wall
    initial["beyond_wall"] = None if wall is None else wall + 1
    initial["beyond_offset"] = doorway.beyond_offset_mm
    return initial
