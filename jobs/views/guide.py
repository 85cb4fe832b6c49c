"""The help page, and the table by which openings are treated."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from jobs.domain.openings.treatments import LEVEL_SOURCE, TABLE, in_words
from jobs.http import render_page


@require_safe
def help_page(request: HttpRequest) -> HttpResponse:
    """How a job goes, step by step, and what a phone needs."""
    return render_page(request, "jobs/guide/guide.html")


@require_safe
def treatments(request: HttpRequest) -> HttpResponse:
    """What is done where a floor meets an opening, row by row as the proposals go by it."""
    rows = [(*in_words(row), row.reason, row.source) for row in TABLE]
    return render_page(
        request, "jobs/guide/treatments.html", {"rows": rows, "levels": LEVEL_SOURCE}
    )
