"""Callbacks of a closed job, for the office. No prices here."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, callback_for, signed_in, writable_job_for
from jobs.clock import day_of, today_of
from jobs.forms.base import sent
from jobs.forms.closed import CallbackForm, NewCallbackForm
from jobs.readers.path import path_context
from jobs.services.closed import callbacks as services
from jobs.views.edit_page import edit_page, edits, initial_of, picked


@edits
@signed_in
def callback_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Open a callback: what is wrong, and the day on which a crew goes back."""
    job = writable_job_for(request, pk)
    today = today_of(job.company)
    last = job.days.select_related("crew").last()
    closed_on = day_of(job.closed_at, job.company) if job.closed_at else today
    form = NewCallbackForm(
        sent(request),
        company=job.company,
        closed_on=closed_on,
        initial={"on": today.isoformat(), "crew": last.crew_id if last else None},
    )
    return edit_page(
        request,
        form=form,
        write=lambda: services.open_callback(
            job=job,
            user=request.user,
            key=form.once_key,
            values=picked(form, ("what", "cause")),
            on=form.cleaned_data["on"],
            crew=form.cleaned_data["crew"],
        ),
        done="The callback is open. Its crew has the day on its list and logs it there.",
        to=lambda callback: reverse("day", args=[callback.day_id]),
        context=path_context(request, job, "Review")
        | {
            "title": "New callback",
            "button": "Open the callback",
            "back": reverse("job-review", args=[job.pk]),
        },
        template="jobs/closed/form.html",
    )


@edits
@signed_in
def callback(request: SignedInRequest, pk: int) -> HttpResponse:
    """Say why it came to a callback, and whether it is settled."""
    row = callback_for(request, pk)
    initial = initial_of(row, ("what", "cause")) | {"settled": row.settled_at is not None}
    form = CallbackForm(sent(request), initial=initial, version=row.version)
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_callback(
            callback=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, ("what", "cause")),
            settled=form.cleaned_data["settled"],
        ),
        done="The callback is changed.",
        to=lambda _: reverse("job-review", args=[row.job_id]),
        context=path_context(request, row.job, "Review")
        | {
            "title": "Callback",
            "button": "Save the callback",
            "back": reverse("job-review", args=[row.job_id]),
            "day": row.day,
        },
        template="jobs/closed/form.html",
    )
