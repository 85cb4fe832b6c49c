"""Help by pictures: a page for each step of a job's path."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from estimates.readers.guide.pictures import STEPS, pictures_of
from jobs.http import render_page


@require_safe
def help_step(request: HttpRequest, step: str) -> HttpResponse:
    """The pictures of one step, with the way to the one before and after."""
    place = STEPS.index(step)
    context = {
        "step": step,
        "number": place + 1,
        "count": len(STEPS),
        "all_steps": [(name, f"help-{name}") for name in STEPS],
        "pictures": pictures_of(step),
        "before": f"help-{STEPS[place - 1]}" if place else "",
        "before_name": STEPS[place - 1] if place else "",
        "after": f"help-{STEPS[place + 1]}" if place + 1 < len(STEPS) else "",
        "after_name": STEPS[place + 1] if place + 1 < len(STEPS) else "",
    }
    return render_page(request, "estimates/guide/step.html", context)
