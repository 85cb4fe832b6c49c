"""The homeowner's days: opened by the link of an accepted quote. No sign-in, no price, no trade."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from estimates.access import quote_by_link
from estimates.readers.at_home.page import day_span, home_page
from estimates.readers.sending.states import state_of
from estimates.readers.setup.sales import letterhead_of
from estimates.views.sending.by_link import no_days
from estimates.views.sending.closed import opened_by_link
from jobs.clock import local_to
from jobs.http import render_page

CLOSED = ("withdrawn", "superseded", "declined", "expired")
"""States in which a quote has no days of its own any more."""


@never_cache
@opened_by_link
@require_safe
def quote_public_home(request: HttpRequest, token: str) -> HttpResponse:
    """When the crew comes, what it does, which rooms and nights are missed, what is cleared."""
    quote = quote_by_link(request, token)
    if state_of(quote) in CLOSED or quote.withdrawn_at is not None:
        message = f"Quote {quote.pk} has no days."
        raise Http404(message)
    company = quote.job.company
    with local_to(company):
        page = home_page(quote)
        if page is None:
            return no_days(request, quote, token)
        context = {
            "page": page,
            "span": day_span(page.days),
            "quote": quote,
            "token": token,
            "company_name": company.name,
            "letterhead": letterhead_of(company),
        }
        response = render_page(request, "estimates/public/days.html", context)
    response["X-Robots-Tag"] = "noindex"
    return response
