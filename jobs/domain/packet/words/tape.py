"""How large a floor is, as the crew tapes it: across its rows and along them. Pure."""

from __future__ import annotations

from shapely.geometry import LineString, Polygon

from layout.cutsheet.stick import FromStart
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.tape import across
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import INCH


def size_words(request: PlanRequest, plan: Plan) -> str:
    """Return the size of a floor: across the rows, along the first of them, and at its longest."""
    unit, near = plan.unit, LENGTH_TOLERANCE[plan.unit]
    ring = to_frame(request.zone.outline, plan.direction_deg)
    xs = [x for x, _ in ring]
    longest = max(xs) - min(xs)
    start = FromStart(request, plan)
    inside = start.zero + (1.0 if start.low else -1.0) * INCH[unit]
    level = LineString([(min(xs) - 1, inside), (max(xs) + 1, inside)])
    along = level.intersection(Polygon(ring)).length
    words = f"{bare_words(across(request, plan), unit)} across the rows"
    words += f", {bare_words(along, unit)} along row 1"
    if longest - along > near:
        words += f", {bare_words(longest, unit)} where it is longest"
    return f"Floor {words}."
