"""The price page of a job: today's price, what the job has of its own, and the estimate."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from estimates.access import price_line_for, priced_job_for
from estimates.forms.job_price import adjust_form, job_tax_form, line_form, new_line_form
from estimates.forms.price_needs import need_forms
from estimates.forms.quotes import IssueForm
from estimates.readers.job_terms import job_price_row, job_tax_row
from estimates.readers.price_needs import needs_of_job
from estimates.services import job_price as services
from estimates.services.quotes import make_estimate, price_now
from estimates.views.price_needs import needs_context
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.forms.base import OnceForm, VersionedForm, sent
from jobs.http import Context, go_to, render_page
from jobs.models import Job
from jobs.models.base import Values
from jobs.readers.path import path_context
from jobs.services.scope import changes_since_agreed
from jobs.views.edit_page import edits, picked

Written = TypeVar("Written")


@edits
@signed_in
def job_price(request: SignedInRequest, pk: int) -> HttpResponse:
    """What the job costs and what it is sold for today; keep it as an estimate."""
    job = priced_job_for(request, pk)
    form = IssueForm(sent(request))
    if request.method == "POST" and form.is_valid():
        made = form.carry_out(
            lambda: make_estimate(
                job=job, user=request.user, key=form.once_key, today=today_of(job.company)
            )
        )
        if made is not None:
            messages.success(request, f"Estimate {made.number} is made.")
            return go_to(request, "estimate", made.pk)
    return _page(request, job, {"form": form}, form.status)


@require_POST
@signed_in
def price_adjust(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take a job's discount, rounding and labor only."""
    job = priced_job_for(request, pk)
    row = job_price_row(job)
    form = adjust_form(row, request.POST)
    saved = _written(
        form,
        lambda: services.adjust_price(
            row=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, services.DISCOUNT_FIELDS),
            today=today_of(job.company),
        ),
    )
    if saved is not None:
        return _saved(request, job, "Discount and rounding are saved.", "adjust")
    return _page(request, job, {"adjust": form, "open": "adjust"}, form.status)


@require_POST
@signed_in
def price_tax(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take a job's sales tax."""
    job = priced_job_for(request, pk)
    row = job_tax_row(job)
    form = job_tax_form(row, request.POST)
    saved = _written(
        form,
        lambda: services.set_job_tax(
            row=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, services.TAX_FIELDS),
        ),
    )
    if saved is not None:
        return _saved(request, job, "Sales tax is saved.", "tax")
    return _page(request, job, {"tax": form, "open": "tax"}, form.status)


@require_POST
@signed_in
def price_line_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Add a line to a job's price."""
    job = priced_job_for(request, pk)
    form = new_line_form(request.POST)
    saved = _written(
        form,
        lambda: services.add_line(
            job=job, user=request.user, key=form.once_key, values=_line_values(form)
        ),
    )
    if saved is not None:
        return _saved(request, job, f"{saved} is added.", "lines")
    return _page(request, job, {"new_line": form, "open": "lines"}, form.status)


@require_POST
@signed_in
def price_line(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a line of a job's price, or take it off."""
    line = price_line_for(request, pk)
    if request.POST.get("do") == "remove":
        services.remove_line(line=line, user=request.user)
        return _saved(request, line.job, f"{line} is taken off the price.", "lines")
    form = line_form(line, request.POST)
    saved = _written(
        form,
        lambda: services.change_line(
            line=line,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=_line_values(form),
        ),
    )
    if saved is not None:
        return _saved(request, line.job, f"{saved} is saved.", "lines")
    return _page(request, line.job, {"line": form, "open": "lines"}, form.status)


def _written(form: OnceForm, write: Callable[[], Written]) -> Written | None:
    """Return what a valid form has written, None where it is refused or overtaken."""
    return form.carry_out(write) if form.is_valid() else None


def _line_values(form: OnceForm) -> Values:
    return {name: form.cleaned_data[name] for name in services.LINE_FIELDS}


def _saved(request: SignedInRequest, job: Job, word: str, part: str) -> HttpResponse:
    messages.success(request, word)
    return go_to(request, f"{reverse('job-price', args=[job.pk])}#{part}")


def _page(
    request: SignedInRequest, job: Job, sent_forms: Mapping[str, object], status: int
) -> HttpResponse:
    """Return the price page with the forms that were sent, all others as they stand."""
    refused = sent_forms.get("line")
    lines = [(row, line_form(row)) for row in job.price_lines.all()]
    if isinstance(refused, VersionedForm):
        lines = [(row, refused if form.prefix == refused.prefix else form) for row, form in lines]  # type: ignore[misc]
    forms: Context = {
        "form": IssueForm(),
        "adjust": adjust_form(job_price_row(job)),
        "tax": job_tax_form(job_tax_row(job)),
        "new_line": new_line_form(),
    }
    context = path_context(request, job, "Price") | _priced_today(job) | forms | dict(sent_forms)
    context |= {"lines": lines, "scope_changed": bool(changes_since_agreed(job))}
    return render_page(request, "estimates/quotes/price.html", context, status=status)


def _priced_today(job: Job) -> dict[str, object]:
    """Return today's price, or the sentence that says why there is none."""
    estimates: dict[str, object] = {
        "estimates": job.estimates.all(),
        "currency": job.company.currency,
    }
    try:
        scope, priced = price_now(job, today_of(job.company))
    except BadValueError as missing:
        return estimates | {"missing": as_sentence(missing)}
    needs = need_forms(needs_of_job(job, scope, today_of(job.company)))
    listed = {need.needed.code for need in needs}
    return {
        **estimates,
        **needs_context(needs),
        "priced": priced,
        "job_pk": job.pk,
        "unlisted": [fault for fault in priced.faults if fault.code not in {*listed, "discount"}],
        "beyond": [fault for fault in priced.faults if fault.code == "discount"],
    }
