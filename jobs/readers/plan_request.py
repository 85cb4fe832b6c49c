"""The plan request of a floor as its rows stand now, and what changed since a plan."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.formats import Fields
from jobs.domain.lengths import mm_in
from jobs.domain.plans.refused import refusal_words
from jobs.models import FloorPlan, FloorZone, Product
from jobs.readers.floors.floors import FloorRows, floor_rows, zone_of
from jobs.readers.floors.piles import with_piles
from jobs.readers.floors.resume import rest_of
from jobs.readers.floors.rules import rule_mm, stagger_of
from jobs.readers.floors.stock import with_stock
from jobs.readers.stored_plan import stored_plan
from layout.values.errors import LayoutError
from layout.values.material import (
    Board,
    End,
    Flooring,
    Lay,
    LayingRules,
    Lock,
    Prefer,
    Side,
    Stagger,
)
from layout.values.outline import Ring, Zone
from layout.values.request import PlanRequest, request_to_json

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


def request_of(zone: FloorZone, rows: FloorRows | None = None) -> Fields:
    """Return the plan request of a floor zone in its JSON form; raises as `request_value`."""
    return request_form(request_value(zone, rows), zone)


def request_form(request: PlanRequest, zone: FloorZone) -> Fields:
    """Return a plan request in its JSON form, under the name of its floor."""
    return request_to_json(request, name=f"Job {zone.job.number}, {zone.name}")


def request_value(zone: FloorZone, rows: FloorRows | None = None) -> PlanRequest:
    """Return the plan request of a floor zone as its rows stand now.

    Where laying has begun, it is the request for what is left. ``rows``: what the floor is made
    of, where that is read already.

    Raises ZoningError or InputError where it can't be planned.
    """
    rows = rows or floor_rows([zone])[zone.pk]
    request = PlanRequest(
        unit=zone.job.unit,
        zone=_to_a_millionth(zone_of(zone, rows)),
        product=_flooring(zone.product, zone.job.unit),
        rules=_rules(zone),
        lay=_lay(zone),
        spares=zone.spares,
        prefer=Prefer(zone.prefer),
        effort_s=EFFORT_S,
    )
    return with_piles(zone, with_stock(zone, rest_of(zone, request, rows.begun)))


def whats_changed(plan: FloorPlan, rows: FloorRows | None = None) -> str:
    """Return why a plan no longer fits its zone, in a sentence; empty while it fits.

    ``rows``: what the zone is made of, where that is read already.
    """
    try:
        now = request_value(plan.zone, rows)
    except LayoutError as refused:
        why = refusal_words(refused, plan.zone.job.unit)
        return f"The floor can't be planned as it stands now. {why}"
    stored = stored_plan(plan)
    then = _as_noted(stored.request, now, plan.zone) if stored.is_older else stored.request
    changed = {_TELLING[name] for name in _TELLING if _part(then, name, now) != getattr(now, name)}
    return f"Changed since this plan: {', '.join(sorted(changed))}." if changed else ""


def whats_remeasured(plan: FloorPlan, rows: FloorRows) -> str:
    """Return what of a begun floor is no longer as its whole plan has it; empty while all is.

    What is down and what is at hand are no change of the job: they follow from the laying.
    """
    try:
        now = request_value(plan.zone, replace(rows, begun=None))
    except LayoutError as refused:
        why = refusal_words(refused, plan.zone.job.unit)
        return f"The floor can't be planned as it stands now. {why}"
    then = stored_plan(plan).request
    changed = [_TELLING[name] for name in ("zone", "product") if _differ(then, now, name)]
    return f"Changed since this plan: {', '.join(changed)}." if changed else ""


def _differ(then: PlanRequest, now: PlanRequest, name: str) -> bool:
    return bool(getattr(then, name) != getattr(now, name))


def _as_noted(then: PlanRequest, now: PlanRequest, zone: FloorZone) -> PlanRequest:
    """Return an earlier request with what is at hand now where people noted nothing else since.

    Leftovers are worked out from the pieces that are down, by older rules to other shapes: what
    people note is the number of planks, and the leftovers that are gone.
    """
    if then.on_hand is None or now.on_hand is None or now.on_hand.piles:
        return then
    labels = {offcut.id for offcut in then.on_hand.offcuts}
    if then.on_hand.planks != now.on_hand.planks or labels & set(zone.going_on.get("gone", ())):
        return then
    return replace(then, on_hand=now.on_hand)


def _part(then: PlanRequest, name: str, now: PlanRequest) -> object:
    """Return a part of an earlier request, to be held against the one of now.

    What is down holds the direction: no rule was changed by that.
    """
    if name == "rules" and now.laid:
        return replace(then.rules, direction_deg=now.rules.direction_deg)
    return getattr(then, name)


def _to_a_millionth(zone: Zone) -> Zone:
    """Return a zone with its corners to the millionth, as a request is kept."""
    return replace(
        zone,
        outline=_plain(zone.outline),
        holes=tuple(replace(hole, ring=_plain(hole.ring)) for hole in zone.holes),
        no_joints=tuple(map(_plain, zone.no_joints)),
    )


def _plain(ring: Ring) -> Ring:
    return tuple((round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in ring)


def _flooring(product: Product, unit: str) -> Flooring:
    """Return a product as the core knows it: one size, or several as a mixed carton.

    Shades of several widths stand with each board, those of one width beside it.
    """
    length, several = mm_in(product.length_mm, unit), bool(product.more_boards)
    boards = (
        Board(
            length=length,
            width=mm_in(width, unit),
            per_carton=count,
            variants=tuple(mix.items()) if several else (),
        )
        for (width, count), mix in zip(product.sizes, product.mixes, strict=True)
    )
    return Flooring(
        boards=tuple(boards),
        variants={} if several else dict(product.variants),
        shades=product.shades,
        lock=Lock(product.lock),
        backward=product.both_ways,
    )


def _rules(zone: FloorZone) -> LayingRules:
    unit, direction = zone.job.unit, zone.direction_deg
    return LayingRules(
        expansion_gap=mm_in(rule_mm(zone, "gap_mm"), unit),
        saw_kerf=mm_in(rule_mm(zone, "saw_kerf_mm"), unit),
        min_end_piece=mm_in(rule_mm(zone, "min_end_mm"), unit),
        min_joint_offset=mm_in(rule_mm(zone, "min_offset_mm"), unit),
        min_row_width=mm_in(rule_mm(zone, "min_row_mm"), unit),
        wall_error=mm_in(zone.wall_error_mm, unit),
        stagger=Stagger(stagger_of(zone)),
        direction_deg=None if direction is None else float(direction),
        rip_kerf=_rip_kerf(zone.product, unit),
    )


def _rip_kerf(product: Product, unit: str) -> float | None:
    """Return what a rip takes, None where it takes what a cut across takes.

    Not said, it leaves the request of an older product as it always was.
    """
    return None if product.rip_mm == product.saw_kerf_mm else mm_in(product.rip_mm, unit)


def _lay(zone: FloorZone) -> Lay:
    """Return the hands of laying as the core names them: sides and ends of the drawing.

    A product names them as somebody sees them who faces the next row; from the high wall that is
    the other way round.
    """
    product, turned = zone.product, zone.start == "high"
    left, high = product.first_end == "left", product.tongue == "high"
    return Lay(
        start=Side(zone.start),
        first_end=End.RIGHT if left == turned else End.LEFT,
        tongue=Side.LOW if high == turned else Side.HIGH,
        control_row=zone.control_row if product.both_ways else None,
    )
