"""Trim: the runs of a room, one run, the cut list of a job and the lengths it is cut from."""

from __future__ import annotations

from decimal import Decimal

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import (
    SignedInRequest,
    office,
    writable_job_for,
    writable_room_for,
    writable_run_for,
)
from jobs.domain.lengths import ROUNDING_MM, length_words
from jobs.forms.base import sent
from jobs.forms.trim import AddedRunForm, TrimRunForm, TrimStockForm, stock_typed
from jobs.http import go_to, render_page
from jobs.models import BaseTreatment, Room, TrimKind, TrimRun
from jobs.readers.openings.pictures import runs_picture
from jobs.readers.path import path_context
from jobs.readers.trim import (
    action_of,
    drawn_lists,
    ends_words,
    lengths_words,
    material_for,
    place_words,
    stock_mm,
)
from jobs.services import trim
from jobs.views.edit_page import edit_page, edits

_AS_ADDED = {"start_end": "outside", "finish_end": "outside"}
"""How a run round a hearth or an island commonly ends: mitered; common practice, no source."""


@require_safe
@office
def room_trim(request: SignedInRequest, pk: int) -> HttpResponse:
    """The runs of a room, each with what its wall gives now, and what they are cut from."""
    room = writable_room_for(request, pk)
    context = path_context(request, room.job, "Rooms") | {
        "room": room,
        "runs": run_lines(room),
        "lists": drawn_lists(room.job, [room]),
        "stock": lengths_words(stock_mm(room.job)),
        "svg": runs_picture(room, room.trim_runs.all(), trim.run_spans(room)),
    }
    return render_page(request, "jobs/trim/room.html", context)


@edits
@office
def trim_run_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Add a run that follows no wall: round a hearth, an island, a column."""
    room = writable_room_for(request, pk)
    run = TrimRun(room=room, kind=TrimKind.BASE, wall=TrimRun.ADDED_FROM)
    form = AddedRunForm(sent(request), run=run, units=room.job.units, initial=_AS_ADDED)
    context = path_context(request, room.job, "Rooms") | {
        "room": room,
        "title": f"New run of trim in {room}",
    }
    return edit_page(
        request,
        form=form,
        write=lambda: trim.add_run(
            room=room, user=request.user, key=form.once_key, values=form.values
        ),
        done="The run is added.",
        to=lambda _: reverse("room-trim", args=[room.pk]),
        context=context,
        template="jobs/trim/run.html",
    )


@edits
@office
def trim_run(request: SignedInRequest, pk: int) -> HttpResponse:
    """Set one run by hand; from then on it stays when its wall changes."""
    run = writable_run_for(request, pk)
    names = ("kind", "beside", "start_end", "finish_end", "action", "profile", "left_out")
    initial = {name: getattr(run, name) for name in names} | {"length": Decimal(run.length_mm)}
    units, kind_of_form = run.room.job.units, AddedRunForm if run.is_added else TrimRunForm
    form = kind_of_form(sent(request), run=run, units=units, initial=initial, version=run.version)
    derived = _derived(run.room).get(trim.key_of(run))
    context = path_context(request, run.room.job, "Rooms") | {
        "run": run,
        "room": run.room,
        "title": f"{run.get_kind_display()}, {place_words(run)} of {run.room}",
        "disagreement": _disagreement(run, derived),
    }
    return edit_page(
        request,
        form=form,
        write=lambda: trim.change_run(
            run=run,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
        done="The run is set.",
        to=lambda _: reverse("room-trim", args=[run.room_id]),
        context=context,
        template="jobs/trim/run.html",
    )


@require_POST
@office
def trim_run_derive(request: SignedInRequest, pk: int) -> HttpResponse:
    """Let a run follow its wall again; one that a person added goes."""
    run = writable_run_for(request, pk)
    done = "The run is removed." if run.is_added else "The run follows its wall again."
    trim.take_derived(run=run, user=request.user)
    messages.success(request, done)
    return go_to(request, "room-trim", run.room_id)


@edits
@office
def job_trim(request: SignedInRequest, pk: int) -> HttpResponse:
    """The cut list of all new trim of a job, and the lengths it is bought in."""
    job = writable_job_for(request, pk)
    initial = {"stock": stock_typed(job)}
    form = TrimStockForm(sent(request), units=job.units, initial=initial, version=job.version)
    context = path_context(request, job, "Rooms") | {
        "title": "Trim cuts",
        "rooms": job.rooms.all(),
        "lists": drawn_lists(job),
        "stock": lengths_words(stock_mm(job)),
    }
    return edit_page(
        request,
        form=form,
        write=lambda: trim.set_stock(
            job=job,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            lengths_mm=form.cleaned_data["stock"],
        ),
        done="The lengths are kept.",
        to=lambda _: reverse("job-trim", args=[job.pk]),
        context=context,
        template="jobs/trim/job.html",
    )


def run_lines(room: Room) -> list[dict[str, object]]:
    """Return the runs of a room as lines of a table."""
    derived, system = _derived(room), room.job.units
    runs = sorted(room.trim_runs.all(), key=lambda run: (run.kind, run.wall, run.place))
    return [
        {
            "run": run,
            "where": f"{run.get_kind_display()}, {place_words(run)}",
            "length": length_words(run.length_mm, system),
            "ends": ends_words(run),
            "action": BaseTreatment(action_of(run)).label,
            "profile": run.profile or material_for(room),
            "disagreement": _disagreement(run, derived.get(trim.key_of(run))),
        }
        for run in runs
    ]


def _derived(room: Room) -> dict[trim.Key, TrimRun]:
    """Return what the walls of a room give now, by kind, wall and place."""
    return {trim.key_of(run): run for run in trim.derived_runs(room)}


def _disagreement(run: TrimRun, derived: TrimRun | None) -> str:
    """Return how a run that a person set differs from its wall now; empty where it does not."""
    if run.is_added or not (run.edited or run.left_out):
        return ""
    if derived is None:
        return "The walls have no such run any more."
    if abs(derived.length_mm - run.length_mm) <= ROUNDING_MM:
        return ""
    now, then = (length_words(mm, run.room.job.units) for mm in (derived.length_mm, run.length_mm))
    return f"The wall is now {now}; the run was set to {then}."
