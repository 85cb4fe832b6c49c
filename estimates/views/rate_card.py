"""The rate card: each rate saved in its row, beside its cost; and what makes the price of a job."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from estimates.access import priced_job_for
from estimates.domain.card.rows import BY_KEY, CardRow
from estimates.domain.card.unit_costs import UnitCost
from estimates.forms.rate_card import CardRateForm, MethodForm
from estimates.models import PricedBy, PriceItem
from estimates.readers.job_terms import job_price_row
from estimates.readers.payers.unit_prices import unit_price_payer
from estimates.readers.prices import terms_row
from estimates.readers.rate_card import (
    CardLine,
    card_of,
    method_of,
    priced_both_ways,
    rates_for,
    row_rates,
    wanted_lines,
)
from estimates.services import rate_card as services
from estimates.services.job_price import choose_method
from jobs.access import SignedInRequest, company_of, office, signed_in
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.figures import money
from jobs.domain.numerals import whole_number
from jobs.domain.scope.scope import FrozenScope
from jobs.forms.base import sent
from jobs.http import Context, go_to, render_page, wants_part
from jobs.models import Client, Company, Job
from jobs.readers.path import path_context
from jobs.services.scope import work_out
from jobs.views.edit_page import edits


@dataclass(frozen=True, kw_only=True, slots=True)
class ShownRow:
    """A row of the card as it is shown: with its form, and where the form is sent."""

    line: CardLine
    form: CardRateForm
    save_url: str
    history_url: str
    cost_words: str
    waits: bool


@require_safe
@office
def rate_card(request: SignedInRequest) -> HttpResponse:
    """What we charge by the unit: a row a thing, each beside what one of it costs us."""
    company = company_of(request)
    lines = lines_of(card_of(company, today_of(company)), company, today_of(company))
    context = {
        "lines": lines,
        "terms": terms_row(company),
        "method": PricedBy(terms_row(company).method).label,
        "short": sum(line.line.is_short for line in lines),
        "any_set": any(line.line.rates.counts for line in lines),
    }
    return render_page(request, "estimates/rate_card/rate_card.html", context)


@edits
@office
def card_rate(request: SignedInRequest, code: str) -> HttpResponse:
    """One row of the card: its rate saved or dropped, and every rate that it had."""
    row = BY_KEY.get((code, request.GET.get("item", "")))
    if row is None:
        raise Http404("No row of the rate card has this name.")
    company, today = company_of(request), today_of(company_of(request))
    counts = row_rates(company, row, today).counts
    if request.POST.get("do") == "drop" and counts is not None:
        services.drop_rate(rate=counts, row=row, user=request.user)
        messages.success(request, f"The rate of {row.label} is dropped.")
        return go_to(request, _back(request, row))
    form = CardRateForm(row, counts, today, sent(request))
    if request.method == "POST" and form.is_valid():
        saved = form.carry_out(
            lambda: services.save_rate(
                company=company,
                row=row,
                user=request.user,
                key=form.once_key,
                seen=form.cleaned_data["row"],
                expected=form.cleaned_data["version"],
                values=form.values,
                today=today,
            )
        )
        if saved is not None:
            return _rate_saved(request, row, saved)
    return _row_page(request, row, form)


def _rate_saved(request: SignedInRequest, row: CardRow, saved: PriceItem) -> HttpResponse:
    """Answer with the row as it stands now, or lead back to where it was typed."""
    if not wants_part(request):
        messages.success(request, f"{row.label}: {services.rate_words(saved)}.")
        return go_to(request, _back(request, row))
    form = CardRateForm(row, None, today_of(saved.company))
    return _row_page(request, row, form, saved=saved)


def _row_page(
    request: SignedInRequest, row: CardRow, form: CardRateForm, saved: PriceItem | None = None
) -> HttpResponse:
    company, today = company_of(request), today_of(company_of(request))
    (shown,) = lines_of(card_of(company, today, (row,)), company, today, request.GET.get("job", ""))
    if saved is None:
        shown = replace(shown, form=form)
    history = rates_for(company, row).select_related("company")
    context = {
        "shown": shown,
        "today": today,
        "saved": saved and services.rate_words(saved),
        "saved_from": saved and saved.effective_from,
        "history": [(rate, services.rate_words(rate)) for rate in history],
        "back": _back(request, row),
        "back_words": "Back to the job" if "job" in request.GET else "Back to the rate card",
    }
    status = 422 if form.overtaken and wants_part(request) else form.status
    return render_page(request, "estimates/rate_card/row.html", context, part="row", status=status)


def lines_of(
    card: Iterable[CardLine],
    company: Company,
    today: date,
    job: str = "",
    payer: Client | None = None,
) -> list[ShownRow]:
    """Return rows of the card with their forms, which lead back to a job where one is named.

    With a ``payer`` they are the rows of that payer's unit prices.
    """
    currency = company.currency
    return [
        ShownRow(
            line=line,
            form=CardRateForm(line.row, line.rates.counts, today),
            save_url=row_url(line.row, job, payer),
            history_url=row_url(line.row, payer=payer),
            cost_words=_cost_words(line.cost, currency),
            waits=line.rates.counts is not None and line.rates.counts.effective_from > today,
        )
        for line in card
    ]


def _cost_words(cost: UnitCost, currency: str) -> str:
    """Return what one unit takes, as a sentence: 0.5 h, with material. By job on top: primer."""
    words = f"{round(cost.hours, 4).normalize():f} h"
    if cost.material:
        words += f" and {money(cost.material, currency)} of material"
    if cost.scopes:
        floors = "floor" if cost.scopes == 1 else f"{cost.scopes} floors"
        words += f", as your newest {floors} took"
    if cost.beside:
        words += f". By job on top: {', '.join(cost.beside).lower()}"
    return words


def row_url(row: CardRow, job: str = "", payer: Client | None = None) -> str:
    """Return where a row is saved and its history stands: of the card, or of a payer's prices."""
    named = {"item": row.item} if row.item else {}
    named |= {"job": job} if whole_number(job) is not None else {}
    url = reverse("card-rate", args=[row.code])
    if payer is not None:
        url = reverse("payer-price", args=[payer.pk, row.code])
    return f"{url}?{urlencode(named)}" if named else url


