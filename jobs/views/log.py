"""The log: a phone page for the day, the log of a job, its photographs. No prices here."""

from __future__ import annotations

from pathlib import Path

from django.contrib import messages
from django.contrib.staticfiles import finders
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, day_for, job_for, log_entry_for, signed_in
from jobs.clock import today_of
from jobs.forms.base import files_sent, sent
from jobs.forms.log import LogForm
from jobs.http import go_to, render_page
from jobs.models import LogEntry, WorkDay
from jobs.readers.days import open_holds_of
from jobs.readers.log import entry_lines, hours_by_task, may_take_back, rows_laid, task_name
from jobs.readers.path import path_context
from jobs.readers.scope import scope_value
from jobs.services.files import serve
from jobs.services.log import record_log, take_back
from jobs.views.edit_page import confirm_page, edits

FROM_SCRIPT = "X-Rowbook-Log"
"""Sent by the page's script: "now" for a log just entered, "later" for one that waited."""


@edits
@signed_in
def log_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Enter what was done on a day: hours by task, rows, planks spoiled, picture, note."""
    day = day_for(request, pk)
    form = LogForm(
        sent(request),
        files_sent(request),
        day=day,
        scope_of_day=scope_value(day.scope),
        user=request.user,
    )
    if request.method == "POST" and form.is_valid():
        entries = form.carry_out(lambda: _record(request, day, form))
        if entries is not None:
            return _recorded(request, day)
    if request.headers.get(FROM_SCRIPT) and request.method == "POST":
        return _refused(form)
    return _page(request, day, form)


def _record(request: SignedInRequest, day: WorkDay, form: LogForm) -> list[LogEntry]:
    return record_log(
        day=day,
        who=form.cleaned_data["who"],
        user=request.user,
        key=form.once_key,
        lines=form.lines,
        note=form.cleaned_data["note"],
        photo=form.picture,
    )


def _recorded(request: SignedInRequest, day: WorkDay) -> HttpResponse:
    """Return to the day; a script that sent what waited only learns that it arrived."""
    by_script = request.headers.get(FROM_SCRIPT)
    if by_script != "later":
        messages.success(request, "The log is taken down.")
    return HttpResponse(status=201) if by_script else go_to(request, "day", day.pk)


def _refused(form: LogForm) -> HttpResponse:
    """Return the reasons of a refusal as plain lines, for the script that keeps the entry."""
    lines = []
    for name, texts in form.errors.items():
        label = form[name].label if name in form.fields else ""
        lines += [f"{label}: {text}" if label else str(text) for text in texts]
    return HttpResponse("\n".join(lines), status=422, content_type="text/plain; charset=utf-8")


def _page(request: SignedInRequest, day: WorkDay, form: LogForm) -> HttpResponse:
    holds = open_holds_of(day.job).values()
    held = {code: caution.title for caution in holds for code in caution.blocks}
    todays, others = form.groups(held)
    context = path_context(request, day.job, "Log") | {
        "day": day,
        "form": form,
        "todays": todays,
        "others": others,
        "others_open": any(field.hours.errors for field in others),
        "today": today_of(company_of(request)),
    }
    return render_page(request, "jobs/log/add.html", context, status=form.status)


@require_safe
@signed_in
def job_log(request: SignedInRequest, pk: int) -> HttpResponse:
    """The log of a job: day after day, and hours by task beside those of the scope."""
    job = job_for(request, pk)
    days = list(job.days.select_related("crew", "scope__document"))
    entries = LogEntry.objects.filter(day__job=job).select_related("who", "photo", "day")
    by_day = {day.pk: [entry for entry in entries if entry.day_id == day.pk] for day in days}
    in_order = [entry for day in days for entry in by_day[day.pk]]
    scope = job.agreed_scope
    context = path_context(request, job, "Log") | {
        "days": [(day, entry_lines(by_day[day.pk], request.user)) for day in days],
        "tasks": (tasks := hours_by_task(scope, in_order) if scope else []),
        "planned": sum(task.planned for task in tasks),
        "rows_laid": rows_laid(entries),
        "spoiled": (spoiled := sum(entry.planks_spoiled for entry in entries)),
        "spoiled_unit": "plank" if spoiled == 1 else "planks",
        "logged": sum(entry.hours for entry in entries),
        "scope": scope,
        "any": bool(entries),
        "extras": job.extras.filter(dropped_at__isnull=True).select_related("who"),
    }
    return render_page(request, "jobs/log/log.html", context)


@require_safe
@signed_in
def log_photo(request: SignedInRequest, pk: int) -> HttpResponse:
    """The photograph of a log entry."""
    entry = log_entry_for(request, pk)
    if entry.photo is None:
        message = "This entry has no photograph."
        raise Http404(message)
    return serve(entry.photo)  # type: ignore[return-value]


@edits
@signed_in
def log_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take back an entry that was a mistake, after asking."""
    entry = log_entry_for(request, pk)
    if not may_take_back(entry, request.user):
        raise PermissionDenied("An entry is taken back by the person it is of, or by the office.")
    day = entry.day
    to_day = reverse("day", args=[day.pk])
    return confirm_page(
        request,
        title="Take back a log entry",
        sentence=f"{entry.who.name}, {day.date:%b} {day.date.day}: {task_name(entry)}, "
        f"{entry.hours.normalize():f} h.",
        consequences=[
            "It counts no longer; that it was there is kept in the book.",
            *(["Its photograph is no longer shown."] if entry.photo else []),
        ],
        action="Take the entry back",
        write=lambda: take_back(entry=entry, user=request.user),
        done="The entry is taken back.",
        to=to_day,
        back=to_day,
    )


@require_safe
def log_worker(request: SignedInRequest) -> HttpResponse:
    """The script that lets a day's pages open without signal; it must come from beside them."""
    script = finders.find("js/log-worker.js")
    if not script:
        message = "The script is not among the static files."
        raise Http404(message)
    return HttpResponse(
        Path(script).read_text(encoding="utf-8"),
        content_type="text/javascript; charset=utf-8",
        headers={"Cache-Control": "no-cache", "Service-Worker-Allowed": reverse("day-list")},
    )
