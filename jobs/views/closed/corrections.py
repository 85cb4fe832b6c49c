"""The log of a closed job and its corrections, for the office. No prices here."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, log_entry_for, signed_in, writable_job_for
from jobs.forms.base import sent
from jobs.forms.closed import CorrectionForm
from jobs.http import render_page
from jobs.models import LogEntry
from jobs.readers.log import task_name
from jobs.readers.path import path_context
from jobs.readers.rates.entries import counted_entries, hours_counted
from jobs.services.closed.corrections import correct_entry
from jobs.views.edit_page import edit_page, edits


@require_safe
@signed_in
def log_corrections(request: SignedInRequest, pk: int) -> HttpResponse:
    """Every entry of the log of a closed job, each to be put right."""
    job = writable_job_for(request, pk)
    entries = counted_entries(LogEntry.objects.filter(day__job=job, hours__gt=0))
    lines = [
        {"entry": entry, "what": task_name(entry), "counts": hours_counted(entry)}
        for entry in entries.select_related("day", "who").order_by("day__date", "pk")
    ]
    context = path_context(request, job, "Review") | {"lines": lines}
    return render_page(request, "jobs/closed/corrections.html", context)


@edits
@signed_in
def log_correct(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put an entry right: its hours as they really were, and why."""
    entry = log_entry_for(request, pk)
    if not request.user.is_office:
        raise PermissionDenied("The log of a closed job is put right by the office.")
    job, back = entry.day.job, reverse("log-corrections", args=[entry.day.job_id])
    form = CorrectionForm(sent(request), initial={"hours": f"{entry.hours.normalize():f}"})
    title = f"{task_name(entry)}, {entry.day.date:%b} {entry.day.date.day}"
    return edit_page(
        request,
        form=form,
        write=lambda: correct_entry(
            entry=entry,
            user=request.user,
            key=form.once_key,
            hours=form.cleaned_data["hours"],
            reason=form.cleaned_data["reason"],
        ),
        done="The correction stands beside the review; the review stays as it was closed.",
        to=lambda _: reverse("job-review", args=[job.pk]),
        context=path_context(request, job, "Review")
        | {"title": title, "button": "Save the correction", "back": back},
        template="jobs/closed/form.html",
    )
