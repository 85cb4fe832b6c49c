"""The completion slip: signed by the occupant on a phone that the crew hands over; no price."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from estimates.access import slip_for
from estimates.forms.invoices.slips import SlipForm
from estimates.readers.invoices.slips import word_to_sign
from estimates.services.invoices.paper import logo_address, slip_pdf
from estimates.services.invoices.slips import sign_slip
from estimates.services.passport.links import open_address
from jobs.access import SignedInRequest, job_for, signed_in
from jobs.clock import today_of
from jobs.forms.base import sent
from jobs.http import go_to, render_page
from jobs.services.files import serve
from jobs.views.edit_page import edits


@edits
@signed_in
def completion_slip(request: SignedInRequest, pk: int) -> HttpResponse:
    """What was laid where, and the occupant's word that it is done."""
    job = job_for(request, pk)
    today = today_of(job.company)
    form = SlipForm(sent(request))
    if request.method == "POST" and form.is_valid():
        signed = form.carry_out(
            lambda: sign_slip(
                job=job,
                user=request.user,
                key=form.once_key,
                name=form.cleaned_data["name"],
                open_points=form.cleaned_data["open_points"],
                today=today,
            )
        )
        if signed is not None:
            messages.success(request, f"Signed by {signed.signed_by}. Thank you.")
            return go_to(request, "completion-slip", pk)
    word = word_to_sign(job, today=today)
    context = {
        "job": job,
        "word": word,
        "page": {"logo": logo_address(job.company, word.letterhead) if word else ""},
        "company_name": job.company.name,
        "slips": job.completion_slips.all(),
        "system": job.company.units,
        "form": form,
        "passport_address": open_address(job),
    }
    return render_page(request, "estimates/invoices/slip.html", context, status=form.status)


@require_safe
@signed_in
def completion_paper(request: SignedInRequest, pk: int) -> HttpResponse:
    """The slip as a PDF to be signed by hand. Raises Http404 before a scope is agreed on."""
    job = job_for(request, pk)
    word = word_to_sign(job, today=today_of(job.company))
    if word is None:
        raise Http404
    response = HttpResponse(slip_pdf(job.company, word), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="completion-{job.number}.pdf"'
    response["X-Content-Type-Options"] = "nosniff"
    return response


@require_safe
@signed_in
def completion_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """The PDF exactly as signed."""
    return serve(slip_for(request, pk).pdf)  # type: ignore[return-value]
