"""The log: a phone page for the day, the log of a job, its photographs. No prices here."""

from __future__ import annotations

from pathlib import Path

from django.contrib.staticfiles import finders
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, day_for, job_for, log_entry_for, signed_in
from jobs.clock import today_of
from jobs.forms.base import files_sent, sent
from jobs.forms.day_log.crew_log import is_of_the_crew
from jobs.forms.log import LogForm
from jobs.http import render_page
from jobs.models import DayLog, FloorZone, HoursStanding, Job, LogEntry, PunchItem, WorkDay
from jobs.readers.crews_day.extras import agreed_keys
from jobs.readers.day_log.beside import goes_with
from jobs.readers.day_log.holds import held_tasks
from jobs.readers.day_log.questions import questions_of
from jobs.readers.log import entry_lines, hours_by_task, may_take_back, rows_laid, task_name
from jobs.readers.path import path_context
from jobs.readers.scope import scope_value
from jobs.services.day_log.undoing import take_back
from jobs.services.files import serve
from jobs.services.log import record_log
from jobs.views.day_log.crew_log import FROM_SCRIPT, crew_log, recorded, refused
from jobs.views.edit_page import confirm_page, edits


@edits
@signed_in
def log_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Enter what was done on a day: for the whole crew, or of one person as older pages send it."""
    day = day_for(request, pk)
    if request.method != "POST" or is_of_the_crew(request.POST):
        return crew_log(request, day)
    return _of_one(request, day)


def _of_one(request: SignedInRequest, day: WorkDay) -> HttpResponse:
    """Take the log of one person, as phones send it that were without signal since before."""
    form = LogForm(
        sent(request),
        files_sent(request),
        day=day,
        scope_of_day=scope_value(day.scope),
        user=request.user,
    )
    if form.is_valid():
        entries = form.carry_out(lambda: _record(request, day, form))
        if entries is not None:
            log = entries[0].log if entries else None
            return recorded(request, day, log.key if log else "")
    if request.headers.get(FROM_SCRIPT):
        return refused(form)
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


def _page(request: SignedInRequest, day: WorkDay, form: LogForm) -> HttpResponse:
    held = held_tasks(day.job, form.scope_value.tasks)
    todays, others = form.groups({key: caution.title for key, caution in held.items()})
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
    logs = DayLog.objects.filter(day__job=job).select_related("teller").prefetch_related("photos")
    by_day = {day.pk: [entry for entry in entries if entry.day_id == day.pk] for day in days}
    in_order = [entry for day in days for entry in by_day[day.pk]]
    counting = [entry for entry in in_order if entry.standing == HoursStanding.COUNTS]
    scope = job.agreed_scope
    context = path_context(request, job, "Log") | {
        "days": [
            (
                day,
                entry_lines(by_day[day.pk], request.user),
                [log for log in logs if log.day_id == day.pk],
            )
            for day in days
        ],
        "to_log": None
        if job.closed_at
        else next((day for day in days if not by_day[day.pk]), None),
        "questions": questions_of(LogEntry.objects.filter(day__job=job)),
        "punch": PunchItem.objects.filter(job=job).select_related("who", "done_by"),
        "overrides": job.hold_overrides.all(),
        "tasks": (tasks := hours_by_task(scope, counting) if scope else []),
        "planned": sum(task.planned for task in tasks),
        "rows_laid": (rows := rows_laid(entries)),
        "begun": _begun(request, job, [name for name, _ in rows]),
        "spoiled": (spoiled := sum(entry.planks_spoiled for entry in entries)),
        "spoiled_unit": "plank" if spoiled == 1 else "planks",
        "logged": sum(entry.hours for entry in counting),
        "scope": scope,
        "any": bool(entries),
        "agreed_extras": agreed_keys(job),
        "extras": job.extras.filter(dropped_at__isnull=True).select_related("who"),
    }
    return render_page(request, "jobs/log/log.html", context)


def _begun(request: SignedInRequest, job: Job, names: list[str]) -> list[FloorZone]:
    """Return the floors whose rows are logged, for the office to plan what is left of them."""
    if not request.user.is_office or not names:
        return []
    return list(FloorZone.objects.filter(job=job, name__in=names, plans__isnull=False).distinct())


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
        raise PermissionDenied("An entry is undone by the person it is of, or by the office.")
    day = entry.day
    to_day = reverse("day", args=[day.pk])
    return confirm_page(
        request,
        title="Undo a log entry",
        sentence=f"{entry.who.name}, {day.date:%b} {day.date.day}: {task_name(entry)}, "
        f"{entry.hours.normalize():f} h.",
        consequences=[
            "It counts no longer; that it was there is kept in the book.",
            *(["Its photograph is no longer shown."] if entry.photo else []),
            *goes_with(entry).consequences,
        ],
        action="Undo the entry",
        write=lambda: take_back(entry=entry, user=request.user),
        done="The entry is undone.",
        to=to_day,
        back=to_day,
    )


@require_safe
@signed_in
def log_seal(request: SignedInRequest) -> HttpResponse:
    """The key under which a phone seals what it could not send yet: to its person alone."""
    said = f"{request.user.pk} {request.user.log_seal}"
    return HttpResponse(said, content_type="text/plain; charset=ascii")


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
