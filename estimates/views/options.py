"""The options of a job, for the office."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from estimates.access import priced_job_for
from estimates.readers.options import options_of
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.http import render_page
from jobs.readers.path import path_context


@require_safe
@signed_in
def job_options(request: SignedInRequest, pk: int) -> HttpResponse:
    """The same floor with other materials, or with work left to the client."""
    job = priced_job_for(request, pk)
    context = path_context(request, job, "Price") | {"currency": job.company.currency}
    try:
        context["options"] = options_of(job, today_of(job.company))
    except BadValueError as missing:
        context["missing"] = as_sentence(missing)
    return render_page(request, "estimates/options/options.html", context)
