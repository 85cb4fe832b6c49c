"""What a homeowner's page sends by itself, and the days as a file: opened by the link alone."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from estimates.access import is_one_of_us, quote_by_link, quote_link
from estimates.models import Quote
from estimates.readers.sending.days import days_of
from estimates.readers.setup.sales import letterhead_of
from estimates.services.sending import answers
from estimates.views.sending.closed import opened_by_link
from jobs.calendar import crew_calendar
from jobs.http import render_page


@never_cache
@require_POST
def quote_public_seen(request: HttpRequest, token: str) -> HttpResponse:
    """Note that the page stayed in somebody's sight for some seconds."""
    link = quote_link(request, token)
    if not is_one_of_us(request, link.quote):
        answers.note_seen(link=link)
    return HttpResponse(status=204)


@never_cache
@opened_by_link
@require_safe
def quote_public_days(request: HttpRequest, token: str) -> HttpResponse:
    """The planned days as a calendar file (RFC 5545), or a page that says that none is planned."""
    quote = quote_by_link(request, token)
    days = days_of(quote)
    if not days:
        return no_days(request, quote, token)
    name = f"Your floor, {quote.job.company.name}"
    response = HttpResponse(
        crew_calendar(name=name, days=days), content_type="text/calendar; charset=utf-8"
    )
    response["Content-Disposition"] = 'attachment; filename="your-floor.ics"'
    return response


def no_days(request: HttpRequest, quote: Quote, token: str) -> HttpResponse:
    """Return the page that says that no day is planned yet; there is no empty file."""
    company = quote.job.company
    context = {
        "token": token,
        "company_name": company.name,
        "letterhead": letterhead_of(company),
        "accepted": getattr(quote, "acceptance", None) is not None,
    }
    response = render_page(request, "estimates/sending/no_days.html", context)
    response["X-Robots-Tag"] = "noindex"
    return response
