"""Which kinds of job earn: closed jobs by crew, floor and quarter; for the office."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from estimates.domain.review.charts import bars_svg
from estimates.readers.review.across import (
    JobsTogether,
    closed_reviews,
    crew_of,
    floor_of,
    grouped,
    quarter_of,
    together,
)
from jobs.access import SignedInRequest, company_of, office
from jobs.domain.checks import ZERO
from jobs.http import Context, render_page


@require_safe
@office
def reviews(request: SignedInRequest) -> HttpResponse:
    """What closed jobs earned by the day on site, by crew, floor and quarter."""
    company = company_of(request)
    rows = closed_reviews(company)
    by_quarter = sorted(grouped(rows, quarter_of), key=lambda group: group.name)
    groups = [
        _shown("By crew", "Crew", grouped(rows, crew_of), company.currency),
        _shown("By kind of floor", "Floor", grouped(rows, floor_of), company.currency),
        _shown("By quarter", "Quarter", by_quarter, company.currency),
    ]
    context = {
        "rows": rows,
        "groups": groups if rows else [],
        "all": together("All", rows),
        "currency": company.currency,
    }
    return render_page(request, "estimates/review/reviews.html", context)


def _shown(title: str, column: str, groups: list[JobsTogether], currency: str) -> Context:
    bars = [(group.name, group.a_day or ZERO) for group in groups]
    ident = column.lower()
    chart = bars_svg(bars, currency, f"Contribution a day on site, {title.lower()}", ident)
    return {"title": title, "column": column, "groups": groups, "chart": chart if bars else ""}
