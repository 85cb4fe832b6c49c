"""What is asked about a log: a person's long or doubled day, and a task under an open hold."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, job_for, log_entry_for, signed_in
from jobs.forms.base import sent
from jobs.forms.day_log.answers import HoursAnswerForm, LetGoForm
from jobs.models import User, WorkDay
from jobs.readers.day_log.page import log_page
from jobs.readers.day_log.questions import answers_hours
from jobs.readers.days import open_holds_of
from jobs.readers.log import entry_lines
from jobs.readers.path import path_context
from jobs.services.day_log.answering import answer_hours, hours_of_day
from jobs.services.day_log.overrides import let_go_on
from jobs.views.edit_page import edit_page, edits


@edits
@signed_in
def log_hours(request: SignedInRequest, pk: int) -> HttpResponse:
    """Say which hours of a person's day count; until then those asked about don't."""
    entry = log_entry_for(request, pk)
    if not answers_hours(request.user, entry.day):
        raise PermissionDenied("The owner, the office or the crew's lead answers this.")
    on = entry.day.date
    entries = hours_of_day(entry.who, on).select_related("who", "photo", "log__teller")
    form = HoursAnswerForm(sent(request))
    return edit_page(
        request,
        form=form,
        write=lambda: (
            answer_hours(
                person=entry.who, on=on, user=request.user, answer=form.cleaned_data["answer"]
            ),
        ),
        done="It is answered; the hours count so.",
        to=lambda _: reverse("day", args=[entry.day_id]),
        context=path_context(request, entry.day.job, "Log")
        | {"day": entry.day, "person": entry.who, "lines": entry_lines(entries, request.user)},
        template="jobs/log/crew/hours.html",
    )


@edits
@signed_in
def hold_let_go(request: SignedInRequest, pk: int, code: str) -> HttpResponse:
    """Let a task go on under an open hold, on the owner's own word."""
    job = job_for(request, pk)
    if not request.user.is_owner:
        raise PermissionDenied("Only the owner lets a task go on under a hold.")
    hold = open_holds_of(job).get(code)
    if hold is None:
        message = f"Job {job.number} has no open hold point {code}."
        raise Http404(message)
    day = job.days.select_related("crew", "job", "scope__document").first()
    held = [] if day is None else _held(day, request.user, code)
    form = LetGoForm(sent(request), tasks=held, initial={"by": request.user.name})
    return edit_page(
        request,
        form=form,
        write=lambda: let_go_on(
            job=job,
            user=request.user,
            key=form.once_key,
            code=code,
            task=form.cleaned_data["task"],
            by=form.cleaned_data["by"],
            reason=form.cleaned_data["reason"],
        ),
        done="The task goes on; the name, the time and the reason are kept.",
        to=lambda _: reverse("job-log", args=[job.pk]),
        context=path_context(request, job, "Log") | {"hold": hold},
        template="jobs/log/crew/let_go.html",
    )


def _held(day: WorkDay, user: User, code: str) -> list[tuple[str, str]]:
    page = log_page(day, user)
    return [(t.key, page.label(t)) for t in page.tasks if _code(page.held.get(t.key)) == code]


def _code(hold: object) -> str:
    return str(getattr(hold, "code", ""))
