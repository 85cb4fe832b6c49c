"""The price page of a job: today's price, what the job has of its own, and the estimate."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from estimates.access import price_line_for, priced_job_for
from estimates.domain.price_groups.groups import price_table
from estimates.forms.job_price import adjust_form, job_tax_form, line_form, new_line_form
from estimates.forms.price_needs import need_forms
from estimates.forms.quotes import IssueForm
from estimates.readers.ballpark import ballpark_words
from estimates.readers.job_terms import job_price_row, job_tax_row
from estimates.readers.payers.paid_trip import trip_offer
from estimates.readers.price_groups import counted_now
from estimates.readers.price_needs import needs_of_job
from estimates.services import job_price as services
from estimates.services.prices import answer_prices
from estimates.services.quotes import make_estimate, price_now
from estimates.views.penciled.said import penciled_context
from estimates.views.price_groups import (
    HereForm,
    form_in_address,
    group_key,
    groups_context,
    here_context,
    price_form,
    rate_form,
)
from estimates.views.price_needs import needs_context
from estimates.views.rate_card import prices_wanted, rates_wanted
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.forms.base import OnceForm, VersionedForm, sent
from jobs.http import Context, go_to, render_page
from jobs.models import Job
from jobs.models.base import Values
from jobs.readers.path import path_context
from jobs.services.rates import set_rate
from jobs.services.scope import changes_since_agreed, scope_beside_agreed
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


@require_POST
@signed_in
def price_here(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take what one thing costs from today on, typed where it stands in the price."""
    job = priced_job_for(request, pk)
    form = price_form(
        job, request.POST.get("here-code", ""), request.POST.get("here-item", ""), request.POST
    )
    if form is None:
        raise Http404
    saved = _written(
        form,
        lambda: answer_prices(
            company=job.company,
            user=request.user,
            key=form.once_key,
            answers=[answer] if (answer := form.answer) else [],
            today=today_of(job.company),
        ),
    )
    if saved is not None:
        return _back_to(request, job, f"{form.title}: the price is saved.", form.needed.code)
    return _page(request, job, {"here": form}, form.status)


@require_POST
@signed_in
def rate_here(request: SignedInRequest, pk: int) -> HttpResponse:
    """Take how long a work takes from now on, typed where it stands in the price."""
    job = priced_job_for(request, pk)
    named = {name: request.POST.get(f"rate-{name}", "") for name in ("task", "driver", "item")}
    form = rate_form(job, **named, data=request.POST)
    if form is None:
        raise Http404
    saved = _written(
        form,
        lambda: set_rate(
            company=job.company,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=form.values,
        ),
    )
    if saved is not None:
        said = f"{form.stands.label}: the rate is saved, for every job from now on."
        return _back_to(request, job, said, named["task"])
    return _page(request, job, {"here": form}, form.status)


def _back_to(request: SignedInRequest, job: Job, word: str, code: str) -> HttpResponse:
    """Lead back to the group in which a material or a task stands, opened."""
    messages.success(request, word)
    key = group_key(code)
    return go_to(request, f"{reverse('job-price', args=[job.pk])}?open={key}#group-{key}")


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
    here = sent_forms.get("here")
    priced = _priced_today(request, job, here if isinstance(here, HereForm) else None)
    context = path_context(request, job, "Price") | priced | forms
    context |= {name: form for name, form in sent_forms.items() if name != "here"}
    context["lines"] = lines
    context |= penciled_context(job)
    return render_page(request, "estimates/quotes/price.html", context, status=status)


def _priced_today(request: SignedInRequest, job: Job, here: HereForm | None) -> Context:
    """Return today's price, or the sentence that says why there is none."""
    estimates: Context = {"estimates": job.estimates.all(), "currency": job.company.currency}
    today = today_of(job.company)
    try:
        scope, priced = price_now(job, today)
    except BadValueError as missing:
        changed = bool(changes_since_agreed(job))
        return estimates | {"missing": as_sentence(missing), "scope_changed": changed}
    counted = counted_now(job, scope)
    table = price_table(priced, counted)
    needs = need_forms(needs_of_job(job, scope, today))
    listed = {need.needed.code for need in needs}
    return {
        **estimates,
        "scope_changed": scope_beside_agreed(job, scope) is not None,
        **needs_context(needs),
        **groups_context(priced, counted, table),
        "open": request.GET.get("open", ""),
        **here_context(here or form_in_address(request, job), table),
        **prices_wanted(job, scope),
        **(rates_wanted(job, scope) if priced.method == "rates" else {}),
        "ballpark_words": ballpark_words(job, priced),
        "trip": trip_offer(job, today),
        "trip_form": OnceForm(),
        "job_pk": job.pk,
        "unlisted": [fault for fault in priced.faults if fault.code not in {*listed, "discount"}],
        "beyond": [fault for fault in priced.faults if fault.code == "discount"],
    }
