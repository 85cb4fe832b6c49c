"""The allowances of a job: what it has, what the visit offers, one of one's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.views.decorators.http import require_POST, require_safe

from estimates.access import allowance_for, priced_job_for
from estimates.domain.money import cents
from estimates.domain.priced_lines import allowance_line
from estimates.domain.terms.allowances import FREE, unit_price
from estimates.forms.allowances import (
    AllowanceForm,
    CapFields,
    OfferForm,
    allowance_form,
    new_allowance_form,
)
from estimates.models import JobAllowance
from estimates.readers.allowances import AllowanceOffer, offers_of
from estimates.readers.job_terms import allowance_in
from estimates.readers.prices import book_and_terms
from estimates.services import allowances as services
from jobs.access import SignedInRequest, signed_in
from jobs.clock import today_of
from jobs.domain.checks import ZERO
from jobs.http import go_to, render_page
from jobs.models import Job
from jobs.models.base import Values
from jobs.readers.path import path_context


@dataclass(frozen=True, kw_only=True, slots=True)
class AllowanceRow:
    """An allowance on the page: its form, what it comes to, what is different today."""

    row: JobAllowance
    form: AllowanceForm
    now: AllowanceOffer | None

    @property
    def at_most(self) -> Decimal:
        """What all its units come to, in cents as the price has them."""
        return cents(self.row.units * self.row.unit_price)

    @property
    def other_cost(self) -> bool:
        """Whether one costs something else by today's prices and rates."""
        now = self.now
        return now is not None and not now.cost.lacking and now.cost.total != self.row.unit_cost

    @property
    def above(self) -> bool:
        """Whether the cap is above what was measured, or nothing asks for it any more."""
        if self.row.kind == FREE:
            return False
        measured = self.now.units if self.now else ZERO
        return measured is not None and self.row.units > measured

    @property
    def other_evidence(self) -> str:
        """What the measurements say today, where that is not what the allowance kept."""
        now = self.now
        return now.evidence if now is not None and now.evidence != self.row.evidence else ""


@require_safe
@signed_in
def job_allowances(request: SignedInRequest, pk: int) -> HttpResponse:
    """What nobody can count yet on a job, sold by the unit with a cap."""
    return _page(request, priced_job_for(request, pk), {}, 200)


@require_POST
@signed_in
def allowance_offer(request: SignedInRequest, pk: int, kind: str) -> HttpResponse:
    """Take up an offer: its cap and price as typed, its cost by today's prices."""
    job = priced_job_for(request, pk)
    offer = offers_of(job, today_of(job.company)).of(kind)
    if offer is None:
        message = f"Job {job.number} is offered no allowance {kind}."
        raise Http404(message)
    form = OfferForm(offer, request.POST)
    if form.is_valid():
        added = form.carry_out(
            lambda: services.add_allowance(
                job=job,
                user=request.user,
                key=form.once_key,
                values=_offer_values(offer, form),
                kind=kind,
            )
        )
        if added is not None:
            return _saved(request, job, f"{added}: the allowance is added.")
    return _page(request, job, {kind: form}, form.status)


@require_POST
@signed_in
def allowance_add(request: SignedInRequest, pk: int) -> HttpResponse:
    """Add an allowance of one's own."""
    job = priced_job_for(request, pk)
    form = new_allowance_form(request.POST)
    if form.is_valid():
        added = form.carry_out(
            lambda: services.add_allowance(
                job=job, user=request.user, key=form.once_key, values=_typed_values(job, form)
            )
        )
        if added is not None:
            return _saved(request, job, f"{added}: the allowance is added.")
    return _page(request, job, {"new": form}, form.status)


@require_POST
@signed_in
def allowance(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change an allowance, or take it off the price."""
    row = allowance_for(request, pk)
    if request.POST.get("do") == "remove":
        services.remove_allowance(allowance=row, user=request.user)
        return _saved(request, row.job, f"{row}: the allowance is taken off.")
    form = allowance_form(row, request.POST)
    if form.is_valid():
        saved = form.carry_out(
            lambda: services.change_allowance(
                allowance=row,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                values=_typed_values(row.job, form),
            )
        )
        if saved is not None:
            return _saved(request, row.job, f"{saved}: the allowance is saved.")
    return _page(request, row.job, {form.prefix or "": form}, form.status)


def _offer_values(offer: AllowanceOffer, form: OfferForm) -> Values:
    """Return an offer as a row keeps it; without a typed price it is the offer's."""
    typed = form.cleaned_data
    price = typed["unit_price"]
    return {
        "label": offer.label,
        "unit": offer.unit,
        "units": typed["cap"],
        "unit_cost": offer.cost.total,
        "unit_price": offer.price if price is None else price,
        "evidence": typed["evidence"],
        "taxable": offer.cost.taxable,
    }


def _typed_values(job: Job, form: CapFields) -> Values:
    """Return an allowance as typed; without a price it is sold at the margin."""
    values = {name: form.cleaned_data.get(name) for name in services.ALLOWANCE_FIELDS}
    values["units"] = form.cleaned_data["cap"]
    if values["unit_price"] is None:
        _, terms = book_and_terms(job, today_of(job.company))
        values["unit_price"] = unit_price(form.cleaned_data["unit_cost"], terms)
    return values


def _saved(request: SignedInRequest, job: Job, word: str) -> HttpResponse:
    messages.success(request, word)
    return go_to(request, "job-allowances", job.pk)


def _page(
    request: SignedInRequest, job: Job, sent_forms: Mapping[str, CapFields], status: int
) -> HttpResponse:
    """Return the page with the forms that were sent, all others as they stand."""
    offers = offers_of(job, today_of(job.company))
    rows = [_row(row, offers.of(row.kind), sent_forms) for row in job.allowances.all()]
    taken = {row.row.kind for row in rows}
    context = path_context(request, job, "Price") | {
        "rows": rows,
        "allowance_lines": [
            allowance_line(allowance_in(line.row, place)) for place, line in enumerate(rows, 1)
        ],
        "total": sum((row.at_most for row in rows), ZERO),
        "offers": [
            sent_forms.get(offer.kind) or OfferForm(offer)
            for offer in offers.offers
            if offer.kind not in taken or offer.kind in sent_forms
        ],
        "notes": offers.notes,
        "new": sent_forms.get("new") or new_allowance_form(),
        "currency": job.company.currency,
    }
    return render_page(request, "estimates/allowances/allowances.html", context, status=status)


def _row(
    row: JobAllowance, now: AllowanceOffer | None, sent_forms: Mapping[str, CapFields]
) -> AllowanceRow:
    form = allowance_form(row)
    refused = sent_forms.get(form.prefix or "")
    return AllowanceRow(
        row=row, form=refused if isinstance(refused, AllowanceForm) else form, now=now
    )
