"""The price book as a file: sent, looked at, imported by the worker, handed out."""

from __future__ import annotations

import json

from django.http import HttpResponse
from django.urls import reverse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from estimates.access import price_file_for
from estimates.domain.book.sheet import COLUMNS, MOST_FAULTS, MOST_ROWS, NEEDED, write_sheet
from estimates.forms.price_import import ImportForm, PriceFileForm
from estimates.readers.price_rows import book_row, in_book_order, materials_of, price_words
from estimates.services import price_import as services
from jobs.access import SignedInRequest, company_of, office
from jobs.clock import today_of
from jobs.domain.numerals import whole_number
from jobs.forms.base import files_sent, sent
from jobs.http import Context, go_to, render_page, wants_part
from jobs.models import Errand, StoredFile
from jobs.views.edit_page import edits
from jobs.worker.errands import worker_is_running

ROWS_SHOWN = 20


@edits
@office
def price_import(request: SignedInRequest) -> HttpResponse:
    """Send a file of prices to be looked at; nothing is imported yet."""
    form = PriceFileForm(sent(request), files_sent(request))
    if request.method == "POST" and form.is_valid():
        upload = form.cleaned_data["file"]
        stored = form.carry_out(
            lambda: services.keep_price_file(
                company=company_of(request), content=upload.read(), name=upload.name
            )
        )
        if stored is not None:
            return go_to(request, "price-preview", stored.pk)
    context = {
        "form": form,
        "columns": list(COLUMNS),
        "needed": NEEDED,
        "most": MOST_ROWS,
    }
    return render_page(request, "estimates/prices/import.html", context, status=form.status)


@edits
@office
def price_preview(request: SignedInRequest, pk: int) -> HttpResponse:
    """What a file would change, or where it can't be read; import it as a whole."""
    stored = price_file_for(request, pk)
    errand = services.errand_of(stored)
    if request.method == "POST":
        form = ImportForm(request.POST)
        if form.is_valid():
            services.ask_for_import(
                stored=stored,
                user=request.user,
                mark=form.cleaned_data["mark"],
                today=today_of(stored.company),
            )
            return go_to(request, "price-preview", pk)
        return _preview(request, stored, errand, status=form.status)
    if errand is not None and errand.is_active:
        return _progress(request, stored, errand)
    if request.GET.get("ended") and (outcome := _outcome(errand)):
        context = {"file": stored, "ended": outcome}
        return render_page(request, "estimates/prices/preview.html", context)
    return _preview(request, stored, errand)


@require_safe
@office
def price_import_progress(request: SignedInRequest, pk: int) -> HttpResponse:
    """How far the import is; once it has ended, its page."""
    stored = price_file_for(request, pk)
    errand = services.errand_of(stored)
    if errand is None or not errand.is_active or not wants_part(request):
        return go_to(request, f"{reverse('price-preview', args=[pk])}?ended=1")
    return _progress(request, stored, errand)


def _progress(request: SignedInRequest, stored: StoredFile, errand: Errand) -> HttpResponse:
    context = {"file": stored, "errand": errand, "active": True, "worker": worker_is_running()}
    return render_page(request, "estimates/prices/preview.html", context, part="progress")


def _preview(
    request: SignedInRequest, stored: StoredFile, errand: Errand | None, status: int = 200
) -> HttpResponse:
    company = stored.company
    sheet = services.sheet_in(stored, today=today_of(company))
    held = services.held_against_book(company, sheet.rows)
    context: Context = {
        "file": stored,
        "errand": errand,
        "faults": sheet.faults[:MOST_FAULTS],
        "entries": _counted(len(sheet.faults)),
        "unlisted": len(sheet.faults) > MOST_FAULTS,
        "held": held,
        "shown": [(row, price_words(row)) for row in held.rows[:ROWS_SHOWN]],
        "form": ImportForm(initial={"mark": held.mark}),
    }
    return render_page(request, "estimates/prices/preview.html", context, status=status)


def _counted(faults: int) -> str:
    return "1 entry" if faults == 1 else f"{faults:,} entries"


def _outcome(errand: Errand | None) -> dict[str, int] | None:
    """Return what the last import of the file changed; None where none ended well."""
    if errand is None or errand.state != Errand.State.DONE:
        return None
    outcome: dict[str, int] = json.loads(errand.result)
    return outcome


@require_safe
@office
def price_export(request: SignedInRequest) -> HttpResponse:
    """The price book as a file that is read back as the same book; a long one in parts."""
    company, part = company_of(request), request.GET.get("part", "")
    rows = in_book_order(materials_of(company))
    named = ""
    number = whole_number(part) or 0
    if 0 < number <= export_parts(rows.count()):
        rows = rows[(number - 1) * MOST_ROWS : number * MOST_ROWS]
        named = f"-part-{number}"
    text = write_sheet(tuple(book_row(row) for row in rows))
    # With the mark, spreadsheet programs read it as UTF-8.
    response = HttpResponse(text.encode("utf-8-sig"), content_type="text/csv; charset=utf-8")
    name = f"prices-{today_of(company).isoformat()}{named}.csv"
    response["Content-Disposition"] = content_disposition_header(True, name)
    response["X-Content-Type-Options"] = "nosniff"
    return response


def export_parts(rows: int) -> int:
    """Return in how many files so many prices are handed out, so that each can be imported."""
    return max(1, -(-rows // MOST_ROWS))
