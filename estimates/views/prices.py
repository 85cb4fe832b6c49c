"""The price book of the company: one table, saved by row, and the price terms."""

from __future__ import annotations

from collections.abc import Iterable

from django.http import HttpResponse, QueryDict
from django.urls import reverse
from django.views.decorators.http import require_safe

from estimates.access import price_for
from estimates.domain.book.groups import GROUPS
from estimates.domain.book.needs import PRICE_GOOD_DAYS, is_stale
from estimates.domain.setup.wages import wage_sentences
from estimates.forms.price_needs import need_forms
from estimates.forms.prices import PriceForm, PriceRowForm, TermsForm, initial_row
from estimates.models import PriceItem
from estimates.readers.price_needs import needs_of_book
from estimates.readers.price_rows import (
    history_of,
    in_book_order,
    later_than,
    matching,
    materials_of,
    price_in,
    price_words,
    row_that_counts,
    rows_that_count,
)
from estimates.readers.prices import terms_row
from estimates.services import prices, quotes
from estimates.views.price_import import export_parts
from estimates.views.price_needs import needs_context
from jobs.access import SignedInRequest, company_of, office, owner
from jobs.clock import today_of
from jobs.domain.numerals import whole_number
from jobs.forms.base import sent
from jobs.http import Context, go_to, render_page, wants_part
from jobs.views.edit_page import edit_page, edits, initial_of, picked
from jobs.views.list_page import page_of

LIST_KEPT = ("q", "group", "page")


@require_safe
@office
def price_list(request: SignedInRequest) -> HttpResponse:
    """What everything costs us: a row a thing, each saved where it stands."""
    company, today = company_of(request), today_of(company_of(request))
    words, group = request.GET.get("q", "")[:80], request.GET.get("group", "")
    rows = in_book_order(matching(rows_that_count(company, today), words, group))
    page = page_of(request, rows.select_related("company"))
    needs, count = needs_of_book(company, today)
    context = {
        "lines": lines_of(request, page.object_list),
        "page_obj": page,
        "words": words,
        "group": group,
        "groups": list(GROUPS),
        "terms": terms_row(company),
        "parts": range(1, export_parts(materials_of(company).count()) + 1),
        **needs_context(need_forms(needs), count),
    }
    return render_page(request, "estimates/prices/prices.html", context)


@edits
@office
def price_row(request: SignedInRequest, pk: int) -> HttpResponse:
    """One thing of the price book: its price saved, and every price that it had."""
    row, today = price_for(request, pk), today_of(company_of(request))
    counts = row_that_counts(row, today)
    form = PriceRowForm(counts, sent(request), prefix=f"p{pk}", initial=initial_row(counts, today))
    if request.method == "POST" and form.is_valid():
        seen = history_of(row).filter(pk=form.cleaned_data["row"]).first()
        saved = form.carry_out(
            lambda: prices.save_row(
                row=seen or row,
                user=request.user,
                key=form.once_key,
                expected=form.cleaned_data["version"],
                values=form.values,
                today=today,
            )
        )
        if saved is not None:
            return _row_saved(request, saved)
    context = _line(request, counts, form, None) | {
        "history": [
            (price, price_words(price)) for price in history_of(row).select_related("company")
        ],
        "today": today,
    }
    # A row that is put back into the list is refused as any form is; see base.html.
    status = 422 if form.overtaken and wants_part(request) else form.status
    return render_page(request, "estimates/prices/row.html", context, part="row", status=status)


def _row_saved(request: SignedInRequest, saved: PriceItem) -> HttpResponse:
    """Answer with the row as it stands now, or lead back to it in the list."""
    today = today_of(saved.company)
    if not wants_part(request):
        return go_to(request, f"{reverse('price-list')}?{_list_query(request)}#price-{saved.pk}")
    counts = row_that_counts(saved, today)
    (line,) = lines_of(request, [counts])
    context = line | {"saved": price_words(saved), "saved_from": saved.effective_from}
    return render_page(request, "estimates/prices/row.html", context, part="row")


def lines_of(request: SignedInRequest, rows: Iterable[PriceItem]) -> list[Context]:
    """Return what each row of the table shows: the price, its form, and the one that comes next."""
    listed, today = list(rows), today_of(company_of(request))
    later = later_than(listed, today)
    lines = []
    for row in listed:
        form = PriceRowForm(row, prefix=f"p{row.pk}", initial=initial_row(row, today))
        lines.append(_line(request, row, form, later.get((row.code, row.item))))
    return lines


def _line(
    request: SignedInRequest, row: PriceItem, form: PriceRowForm, later: PriceItem | None
) -> Context:
    today, price = today_of(row.company), price_in(row)
    other = price.by_measure if price.per == "pack" else price.by_pack
    return {
        "row": row,
        "form": form,
        "form_id": f"{form.prefix}-form",
        "pk": (form.prefix or "")[1:],
        "price": price,
        "other": other,
        "other_word": price.measure if price.per == "pack" else price.pack,
        "later": later,
        "later_words": price_words(later) if later else "",
        "stale": is_stale(row.last_seen or row.effective_from, today),
        "good_days": PRICE_GOOD_DAYS,
        "waits": row.effective_from > today,
        "list_query": _list_query(request),
    }


def _list_query(request: SignedInRequest) -> str:
    """Return what of the address says which part of the list somebody looks at."""
    query = QueryDict(mutable=True)
    query.update({name: request.GET[name] for name in LIST_KEPT if name in request.GET})
    return query.urlencode()


@edits
@office
def price_set(request: SignedInRequest) -> HttpResponse:
    """Set what something costs from a day on; old prices stay for old estimates."""
    company = company_of(request)
    preset = {name: request.GET[name] for name in ("code", "item") if name in request.GET}
    initial = {"effective_from": today_of(company).isoformat(), **preset}
    form = PriceForm(sent(request), initial=initial)
    job = whole_number(request.GET.get("job", ""))
    to = reverse("price-list") if job is None else reverse("job-price", args=[job])
    return edit_page(
        request,
        form=form,
        write=lambda: prices.set_price(
            company=company,
            user=request.user,
            key=form.once_key,
            values={**form.values, "last_seen": today_of(company)},
        ),
        done="The price is set.",
        to=lambda _: to,
        context={"back": to},
        template="estimates/prices/set.html",
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
        context={
            "title": "Price terms",
            "button": "Save the terms",
            "back": "price-list",
            "leave": "Cancel",
            "sentences": wage_sentences(row.burdened_rate, row.company.currency),
        },
    )
