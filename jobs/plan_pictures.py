"""The drawing of a stored plan, made from its frozen documents alone."""

from __future__ import annotations

import json

from jobs.models import FloorPlan
from layout.drawing import draw_plan
from layout.plan import read_plan
from layout.request import read_request


def plan_picture(plan: FloorPlan, *, numbers: bool = True) -> str:
    """Return a stored plan as an SVG that stands alone, and beside others in one document."""
    request = read_request(json.loads(plan.request.text))
    told = read_plan(json.loads(plan.document.text))
    return draw_plan(request, told, title=plan.zone.name, ident=f"floor-{plan.pk}", numbers=numbers)
