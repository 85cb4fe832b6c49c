"""The plan request of a floor as its rows stand now, and what changed since a plan."""

from __future__ import annotations

import json
from typing import Any

from jobs.domain.documents import canonical_json
from jobs.domain.lengths import mm_in
from jobs.domain.plans.stored import REQUEST
from jobs.models import FloorPlan, FloorZone, Product
from jobs.readers.floors.floors import FloorRows, floor_rows, zone_of
from jobs.readers.floors.resume import rest_of
from jobs.readers.floors.rules import rule_mm, stagger_of
from jobs.readers.stored_plan import stored_plan
from layout.values.errors import LayoutError
from layout.values.outline import Ring, Zone
from layout.values.request import read_request

EFFORT_S = 8


# What makes another floor when it changes; name, effort and seed do not.
_TELLING = {
    "unit": "units",
    "zone": "rooms",
    "product": "product",
    "rules": "rules",
    "lay": "start wall",
    "spares": "spare planks",
    "prefer": "preference",
    "laid": "what is down",
    "on_hand": "what is at hand",
}


def request_of(zone: FloorZone, rows: FloorRows | None = None) -> dict[str, Any]:
    """Return the plan request of a floor zone in its JSON form, checked.

    Where laying has begun, it is the request for what is left. ``rows``: what the floor is made
    of, where that is read already.

    Raises ZoningError or InputError where it can't be planned.
    """
    rows = rows or floor_rows([zone])[zone.pk]
    request = {
        **REQUEST.head,
        "unit": zone.job.unit,
        "name": f"Job {zone.job.number}, {zone.name}",
        "zone": _zone_to_json(zone_of(zone, rows)),
        "product": _product_to_json(zone.product, zone.job.unit),
        "rules": _rules_to_json(zone),
        "lay": _lay_to_json(zone),
        "spares": zone.spares,
        "prefer": zone.prefer,
        "effort_s": EFFORT_S,
        "seed": 0,
    }
    request = rest_of(zone, request, rows.begun)
    read_request(request)
    return request


def whats_changed(plan: FloorPlan, rows: FloorRows | None = None) -> str:
    """Return why a plan no longer fits its zone, in a sentence; empty while it fits.

    ``rows``: what the zone is made of, where that is read already.
    """
    try:
        request = request_of(plan.zone, rows)
    except LayoutError as refused:
        return f"The floor can't be planned as it stands now. {refused}"
    then, now = dict(stored_plan(plan).request_form), json.loads(canonical_json(request))
    if now.get("laid"):  # what is down holds the direction: no rule was changed by that
        then["rules"] = then["rules"] | {"direction_deg": now["rules"]["direction_deg"]}
    changed = {_TELLING[name] for name in _TELLING if then.get(name) != now.get(name)}
    return f"Changed since this plan: {', '.join(sorted(changed))}." if changed else ""


def _zone_to_json(zone: Zone) -> dict[str, Any]:
    """Return a zone in the form that `layout.outline.read_zone` reads."""
    edges = {str(i): {"kind": str(edge.kind)} for i, edge in zone.edges.items()}
    holes = [{"outline": _plain(hole.ring), "kind": str(hole.kind)} for hole in zone.holes]
    return {
        "outline": _plain(zone.outline),
        "holes": holes,
        "edges": edges,
        "no_joints": [_plain(ring) for ring in zone.no_joints],
    }


def _plain(ring: Ring) -> list[list[float]]:
    return [[round(x, 6) + 0.0, round(y, 6) + 0.0] for x, y in ring]


def _product_to_json(product: Product, unit: str) -> dict[str, Any]:
    """Return the boards of a product, one size as it stands and several as a mixed carton."""
    length = mm_in(product.length_mm, unit)
    sizes = [
        {"length": length, "width": mm_in(width, unit), "per_carton": count}
        for width, count in product.sizes
    ]
    boards: dict[str, Any] = {"boards": sizes} if len(sizes) > 1 else dict(sizes[0])
    if product.variants:
        boards["variants"] = dict(product.variants)
    if product.both_ways:
        boards["backward"] = True
    return boards | {"lock": product.lock}


def _rules_to_json(zone: FloorZone) -> dict[str, Any]:
    unit, direction = zone.job.unit, zone.direction_deg
    return {
        "expansion_gap": mm_in(rule_mm(zone, "gap_mm"), unit),
        "saw_kerf": mm_in(rule_mm(zone, "saw_kerf_mm"), unit),
        "min_end_piece": mm_in(rule_mm(zone, "min_end_mm"), unit),
        "min_joint_offset": mm_in(rule_mm(zone, "min_offset_mm"), unit),
        "min_row_width": mm_in(rule_mm(zone, "min_row_mm"), unit),
        "wall_error": mm_in(zone.wall_error_mm, unit),
        "stagger": stagger_of(zone),
        "direction_deg": "best" if direction is None else float(direction),
    }


def _lay_to_json(zone: FloorZone) -> dict[str, Any]:
    """Return the hands of laying as the core names them: sides and ends of the drawing.

    A product names them as somebody sees them who faces the next row; from the high wall that is
    the other way round. What is the core's own default is left out.
    """
    product, turned = zone.product, zone.start == "high"
    left, high = product.first_end == "left", product.tongue == "high"
    lay: dict[str, Any] = {"start": zone.start}
    if left == turned:
        lay["first_end"] = "right"
    if high == turned:
        lay["tongue"] = "low"
    if zone.control_row is not None and product.both_ways:
        lay["control_row"] = zone.control_row
    return lay
