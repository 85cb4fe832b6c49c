"""Extra work of a job: noted on the phone in the evening, before any of it is done. No prices."""

from __future__ import annotations

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, extra_for, job_for, signed_in
from jobs.forms.base import files_sent, sent
from jobs.forms.extras.extra import ExtraForm
from jobs.http import go_to
from jobs.readers.crews_day.extras import agreed_keys
from jobs.readers.path import path_context
from jobs.services.extras import extras as services
from jobs.services.files import serve
from jobs.views.edit_page import confirm_page, edit_page, edits

AGREED_STAYS = "This extra work is agreed on, so it stays on the list."


@edits
@signed_in
def extra_ask(request: SignedInRequest, pk: int) -> HttpResponse:
    """Note what somebody wants beyond what was agreed, or what turned up."""
    job = job_for(request, pk)
    form = ExtraForm(sent(request), files_sent(request))
    return edit_page(
        request,
        form=form,
        write=lambda: services.note_extra(
            job=job,
            user=request.user,
            key=form.once_key,
            text=form.cleaned_data["text"],
            asked_by=form.cleaned_data["asked_by"],
            hours=form.cleaned_data["hours"],
            photo=form.picture,
        ),
        done="The extra work is noted. It is done once it is priced and agreed on.",
        to=lambda _: reverse("job-log", args=[pk]),
        context=path_context(request, job, "Log"),
        template="jobs/extras/extra.html",
    )


@require_safe
@signed_in
def extra_photo(request: SignedInRequest, pk: int) -> HttpResponse:
    """The photograph of extra work."""
    extra = extra_for(request, pk)
    if extra.photo is None:
        message = "This extra work has no photograph."
        raise Http404(message)
    return serve(extra.photo)  # type: ignore[return-value]


@edits
@signed_in
def extra_drop(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take extra work off the list, after asking."""
    extra = extra_for(request, pk)
    if not (request.user.is_office or extra.who_id == request.user.pk):
        raise PermissionDenied("Extra work is taken back by whoever noted it, or by the office.")
    to_log = reverse("job-log", args=[extra.job_id])
    if extra.pk in agreed_keys(extra.job):
        messages.error(request, AGREED_STAYS)
        return go_to(request, to_log)
    return confirm_page(
        request,
        title="Take extra work off the list",
        sentence=extra.text,
        consequences=["It is no longer shown; that it was noted is kept in the book."],
        action="Take it off the list",
        write=lambda: services.drop_extra(extra=extra, user=request.user),
        done="It is off the list.",
        to=to_log,
        back=to_log,
    )
