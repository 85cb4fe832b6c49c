"""Planks that jobs left over: listed, taken for a floor, given back. No prices here."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    office,
    signed_in,
    stock_for_office,
    writable_zone_for,
)
from jobs.domain.checks import BadValueError, as_sentence
from jobs.http import go_to, render_page
from jobs.readers.floors.stock import stock_of
from jobs.services.floors import stock as services


@require_safe
@office
def stock_list(request: SignedInRequest) -> HttpResponse:
    """All planks that jobs left over, by product and lot."""
    context = {"rows": stock_of(company_of(request))}
    return render_page(request, "jobs/floors/stock.html", context)


@require_POST
@signed_in
def stock_take(request: SignedInRequest, pk: int, stock: int) -> HttpResponse:
    """Take planks of ours for a floor: it is planned with them at hand, and fewer are bought."""
    zone = writable_zone_for(request, pk)
    try:
        services.take_stock(stock=stock_for_office(request, stock), zone=zone, user=request.user)
    except BadValueError as bad:
        messages.error(request, as_sentence(bad))
    else:
        messages.success(request, "The planks are kept for this floor. Plan it again.")
    return go_to(request, "zone", zone.pk)


@require_POST
@signed_in
def stock_give_back(request: SignedInRequest, pk: int, stock: int) -> HttpResponse:
    """Give planks back, so that any floor may have them."""
    zone = writable_zone_for(request, pk)
    row = stock_for_office(request, stock)
    if row.zone_id == zone.pk:
        services.give_back_stock(stock=row, user=request.user)
        messages.success(request, "The planks are free again. Plan the floor again.")
    return go_to(request, "zone", zone.pk)
