"""Prices and price terms of the company."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from estimates.forms.prices import PriceForm, TermsForm
from estimates.models import PriceItem
from estimates.readers.prices import terms_row
from estimates.services import quotes
from jobs.access import SignedInRequest, company_of, office, owner
from jobs.clock import today_of
from jobs.forms.base import sent
from jobs.http import render_page
from jobs.views.edit_page import edit_page, edits, initial_of, picked


@require_safe
@office
def price_list(request: SignedInRequest) -> HttpResponse:
    """Every price in force, and what will be in force later."""
    company = company_of(request)
    today = today_of(company)
    rows = list(PriceItem.objects.filter(company=company))
    newest: dict[tuple[str, str], PriceItem] = {}
    for row in rows:
        if row.effective_from <= today:
            newest.setdefault((row.code, row.item), row)
    later = [row for row in rows if row.effective_from > today]
    context = {"prices": list(newest.values()), "later": later, "terms": terms_row(company)}
    return render_page(request, "estimates/prices/prices.html", context)


@edits
@office
def price_set(request: SignedInRequest) -> HttpResponse:
    """Set what something costs from a day on; old prices stay for old estimates."""
    preset = {name: request.GET[name] for name in ("code", "item") if name in request.GET}
    initial = {"effective_from": today_of(company_of(request)).isoformat(), **preset}
    form = PriceForm(sent(request), initial=initial)
    back = request.GET.get("job", "")
    to = reverse("job-price", args=[int(back)]) if back.isdigit() else reverse("price-list")
    return edit_page(
        request,
        form=form,
        write=lambda: quotes.set_price(
            company=company_of(request), user=request.user, key=form.once_key, values=form.values
        ),
        done="The price is set.",
        to=lambda _: to,
        context={"title": "Set a price", "button": "Set the price", "back": "price-list"},
    )


@edits
@owner
def price_terms(request: SignedInRequest) -> HttpResponse:
    """How cost becomes price, and what is printed on every quote."""
    row = terms_row(company_of(request))
    initial = initial_of(row, quotes.TERMS_FIELDS)
    form = TermsForm(sent(request), initial=initial, version=row.version)
    return edit_page(
        request,
        form=form,
        write=lambda: quotes.change_terms(
            terms=row,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, quotes.TERMS_FIELDS),
        ),
        done="The price terms are changed. They count from the next estimate on.",
        to=lambda _: reverse("price-list"),
        context={"title": "Price terms", "button": "Save the terms", "back": "price-list"},
    )
