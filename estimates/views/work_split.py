"""The work split of a job: what the homeowner takes on, and what that takes off the price."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse

from estimates.access import priced_job_for
from estimates.forms.options import WorkSplitForm
from estimates.readers.options.split_page import work_split_of
from estimates.readers.options.work_split import QUESTION_WORDS, work_split_row
from estimates.services.work_split import split_work
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.forms.base import sent
from jobs.http import go_to, render_page
from jobs.readers.path import path_context
from jobs.views.edit_page import edits


@edits
@signed_in
def job_work_split(request: SignedInRequest, pk: int) -> HttpResponse:
    """Tick what the homeowner does; each piece of work says what it takes off the price."""
    job = priced_job_for(request, pk)
    context = path_context(request, job, "Price") | {"currency": job.company.currency}
    template = "estimates/work_split/work_split.html"
    try:
        split = work_split_of(job, today_of(job.company))
    except BadValueError as missing:
        context["missing"] = as_sentence(missing)
        return render_page(request, template, context, status=422 if sent(request) else 200)
    row = work_split_row(job)
    form = WorkSplitForm(sent(request), row=row, shares=split.shares)
    if form.is_valid():
        saved = form.carry_out(
            lambda: split_work(
                row=row,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                codes=form.codes,
            )
        )
        if saved is not None:
            messages.success(request, "The work split is saved; the price is made with it.")
            return go_to(request, "job-work-split", job.pk)
    context |= {
        "form": form,
        "split": split,
        "rows": [(share, form[share.code], _words(share.questions)) for share in split.shares],
        "questions": [(code, QUESTION_WORDS[code]) for code in split.open_now],
    }
    return render_page(request, template, context, status=form.status)


def _words(questions: tuple[str, ...]) -> str:
    return " and ".join(QUESTION_WORDS[code] for code in questions)
