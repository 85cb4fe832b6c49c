"""What the visit measured: the depth survey of a room, the moisture readings of a job."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse, QueryDict
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST

from jobs.access import SignedInRequest, office, writable_job_for, writable_room_for
from jobs.clock import today_of
from jobs.domain.lengths import MM_PER_IN, core_length_words, length_words
from jobs.domain.site.facts import HIGH_BASE_IN
from jobs.domain.site.leveling import Survey, survey
from jobs.domain.site.moisture import METHODS, Reading, readings_of, standings
from jobs.domain.site.moisture_gates import BY_READING
from jobs.forms.base import OnceForm, sent
from jobs.forms.site import BeforeForm, DepthSheet, ReadingForm
from jobs.http import Context, go_to, render_page
from jobs.models import Job, Room, SiteFacts
from jobs.models.old_floors.old_floor import BEFORE_FIELDS
from jobs.readers.days import open_holds_of
from jobs.readers.moisture.picture import moisture_picture
from jobs.readers.old_floors.rooms import room_facts
from jobs.readers.path import path_context
from jobs.readers.site import moisture_limits, slab_ft2
from jobs.services import site as services
from jobs.views.edit_page import edit_page, edits, initial_of
from layout.drawing.pictures.contours import SurveyMark, draw_contours


@edits
@office
def room_depths(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note how far the subfloor of a room lies low, and see the bags that fill it."""
    room = writable_room_for(request, pk)
    sheet = DepthSheet(sent(request), room=room)
    valid = sheet.is_valid() if request.method == "POST" else False
    if valid:
        surveyed = _survey(room, sheet)
        taken = surveyed.bags[1] if surveyed and request.POST.get("do") == "take" else None
        saved = sheet.form.carry_out(
            lambda: services.note_depths(
                room=room,
                user=request.user,
                key=sheet.form.once_key,
                expected=sheet.form.cleaned_data["version"],
                depths=sheet.typed,
                bags=taken,
            )
        )
        if saved is not None:
            messages.success(request, "The depths are noted.")
            return go_to(request, "room-depths", pk)
    elif request.method != "POST":
        stored = DepthSheet(_as_sent(room), room=room)
        valid = stored.is_valid()
        sheet.depths = stored.depths
    surveyed = _survey(room, sheet) if sheet.depths else None
    context = path_context(request, room.job, "Rooms") | {
        "room": room,
        "sheet": sheet,
        "survey": surveyed,
        "contours": _contours(room, sheet),
        "deepest": core_length_words(surveyed.deepest, room.job.unit) if surveyed else "",
        "bag": SiteFacts.objects.filter(job=room.job).first(),
    }
    return render_page(request, "jobs/site/depths.html", context, status=sheet.status)


@edits
@office
def room_before(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note what was in a room: its floor, what lies below, its painted base."""
    room = writable_room_for(request, pk)
    job = room.job
    form = BeforeForm(
        sent(request),
        initial=initial_of(room, BEFORE_FIELDS) | {"base_height": room.base_height_mm},
        units=job.units,
        version=room.version,
        today=today_of(job.company),
    )
    house = SiteFacts.objects.filter(job=job).first() or SiteFacts(job=job)
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_before(
            room=room,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done=f"What was in {room} is noted.",
        to=lambda _: reverse("site-edit", args=[job.pk]),
        context=path_context(request, job, "Site")
        | {"room": room, "house": house}
        | _painted(room, house),
        template="jobs/site/before.html",
    )


def _painted(room: Room, house: SiteFacts) -> Context:
    """Return the painted surface that is counted in a room, and the base it is counted from."""
    facts = room_facts(room, house)
    height = length_words((facts.base_height_in or HIGH_BASE_IN) * MM_PER_IN, room.job.units)
    off = length_words(facts.base_off_in * MM_PER_IN, room.job.units)
    return {"painted_ft2": facts.painted_ft2, "base_off": off, "base_high": height}


@edits
@office
def moisture(request: SignedInRequest, pk: int) -> HttpResponse:
    """The moisture readings of a job: how they stand, one more."""
    job = writable_job_for(request, pk)
    site = get_object_or_404(SiteFacts, job=job)
    form = ReadingForm(
        sent(request),
        version=site.version,
        today=today_of(job.company),
        standing=len(site.readings),
    )
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        saved = form.carry_out(
            lambda: services.add_reading(
                site=site,
                user=request.user,
                key=form.once_key,
                expected=data["version"],
                reading=Reading(
                    method=data["method"], value=data["value"], where=data["where"], on=data["on"]
                ),
            )
        )
        if saved is not None:
            messages.success(request, "The reading is noted.")
            return go_to(request, "moisture", pk)
    context = path_context(request, job, "Site") | _moisture(job, site) | {"form": form}
    return render_page(request, "jobs/site/moisture.html", context, status=form.status)


@require_POST
@office
def moisture_remove(request: SignedInRequest, pk: int, place: int) -> HttpResponse:
    """Take a reading off the list."""
    job = writable_job_for(request, pk)
    site = get_object_or_404(SiteFacts, job=job)
    form = OnceForm(request.POST)
    if form.is_valid() and place < len(site.readings):
        form.carry_out(
            lambda: services.remove_reading(
                site=site,
                user=request.user,
                key=form.once_key,
                expected=site.version,
                place=place,
            )
        )
    return go_to(request, "moisture", pk)


def _survey(room: Room, sheet: DepthSheet) -> Survey | None:
    """Return what the readings of a sheet come to."""
    site = SiteFacts.objects.filter(job=room.job).first() or SiteFacts(job=room.job)
    ring = tuple((float(x), float(y)) for x, y in room.outline)
    return survey(sheet.depths, ring, unit=room.job.unit, bag_fills_ft3=site.bag_fills_ft3)


def _contours(room: Room, sheet: DepthSheet) -> str:
    """Return the readings of a sheet as contours over the room; empty where there are none."""
    ring = tuple((float(x), float(y)) for x, y in room.outline)
    if not sheet.depths or not ring:
        return ""
    marks = [SurveyMark(x=one.x, y=one.y, low=one.depth) for one in sheet.depths]
    return draw_contours(marks, ring, unit=room.job.unit, title=f"Depths of {room.name[:40]}")


def _as_sent(room: Room) -> QueryDict:
    """Return the stored readings of a room as its form would send them."""
    data = QueryDict(mutable=True)
    data["key"], data["version"] = "stored", str(room.version)
    data["depth-rows"] = str(len(room.depths))
    for i, row in enumerate(room.depths):
        data.update({f"depth-{i}-{name}": row[name] for name in ("x", "y", "depth")})
    return data


def _moisture(job: Job, site: SiteFacts) -> Context:
    """Return the readings of a job and how they stand."""
    readings = readings_of(site.readings)
    stands = standings(readings, limits=moisture_limits(job), slab_ft2=slab_ft2(job))
    return {
        "plan": moisture_picture(job, readings),
        "lines": [(i, one, METHODS[one.method]) for i, one in enumerate(readings)],
        "standings": [(one, METHODS[one.method]) for one in stands if one.method != "boards"],
        "gates": [hold for code, hold in open_holds_of(job).items() if code in BY_READING],
        "remove": OnceForm(),
    }
