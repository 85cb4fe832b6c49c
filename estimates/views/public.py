"""The homeowner's pages: one quote, opened by its link. No sign-in, nothing else to be seen."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from estimates.access import quote_by_link
from estimates.domain.quotes.content import IssuedQuote, QuoteChoice
from estimates.forms.answers import ChooseAndAcceptForm
from estimates.models import Acceptance, Quote
from estimates.readers.quote import stored_quote
from estimates.readers.quote_page import quote_page
from estimates.services import quotes
from jobs.clock import local_to, today_of
from jobs.forms.base import sent
from jobs.http import render_page
from jobs.services.files import serve
from jobs.views.edit_page import edits


@never_cache
@edits
def quote_public(request: HttpRequest, token: str) -> HttpResponse:
    """The quote as issued, and the form to accept it."""
    row = quote_by_link(request, token)
    with local_to(row.job.company):
        return _page(request, row, token)


def _page(request: HttpRequest, row: Quote, token: str) -> HttpResponse:
    issued = stored_quote(row)
    form = ChooseAndAcceptForm(sent(request), choices=issued.choices)
    if request.method == "POST" and form.is_valid():
        accepted = form.carry_out(
            lambda: quotes.accept_quote(
                quote=row,
                name=form.cleaned_data["name"],
                today=today_of(row.job.company),
                by_link=True,
                choice=form.cleaned_data["choice"] if issued.has_choices else "",
            )
        )
        if accepted is not None:
            return redirect("quote-public", token=token)
    acceptance: Acceptance | None = getattr(row, "acceptance", None)
    state = _state(row, today_of(row.job.company), acceptance)
    context = {
        "quote": issued,
        "page": quote_page(issued, row.job.company),
        "company_name": issued.letterhead.name,
        "state": state,
        "answers": state == "open",
        "acceptance": acceptance,
        "chosen": _chosen(issued, acceptance),
        "form": form,
        "pdf_url": reverse("quote-public-file", args=[token]),
    }
    response = render_page(request, "estimates/public/quote.html", context, status=form.status)
    response["X-Robots-Tag"] = "noindex"
    return response


def _state(row: Quote, today: date, acceptance: Acceptance | None) -> str:
    """Return in a word why a quote can't be accepted any more, "open" where it can."""
    newest = row.job.quotes.filter(withdrawn_at__isnull=True).first()
    ends = (
        (acceptance is not None, "accepted"),
        (row.withdrawn_at is not None, "withdrawn"),
        (newest is not None and newest.pk != row.pk, "superseded"),
        (today > row.valid_until, "expired"),
    )
    return next((word for holds, word in ends if holds), "open")


def _chosen(issued: IssuedQuote, acceptance: Acceptance | None) -> QuoteChoice | None:
    """Return what was accepted among several, None where there was nothing to choose."""
    if acceptance is None or not issued.has_choices:
        return None
    return next((way for way in issued.choices if way.key == acceptance.choice), None)


@never_cache
@require_safe
def quote_public_file(request: HttpRequest, token: str) -> HttpResponse:
    """The PDF exactly as issued."""
    return serve(quote_by_link(request, token).pdf)  # type: ignore[return-value]
