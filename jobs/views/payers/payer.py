"""The page of who pays for a job."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse

from jobs.access import SignedInRequest, signed_in, writable_job_for
from jobs.forms.base import sent
from jobs.forms.payers.payer import PayerForm
from jobs.readers.path import path_context
from jobs.readers.payers.payer import payer_row
from jobs.services.payers.payer import PAYER_FIELDS, set_payer
from jobs.views.edit_page import edit_page, edits, initial_of, picked


@edits
@signed_in
def job_payer(request: SignedInRequest, pk: int) -> HttpResponse:
    """Say who pays for a job, under which order number, on what terms, by whose prices."""
    job = writable_job_for(request, pk)
    row = payer_row(job)
    form = PayerForm(
        sent(request), initial=initial_of(row, PAYER_FIELDS), version=row.version, job=job
    )
    return edit_page(
        request,
        form=form,
        write=lambda: set_payer(
            row=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, PAYER_FIELDS),
            new=form.new_payer,
        ),
        done="The payer is saved.",
        to=lambda _: reverse("job-payer", args=[pk]),
        context=path_context(request, job, "Price") | {"row": row},
        template="jobs/payers/payer.html",
    )
