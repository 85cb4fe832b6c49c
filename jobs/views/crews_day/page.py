"""Today, as a crew has it on the phone: its landing page. No prices, no scope, no other crew."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, days_for, signed_in
from jobs.clock import today_of
from jobs.http import render_page
from jobs.readers.crews_day.day import crews_day


@require_safe
@signed_in
def today_page(request: SignedInRequest) -> HttpResponse:
    """The days of one's own crews today; where there is none, the next one, its date first."""
    today = today_of(company_of(request))
    ahead = days_for(request).filter(crew__members=request.user, date__gte=today)
    ahead = ahead.select_related("job__client", "job__site", "job__company").order_by("date", "pk")
    days = list(ahead.filter(date=today)) or list(ahead[:1])
    context = {"today": today, "days": [crews_day(day, today) for day in days]}
    return render_page(request, "jobs/days/today.html", context)
