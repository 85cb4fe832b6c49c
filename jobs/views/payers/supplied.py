"""Material supplied by the client or the payer: whose it is, and what came, counted."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse

from jobs.access import (
    SignedInRequest,
    job_for,
    receipt_for,
    signed_in,
    supplied_for,
    writable_job_for,
)
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.payers.supplied import MaterialNeed, all_faults
from jobs.forms.base import sent
from jobs.forms.payers.supplied import ReceiptForm, WhoseForm
from jobs.http import Context, go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context
from jobs.readers.payers.supplied import counts_of, supplied_rows
from jobs.services.payers import supplied as services
from jobs.views.edit_page import confirm_page, edit_page, edits


@edits
@signed_in
def job_supplied(request: SignedInRequest, pk: int) -> HttpResponse:
    """What of the material is somebody else's; the office says so, the crew counts it."""
    job = writable_job_for(request, pk) if sent(request) is not None else job_for(request, pk)
    template = "jobs/payers/supplied.html"
    context: Context = path_context(request, job, "Site")
    try:
        needs = services.needs_now(job)
    except BadValueError as missing:
        context["missing"] = as_sentence(missing)
        return render_page(request, template, context, status=422 if sent(request) else 200)
    form = WhoseForm(sent(request), needs=needs, rows=list(job.supplied.all()))
    if form.is_valid():
        saved = form.carry_out(
            lambda: services.say_whose(
                job=job,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                chosen=form.chosen,
            )
        )
        if saved is not None:
            messages.success(request, "It is saved whose the material is.")
            return go_to(request, "job-supplied", pk)
    context |= {"form": form, **_counted(job, needs)}
    return render_page(request, template, context, status=form.status)


def _counted(job: Job, needs: tuple[MaterialNeed, ...]) -> Context:
    rows = supplied_rows(job)
    counts = counts_of(job, rows, needs)
    return {
        "counted": list(zip(rows, counts, strict=True)),
        "faults": all_faults(counts),
    }


@edits
@signed_in
def supplied_count(request: SignedInRequest, pk: int) -> HttpResponse:
    """Count what came of a material, with its lot and the faults that are theirs."""
    material = supplied_for(request, pk)
    job, today = material.job, today_of(material.job.company)
    form = ReceiptForm(sent(request), today=today)
    (count,) = counts_of(job, [material], _needs(job))
    return edit_page(
        request,
        form=form,
        write=lambda: services.count_material(
            material=material,
            user=request.user,
            key=form.once_key,
            values=form.values,
            today=today,
        ),
        done="The count is saved.",
        to=lambda _: reverse("job-supplied", args=[job.pk]),
        context=path_context(request, job, "Site") | {"count": count},
        template="jobs/payers/count.html",
    )


def _needs(job: Job) -> tuple[MaterialNeed, ...]:
    try:
        return services.needs_now(job)
    except BadValueError:
        return ()


@edits
@signed_in
def receipt_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take away a count that was wrong, after asking."""
    receipt = receipt_for(request, pk)
    to = reverse("job-supplied", args=[receipt.material.job_id])
    return confirm_page(
        request,
        title="Remove the count",
        sentence=f"{receipt}, {receipt.day}.",
        action="Remove the count",
        write=lambda: services.remove_receipt(receipt=receipt, user=request.user),
        done="The count is removed.",
        to=to,
        back=to,
    )
