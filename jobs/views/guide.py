"""The help page."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from jobs.http import render_page


@require_safe
def help_page(request: HttpRequest) -> HttpResponse:
    """How a job goes, step by step, and what a phone needs."""
    return render_page(request, "help/index.html")
