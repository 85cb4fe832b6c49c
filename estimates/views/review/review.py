"""The margin review of a job, and closing it; for the office."""

from __future__ import annotations

from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import priced_job_for
from estimates.domain.bridge import ACTUAL, SO_FAR, bridge_svg
from estimates.domain.review.charts import reached_svg
from estimates.domain.review.sums import summed, task_sums
from estimates.domain.review.values import Review
from estimates.readers.review.closed import shown_review
from estimates.readers.review.reviewed import Reviewed
from estimates.readers.review.since import since_closing
from estimates.services.review import closing
from jobs.access import SignedInRequest, signed_in
from jobs.domain.checks import ZERO
from jobs.domain.tasks import OTHER
from jobs.http import Context, go_to, render_page
from jobs.models import Job
from jobs.readers.log import label_of
from jobs.readers.path import path_context


@require_safe
@signed_in
def job_review(request: SignedInRequest, pk: int) -> HttpResponse:
    """What the job earned against what was quoted, and why they differ."""
    job = priced_job_for(request, pk)
    context = path_context(request, job, "Review") | {"currency": job.company.currency}
    margin_review = shown_review(job)
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


def _review_context(job: Job, margin_review: Reviewed) -> Context:
    """Return what the page shows of a review."""
    made, notes = margin_review.review, dict(margin_review.notes)
    money = job.company.currency
    sums = [task_sums(row, margin_review.burdened_rate) for row in made.tasks]
    tasks = [
        {
            "row": row,
            "sums": columns,
            "causes": row.causes if row.logged or job.closed_at else (),
            "note": notes.pop((row.code, row.zone), ""),
        }
        for row, columns in zip(made.tasks, sums, strict=True)
    ]
    return {
        "margin_review": margin_review,
        "review": made,
        "profit_change": made.real.profit - made.quoted.profit,
        "material_agreed": sum((row.agreed_cost for row in made.materials), ZERO),
        "chart": bridge_svg(made, money, ends=ACTUAL if job.closed_at else SO_FAR)
        if margin_review.begun
        else "",
        "tasks": tasks,
        "together": summed(sums),
        "loose_notes": [
            {"label": "Note" if task == OTHER else label_of(task, zone), "text": text}
            for (task, zone), text in notes.items()
        ],
        "ordered": any(row.agreed != row.estimated for row in made.tasks),
        **_reached(made),
        **(_since(job, margin_review) if job.closed_at else {}),
    }


def _reached(made: Review) -> Context:
    """Return where the job stood at the end of each day, and its drawing."""
    days = [
        {
            "row": row,
            "day": date.fromisoformat(row.day),
            "behind": row.ahead < 0,
            "off": abs(row.ahead),
            "late": (row.ahead_of_days or ZERO) < 0,
            "of_days": abs(row.ahead_of_days or ZERO),
            "whole": row.whole(made.budget),
        }
        for row in made.reached
    ]
    return {"reached": days, "reached_chart": reached_svg(made.reached) if days else ""}


def _since(job: Job, margin_review: Reviewed) -> Context:
    """Return what came after a job was closed, and reviews that count no longer."""
    since = since_closing(job, margin_review.burdened_rate)
    return {
        "since": since,
        "contribution_since": margin_review.review.real.contribution + since.amount,
        "earlier": job.closed_reviews.filter(reopened_at__isnull=False),
    }
