"""The homeowner's pages: one quote, opened by its link. No sign-in, nothing else to be seen."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from estimates.access import quote_by_link
from estimates.forms.quotes import AcceptForm
from estimates.models import Quote
from estimates.readers.quote import stored_quote
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
    quote = quote_by_link(request, token)
    with local_to(quote.job.company):
        return _page(request, quote)


def _page(request: HttpRequest, quote: Quote) -> HttpResponse:
    form = AcceptForm(sent(request))
    if request.method == "POST" and form.is_valid():
        accepted = form.carry_out(
            lambda: quotes.accept_quote(
                quote=quote,
                name=form.cleaned_data["name"],
                today=today_of(quote.job.company),
                by_link=True,
            )
        )
        if accepted is not None:
            return redirect("quote-public", token=quote.token)
    context = {
        "quote": quote,
        "issued": stored_quote(quote),
        "acceptance": getattr(quote, "acceptance", None),
        "expired": today_of(quote.job.company) > quote.valid_until,
        "form": form,
        "system": quote.job.company.units,
    }
    response = render_page(request, "estimates/public/quote.html", context, status=form.status)
    response["X-Robots-Tag"] = "noindex"
    return response


@never_cache
@require_safe
def quote_public_file(request: HttpRequest, token: str) -> HttpResponse:
    """The PDF exactly as issued."""
    return serve(quote_by_link(request, token).pdf)  # type: ignore[return-value]
