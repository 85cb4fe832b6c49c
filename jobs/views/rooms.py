"""The rooms of a job: the list, a room's sheet with its drawing, removing a room."""

from __future__ import annotations

from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, office, writable_job_for, writable_room_for
from jobs.domain.lengths import core_area_words, core_length_words, length_words
from jobs.domain.rooms.outline import draw_room
from jobs.domain.rooms.sides import names_of
from jobs.domain.rooms.typed_lengths import MeasureError
from jobs.forms.rooms.rooms import RoomSheet
from jobs.http import Context, go_to, render_page
from jobs.models import Job, Room, UnitSystem
from jobs.readers.openings.edges import edges_of_job
from jobs.readers.openings.openings import RoomOpening, openings_by_room, openings_of
from jobs.readers.path import path_context
from jobs.readers.room_drawings import drawn_of, sketch_room, sketch_stored
from jobs.readers.rooms import measured_of
from jobs.services import rooms as services
from jobs.templatetags.look_forms import form_errors
from jobs.views.edit_page import confirm_page, edits

TEMPLATE = "jobs/rooms/room.html"
_SAVED = "room-saved"  # in the session: the key of the form that was saved last
_PARTS = {f"add-{row}": row for row in ("wall", "diagonal", "bow", "hole")}
_ROW_NAMES = {"wall": "Wall", "diagonal": "Diagonal", "bow": "Bow reading", "hole": "Row"}
_WALLS_HELP = {
    UnitSystem.IMPERIAL: "Wall after wall as the laser reads them, either way round, each with the "
    "corner at its end. A bare number is in inches; 12' 4 1/2\", 3.76 m and 376 cm are read too. "
    "An angle is the one between the two walls, where the corner is not square.",
    UnitSystem.METRIC: "Wall after wall as the laser reads them, either way round, each with the "
    "corner at its end. A bare number is in millimeters; 3.76 m, 376 cm and 12' 4 1/2\" are read "
    "too. An angle is the one between the two walls, where the corner is not square.",
}


