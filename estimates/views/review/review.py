"""The margin review of a job, and closing it; for the office."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import priced_job_for
from estimates.domain.bridge import bridge_svg
from estimates.readers.review.reviewed import Reviewed, reviewed
from estimates.services.review import closing
from jobs.access import SignedInRequest, signed_in
from jobs.domain.checks import ZERO
from jobs.http import go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context


@require_safe
@signed_in
def job_review(request: SignedInRequest, pk: int) -> HttpResponse:
    """What the job earned against what was quoted, and why they differ."""
    job = priced_job_for(request, pk)
    context = path_context(request, job, "Review") | {"currency": job.company.currency}
    margin_review = reviewed(job)
    if margin_review is not None:
        context |= _review_context(job, margin_review)
    return render_page(request, "estimates/review/review.html", context)


@require_POST
@signed_in
def job_close(request: SignedInRequest, pk: int) -> HttpResponse:
    """Close a job: its log and its purchases are complete."""
    job = priced_job_for(request, pk)
    closing.close_job(job=job, user=request.user)
    messages.success(request, f"Job {job.number} is closed.")
    return go_to(request, "job-review", job.pk)


@require_POST
@signed_in
def job_reopen(request: SignedInRequest, pk: int) -> HttpResponse:
    """Open a closed job again."""
    job = priced_job_for(request, pk)
    closing.reopen_job(job=job, user=request.user)
    messages.success(request, f"Job {job.number} is open again.")
    return go_to(request, "job-review", job.pk)


def _review_context(job: Job, margin_review: Reviewed) -> dict[str, object]:
    """Return what the page shows of a review."""
    made, notes = margin_review.review, margin_review.notes
    money = job.company.currency
    return {
        "margin_review": margin_review,
        "review": made,
        "profit_change": made.real.profit - made.quoted.profit,
        "hours_over": made.real.hours - margin_review.agreed.crews_hours,
        "material_agreed": sum((row.agreed_cost for row in made.materials), ZERO),
        "chart": bridge_svg(made, money) if margin_review.begun else "",
        "tasks": [{"row": row, "note": notes.get((row.code, row.zone), "")} for row in made.tasks],
        "ordered": job.change_orders.exists(),
    }
