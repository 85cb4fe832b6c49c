"""The drawing of a stored plan, made from its frozen documents alone."""

from __future__ import annotations

import json

from jobs.models import FloorPlan


def plan_picture(plan: FloorPlan) -> str:
    """Return a stored plan as an SVG that stands alone."""
    from layout.drawing import draw_plan

    from layout.plan import read_plan
    from layout.request import read_request

    request = read_request(json.loads(plan.request.text))
    return draw_plan(request, read_plan(json.loads(plan.document.text)))
