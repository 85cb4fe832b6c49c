"""The log of a day for the whole crew, on one phone page; its photographs. No prices here."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.forms.boundfield import BoundField
from django.http import HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, log_shot_for, signed_in
from jobs.clock import today_of
from jobs.domain.tasks import Task
from jobs.forms.base import PlainForm, files_sent, sent
from jobs.forms.day_log.crew_log import CrewLogForm, people_named, people_words
from jobs.http import go_to, render_page
from jobs.models import WorkDay
from jobs.readers.day_log.as_planned import RowsOfFloor
from jobs.readers.day_log.drawing import DrawnFloor, drawn_floors
from jobs.readers.day_log.page import LogPage, log_page
from jobs.readers.path import path_context
from jobs.services.day_log.crew_log import record_crew_log
from jobs.services.files import serve

FROM_SCRIPT = "X-Rowbook-Log"
"""Sent by the page's script: "now" for a log just entered, "later" for one that waited."""
KNOWN = "X-Rowbook-Known"
"""The key of a log that was taken: a phone asks later whether it is still there."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GridLine:
    """One line of the grid: a task, its hours by person, as planned, and why it waits."""

    name: str
    cells: list[BoundField]
    planned: str
    held: str


@dataclass(frozen=True, kw_only=True, slots=True)
class FloorPart:
    """One floor of the log: its rows, the drawing to tap, planks spoiled by reason."""

    rows: RowsOfFloor
    drawing: DrawnFloor | None
    through: BoundField
    spoiled: list[BoundField]
    held: str


def crew_log(request: SignedInRequest, day: WorkDay) -> HttpResponse:
    """Enter a day for the whole crew: as planned, then what was different."""
    page = log_page(day, request.user, people_named(sent(request)))
    form = CrewLogForm(
        sent(request),
        files_sent(request),
        page=page,
        as_planned=request.GET.get("as") == "planned",
    )
    if request.method == "POST" and form.is_valid():
        log = form.carry_out(
            lambda: record_crew_log(
                day=day, user=request.user, key=form.once_key, telling=form.telling
            )
        )
        if log is not None:
            return recorded(request, day, log.key)
    if request.headers.get(FROM_SCRIPT) and request.method == "POST":
        return refused(form)
    return _page(request, page, form)


def recorded(request: SignedInRequest, day: WorkDay, key: str) -> HttpResponse:
    """Return to the day; a script that sent what waited only learns under which key it arrived."""
    by_script = request.headers.get(FROM_SCRIPT)
    if by_script != "later":
        messages.success(request, "The log is saved.")
    if not by_script:
        return go_to(request, "day", day.pk)
    return HttpResponse(status=201, headers={KNOWN: key})


def refused(form: PlainForm) -> HttpResponse:
    """Return the reasons of a refusal as plain lines, for the script that keeps the entry.

    What could not be written for the machine's sake is no refusal: the script sends it again.
    """
    lines = []
    for name, texts in form.errors.items():
        label = form[name].label if name in form.fields else ""
        lines += [f"{label}: {text}" if label else str(text) for text in texts]
    status = 503 if form.unwritten else 422
    return HttpResponse("\n".join(lines), status=status, content_type="text/plain; charset=utf-8")


def _page(request: SignedInRequest, page: LogPage, form: CrewLogForm) -> HttpResponse:
    day, drawn = page.day, drawn_floors(page.day.job)
    floors = [_floor(page, form, task, drawn.get(task.zone)) for task in page.tasks]
    todays_rows = {task.key for task in page.todays}
    begun = {task.zone for task in page.tasks if task.key in todays_rows}
    context = path_context(request, day.job, "Log") | {
        "day": day,
        "form": form,
        "people": people_words(page.people),
        "todays": [_row(page, form, task) for task in page.todays],
        "others": [_row(page, form, task) for task in page.others],
        "floors": [part for part in floors if part and part.rows.zone in begun],
        "other_floors": [part for part in floors if part and part.rows.zone not in begun],
        "other_cells": form.other_cells(),
        "others_open": bool(form.errors),
        "planned_words": _planned_words(page),
        "gates": [
            (hold, form[f"gate-{hold.code}-by"], form[f"gate-{hold.code}-note"])
            for hold in page.gates
        ],
        "held": {hold.code: hold for hold in page.held.values()}.values(),
        "known": day.logs.values_list("key", flat=True),
        "punch": page.punch,
        "spots": page.spots,
        "today": today_of(company_of(request)),
    }
    return render_page(request, "jobs/log/crew/log.html", context, status=form.status)


def _row(page: LogPage, form: CrewLogForm, task: Task) -> GridLine:
    planned = sum(
        (hours for (key, _), hours in page.hours.items() if key == task.key), start=page.nothing
    )
    hold = page.held.get(task.key)
    return GridLine(
        name=page.label(task),
        cells=form.cells(task),
        planned=f"{planned.normalize():f} h" if planned else "",
        held=hold.title if hold else "",
    )


def _floor(
    page: LogPage, form: CrewLogForm, task: Task, drawing: DrawnFloor | None
) -> FloorPart | None:
    if task.key not in page.rows:
        return None
    hold = page.held.get(task.key)
    return FloorPart(
        rows=page.rows[task.key],
        drawing=drawing,
        through=form.through(task),
        spoiled=form.spoiled(task),
        held=hold.title if hold else "",
    )


def _planned_words(page: LogPage) -> str:
    """Return the day as planned in short: Lay, rows 8 to 40; 17 h."""
    rows = [f"{each.zone} {each.planned}" for each in page.rows.values() if each.planned]
    hours = sum(page.hours.values(), start=page.nothing)
    return ", ".join([*rows, f"{hours.normalize():f} h"])


@require_safe
@signed_in
def log_shot(request: SignedInRequest, pk: int) -> HttpResponse:
    """One of the photographs of a day's log, or a signature."""
    return serve(log_shot_for(request, pk).file)  # type: ignore[return-value]
