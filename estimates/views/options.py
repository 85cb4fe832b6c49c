"""The options of a job, for the office: compared, taken, and planned in another product."""

from __future__ import annotations

from collections.abc import Mapping

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import priced_job_for
from estimates.forms.options import OptionForm, OtherProductForm
from estimates.forms.price_needs import need_forms
from estimates.readers.options.options import options_of
from estimates.readers.price_needs import needed_prices
from estimates.services.options import plan_product, take_option
from estimates.views.price_needs import OPTIONS_QUERY, needs_context
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.http import go_to, render_page
from jobs.models import Job
from jobs.readers.path import path_context
from jobs.services.floors.comparison import being_compared
from jobs.views.edit_page import refusals
from jobs.worker.errands import worker_is_running


@require_safe
@signed_in
def job_options(request: SignedInRequest, pk: int) -> HttpResponse:
    """The same floor in other ways, each held against the floor as priced."""
    return _page(request, priced_job_for(request, pk), {})


@require_POST
@signed_in
def option_take(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take an option into the facts of the job."""
    job = priced_job_for(request, pk)
    form = OptionForm(request.POST)
    if form.is_valid():
        taken = form.carry_out(
            lambda: take_option(
                job=job, user=request.user, key=form.once_key, way=form.cleaned_data["way"]
            )
        )
        if taken is not None:
            messages.success(request, "The price is made with this option now.")
            return go_to(request, "job-options", job.pk)
    for text in refusals(form):
        messages.error(request, text)
    return _page(request, job, {}, form.status)


@require_POST
@signed_in
def option_plan(request: SignedInRequest, pk: int) -> HttpResponse:
    """Have the floors of a job planned in another product."""
    job = priced_job_for(request, pk)
    form = OtherProductForm(request.POST, job=job)
    if form.is_valid():
        product = form.cleaned_data["product"]
        floors = form.carry_out(lambda: plan_product(job=job, product=product, user=request.user))
        if floors is not None:
            messages.success(request, f"{product} is being planned.")
            return go_to(request, "job-options", job.pk)
    return _page(request, job, {"other": form}, form.status)


def _page(
    request: SignedInRequest, job: Job, sent_forms: Mapping[str, object], status: int = 200
) -> HttpResponse:
    """Return the page of a job's options with the forms that were sent, the others fresh."""
    company, today = job.company, today_of(job.company)
    context = path_context(request, job, "Price") | {
        "currency": company.currency,
        "take": OptionForm(),
        "other": OtherProductForm(job=job),
        "planning": being_compared(job.zones.all()),
        "worker": worker_is_running(),
    }
    context |= sent_forms
    try:
        options = options_of(job, today)
    except BadValueError as missing:
        context["missing"] = as_sentence(missing)
    else:
        needs = need_forms(needed_prices(company, options.needs, today))
        context |= needs_context(needs) | {"options": options, "job_pk": job.pk}
        context["needs_query"] = OPTIONS_QUERY
    return render_page(request, "estimates/options/options.html", context, status=status)