@require_safe
@office
def room_list(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every room of a job with its area, doorways and floor."""
    job = writable_job_for(request, pk)
    rooms = job.rooms.select_related("zone")
    openings = openings_by_room(rooms)
    lines = [_line(room, openings[room.pk]) for room in rooms]
    total = sum(drawn_of(room).area for room in rooms)
    context = path_context(request, job, "Rooms") | {
        "lines": lines,
        "total": core_area_words(total, job.unit),
        "edges": edges_of_job(job),
    }
    return render_page(request, "jobs/rooms/rooms.html", context)


@edits
@office
def room_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Measure a new room; "Add a wall" and the drawing are answered by the same address."""
    job = writable_job_for(request, pk)
    sheet = _sheet(request, job)
    if _is_save(request) and sheet.is_valid() and sheet.drawn:
        drawn = sheet.drawn
        room = sheet.form.carry_out(
            lambda: services.add_room(
                job=job,
                user=request.user,
                key=sheet.form.once_key,
                treatment=sheet.form.treatment,
                measured=sheet.measured(),
                drawn=drawn,
            )
        )
        if room is not None:
            return _saved(request, room, sheet)
    return _page(request, job, sheet)


@edits
@office
def room_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Measure a room anew or change what is done in it."""
    room = writable_room_for(request, pk)
    sheet = _sheet(request, room.job, room)
    if _is_save(request) and sheet.is_valid() and sheet.drawn:
        drawn = sheet.drawn
        saved = sheet.form.carry_out(
            lambda: services.change_room(
                room=room,
                user=request.user,
                key=sheet.form.once_key,
                expected=sheet.form.cleaned_data["version"],
                treatment=sheet.form.treatment,
                measured=sheet.measured(),
                drawn=drawn,
                seen=sheet.form.seen_before,
            )
        )
        if saved is not None:
            return _saved(request, saved, sheet)
    return _page(request, room.job, sheet)


@edits
@office
def room_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a room, after asking."""
    room = writable_room_for(request, pk)
    doorways = len(openings_of(room))
    lines = [f"Its walls and {doorways} doorway{'' if doorways == 1 else 's'} go with it."]
    if room.zone:
        lines.append(f"{room.zone.name} loses it; the plan of that floor is outdated then.")
    return confirm_page(
        request,
        title=f"Remove {room.name}",
        sentence="It can be brought back as it was: at once, or later from what was removed.",
        consequences=lines,
        action="Remove the room",
        write=lambda: services.remove_room(room=room, user=request.user),
        done=f"{room.name} is removed.",
        to=reverse("room-list", args=[room.job_id]),
        back=reverse("room-edit", args=[room.pk]),
    )


def _is_save(request: SignedInRequest) -> bool:
    """Whether the form was sent to be saved, not for one row more or for its drawing."""
    return request.method == "POST" and request.POST.get("do", "save") == "save"


def _sheet(request: SignedInRequest, job: Job, room: Room | None = None) -> RoomSheet:
    """Return the room's page as sent or as stored."""
    if request.method != "POST":
        return RoomSheet(None, job=job, room=room)
    doing = request.POST.get("do", "save")
    more = doing.removeprefix("add-")
    return RoomSheet(
        request.POST, job=job, room=room, checked=not doing.startswith("add-"), more=more
    )


def _page(request: SignedInRequest, job: Job, sheet: RoomSheet) -> HttpResponse:
    """Return the page of a room, or the part that htmx asked for."""
    doing = request.POST.get("do", "save")
    drawing = doing == "draw"
    if drawing:
        sheet.draws()
    context = path_context(request, job, "Rooms") | {"sheet": sheet, "room": sheet.room}
    context |= _figures(sheet, job) | {"walls_help": _WALLS_HELP[UnitSystem(job.units)]}
    context["doorways"] = _doorways(sheet.room) if sheet.room else []
    context["room_notes"] = list(sheet.room.notes.all()) if sheet.room else []
    context["saved_key"] = request.session.pop(_SAVED, "") if request.method == "GET" else ""
    part = "drawing" if drawing else _PARTS.get(doing, "")
    status = sheet.status if _is_save(request) else 200
    context |= form_errors(*sheet.forms) if _is_save(request) else {}
    return render_page(request, TEMPLATE, context, part=part, status=status)


def _figures(sheet: RoomSheet, job: Job) -> Context:
    """Return drawing, area, perimeter and closing error of what is on the page."""
    drawn = sheet.drawn or (drawn_of(sheet.room) if sheet.room and sheet.checked else None)
    if drawn is None:
        return {"svg": "", "faults_of_drawing": _faults(sheet)}
    name = sheet.form["name"].value() or "Room"
    return {
        "svg": sketch_room(drawn, name=name)
        if sheet.drawn or sheet.room is None
        else sketch_stored(sheet.room, as_walked=True),
        "area": core_area_words(drawn.area, job.unit),
        "perimeter": core_length_words(drawn.perimeter, job.unit),
        "misclosure": drawn.misclosure_words,
        "misses_much": drawn.misses_much,
        "notes": drawn.notes or _notes(sheet),
        "faults_of_drawing": _faults(sheet),
    }


def _notes(sheet: RoomSheet) -> tuple[str, ...]:
    """Return what there is to say of a stored room's measurements."""
    if sheet.drawn or sheet.room is None:
        return ()
    try:
        return draw_room(measured_of(sheet.room), unit=sheet.job.unit).notes
    except MeasureError:
        return ()


def _faults(sheet: RoomSheet) -> list[str]:
    """Return why the outline can't be drawn, for the place where the drawing would stand."""
    rows = [
        (f"{_ROW_NAMES[part]} {n + 1}", form)
        for part, forms in sheet.rows.items()
        for n, form in enumerate(forms)
    ]
    lines = [
        f"{name}: {text}" for name, form in rows for texts in form.errors.values() for text in texts
    ]
    return [*lines, *sheet.form.non_field_errors()]


def _doorways(room: Room) -> list[dict[str, object]]:
    """Return what a room's page shows of its openings."""
    names, units = names_of(drawn_of(room).sided.sides), room.job.units
    return [
        {
            "pk": seen.doorway.pk,
            "leads": seen.leads,
            "place": f"wall {names[seen.wall] or seen.wall + 1}, "
            f"{length_words(seen.offset_mm, units)} along, "
            f"{length_words(seen.doorway.width_mm, units)} wide",
            "treatment": seen.doorway.get_treatment_display(),
        }
        for seen in openings_of(room)
    ]


def _saved(request: SignedInRequest, room: Room, sheet: RoomSheet) -> HttpResponse:
    """Lead to the saved room, whose page lets the browser drop what it kept of this form."""
    messages.success(request, f"{room.name} is in the book.")
    request.session[_SAVED] = sheet.form.cleaned_data["key"]
    return go_to(request, "room-edit", room.pk)


def _line(room: Room, openings: Iterable[RoomOpening]) -> dict[str, object]:
    """Return what the list shows of a room."""
    drawn = drawn_of(room)
    return {
        "room": room,
        "area": core_area_words(drawn.area, room.job.unit),
        "walls": len({side.wall for side in drawn.sides} - {None}) or len(drawn.outline),
        "doorways": [opening.leads for opening in openings],
    }