def _back(request: SignedInRequest, row: CardRow) -> str:
    """Return where a row was typed: the page of a job that lacks its rate, else the card."""
    number = whole_number(request.GET.get("job", ""))
    if number is not None:
        job = priced_job_for(request, number)
        page = "job-price" if method_of(job) == "rates" else "price-method"
        return reverse(page, args=[job.pk])
    return f"{reverse('rate-card')}#{row.code}{row.item}"


@edits
@signed_in
def price_method(request: SignedInRequest, pk: int) -> HttpResponse:
    """Choose what makes a job's price, its cost or the rate card, with both side by side."""
    job = priced_job_for(request, pk)
    row = job_price_row(job)
    usual = terms_row(job.company).method
    form = MethodForm(sent(request), method=row.method, version=row.version, company=usual)
    if request.method == "POST" and form.is_valid():
        saved = form.carry_out(
            lambda: choose_method(
                row=row,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                method=form.method,
            )
        )
        if saved is not None:
            words = PricedBy(saved.method or usual).label
            messages.success(request, f"The job is priced by: {words}.")
            return go_to(request, "job-price", job.pk)
    context = path_context(request, job, "Price") | {"form": form, "currency": job.company.currency}
    context |= _both_ways(job) | {"payer": unit_price_payer(job)}
    return render_page(request, "estimates/rate_card/method.html", context, status=form.status)


def _both_ways(job: Job) -> Context:
    """Return both prices, or the sentence that says why there is none."""
    try:
        scope = work_out(job)
        both = priced_both_ways(job, scope, today_of(job.company))
    except BadValueError as missing:
        return {"missing": as_sentence(missing)}
    ways = [
        (PricedBy(method).label, priced, method == both.method)
        for method, priced in both.prices.items()
    ]
    return {"ways": ways, "priced": both.prices["rates"]} | rates_wanted(job, scope)


def rates_wanted(job: Job, scope: FrozenScope) -> Context:
    """Return what `_rate_checks.html` asks for: the rows in which a scope lacks a rate."""
    today = today_of(job.company)
    if unit_price_payer(job) is not None:
        return {}
    lines = wanted_lines(job, scope, today)
    return {"wanted_rates": lines_of(lines, job.company, today, str(job.pk))}


def prices_wanted(job: Job, scope: FrozenScope) -> Context:
    """Return what `_payer.html` asks for: the rows in which a scope lacks the payer's price."""
    today, payer = today_of(job.company), unit_price_payer(job)
    if payer is None:
        return {}
    lines = wanted_lines(job, scope, today, payer)
    return {"wanted_prices": lines_of(lines, job.company, today, str(job.pk), payer)}
