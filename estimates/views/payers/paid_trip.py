"""A paid trip, put on the price by its button."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from estimates.access import priced_job_for
from estimates.services.payers.paid_trip import add_paid_trip, draft_paid_trip
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.forms.base import OnceForm
from jobs.http import go_to
from jobs.models import Job
from jobs.views.edit_page import refusals


@require_POST
@signed_in
def paid_trip(request: SignedInRequest, pk: int) -> HttpResponse:
    """Add the trip to the price of a job, and lead back to it.

    Once the quote is accepted it becomes the draft of a change order.
    """
    job = priced_job_for(request, pk)
    form = OnceForm(request.POST)
    if job.agreed_scope_id is not None:
        return _drafted(request, job, form)
    line = None
    if form.is_valid():
        line = form.carry_out(
            lambda: add_paid_trip(
                job=job, user=request.user, key=form.once_key, today=today_of(job.company)
            )
        )
    if line is None:
        messages.error(request, " ".join(refusals(form)))
    else:
        messages.success(request, f"{line} is added to the price.")
    return go_to(request, f"{reverse('job-price', args=[job.pk])}#payer")


def _drafted(request: SignedInRequest, job: Job, form: OnceForm) -> HttpResponse:
    """Write the trip down as a change of what was agreed, and lead to its draft."""
    draft = None
    if form.is_valid():
        draft = form.carry_out(
            lambda: draft_paid_trip(job=job, user=request.user, today=today_of(job.company))
        )
    if draft is None:
        messages.error(request, " ".join(refusals(form)))
        return go_to(request, f"{reverse('job-price', args=[job.pk])}#payer")
    messages.success(request, "The trip is a draft of a change order. Send it from here.")
    return go_to(request, "change-draft", draft.pk)
