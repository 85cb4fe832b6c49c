"""Unit prices that a payer agreed to, each saved in its row beside what the work costs us."""

from __future__ import annotations

from dataclasses import replace

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from estimates.access import priced_job_for
from estimates.domain.card.rows import BY_KEY, CardRow
from estimates.forms.rate_card import CardRateForm
from estimates.models import PayerPrice
from estimates.readers.payers.unit_prices import unit_prices_of
from estimates.readers.rate_card import card_of
from estimates.services.payers import unit_prices as services
from estimates.services.rate_card import rate_words
from estimates.views.rate_card import lines_of
from jobs.access import SignedInRequest, office, writable_client_for
from jobs.clock import today_of
from jobs.domain.numerals import whole_number
from jobs.forms.base import sent
from jobs.http import go_to, render_page, wants_part
from jobs.models import Client
from jobs.views.edit_page import edits


@require_safe
@office
def payer_prices(request: SignedInRequest, pk: int) -> HttpResponse:
    """What a store or a builder pays by the unit: a row a thing, beside what one of it costs us."""
    payer = writable_client_for(request, pk)
    company, today = payer.company, today_of(payer.company)
    card = card_of(company, today, prices=unit_prices_of(payer))
    lines = lines_of(card, company, today, payer=payer)
    context = {
        "payer": payer,
        "lines": lines,
        "short": sum(line.line.is_short for line in lines),
    }
    return render_page(request, "estimates/payers/unit_prices.html", context)


@edits
@office
def payer_price(request: SignedInRequest, pk: int, code: str) -> HttpResponse:
    """One row of a payer's unit prices: saved or dropped, and every price that it had."""
    payer = writable_client_for(request, pk)
    row = BY_KEY.get((code, request.GET.get("item", "")))
    if row is None:
        raise Http404("No row of unit prices has this name.")
    today = today_of(payer.company)
    counts = services.standing_price(payer, row, today)
    if request.POST.get("do") == "drop" and counts is not None:
        services.drop_unit_price(price=counts, row=row, user=request.user)
        messages.success(request, f"The unit price of {row.label} is dropped.")
        return go_to(request, _back(request, payer, row))
    form = CardRateForm(row, counts, today, sent(request))
    if request.method == "POST" and form.is_valid():
        saved = form.carry_out(
            lambda: services.save_unit_price(
                payer=payer,
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
            return _saved(request, payer, row, saved)
    return _row_page(request, payer, row, form)


def _saved(
    request: SignedInRequest, payer: Client, row: CardRow, saved: PayerPrice
) -> HttpResponse:
    """Answer with the row as it stands now, or lead back to where it was typed."""
    if not wants_part(request):
        messages.success(request, f"{row.label}: {rate_words(saved)}.")
        return go_to(request, _back(request, payer, row))
    form = CardRateForm(row, None, today_of(payer.company))
    return _row_page(request, payer, row, form, saved)


def _row_page(
    request: SignedInRequest,
    payer: Client,
    row: CardRow,
    form: CardRateForm,
    saved: PayerPrice | None = None,
) -> HttpResponse:
    company, today = payer.company, today_of(payer.company)
    history = list(unit_prices_of(payer, row))
    card = card_of(company, today, (row,), history)
    (shown,) = lines_of(card, company, today, request.GET.get("job", ""), payer)
    if saved is None:
        shown = replace(shown, form=form)
    context = {
        "shown": shown,
        "payer": payer,
        "today": today,
        "saved": saved and rate_words(saved),
        "saved_from": saved and saved.effective_from,
        "history": [(price, rate_words(price)) for price in history],
        "back": _back(request, payer, row),
        "back_words": "Back to the job" if "job" in request.GET else "Back to the unit prices",
    }
    status = 422 if form.overtaken and wants_part(request) else form.status
    return render_page(request, "estimates/rate_card/row.html", context, part="row", status=status)


def _back(request: SignedInRequest, payer: Client, row: CardRow) -> str:
    """Return where a row was typed: the price of a job that lacks it, else the payer's list."""
    job = whole_number(request.GET.get("job", ""))
    if job is not None:
        return reverse("job-price", args=[priced_job_for(request, job).pk])
    return f"{reverse('payer-prices', args=[payer.pk])}#{row.code}{row.item}"
