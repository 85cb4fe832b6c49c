"""The only caller of the planner: rows of the database become a plan request, a plan becomes rows.

A plan is stored only in the hands of `JudgedPlan`, which can't be made of a plan with faults. What
is judged is the stored form, read back: what the database keeps is what stood the judgement.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction

from jobs.errands import ask, cancel, latest
from jobs.floor_rules import rule_mm, stagger_of
from jobs.frozen import canonical_json
from jobs.going_on import rest_of
from jobs.models import Doorway, Errand, FloorPlan, FloorZone, Product, Room, Treatment, User
from jobs.models.work import ErrandState
from jobs.openings import openings_of
from jobs.records import audit, freeze, next_number
from jobs.words import mm_in
from jobs.zoning import Passage, Place, PlacedRoom, join, opening, placed
from layout.errors import LayoutError
from layout.judge import check_plan
from layout.outline import EdgeKind, Hole, HoleKind, Ring, Zone
from layout.plan import Plan, plan_to_json, read_plan
from layout.planner import Progress, plan_floor
from layout.request import PlanRequest, read_request

KIND = "plan-floor"
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
# What stands at a side of a room (`jobs.sides.EDGE_KINDS`), as the layout core knows it.
_EDGES = {
    "wall": EdgeKind.WALL,
    "casing": EdgeKind.CASING,
    "toe kick": EdgeKind.TOE_KICK,
    "radiator": EdgeKind.RADIATOR,
    "slider": EdgeKind.SLIDER,
    "stair": EdgeKind.STAIR_NOSE,
    "cabinet": EdgeKind.CABINET,
}
_ENDS = {Treatment.STAIR_NOSE: EdgeKind.STAIR_NOSE}


class FaultyPlanError(ValueError):
    """A plan that breaks its request; the text names the first fault and how many there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedPlan:
    """A plan request and a plan in their JSON forms, the plan without a fault.

    Raises FaultyPlanError for a plan with faults, InputError for forms that can't be read.
    """

    asked: Mapping[str, Any]
    told: Mapping[str, Any]
    plan: Plan = field(init=False)

    def __post_init__(self) -> None:
        request, plan = read_request(dict(self.asked)), read_plan(dict(self.told))
        faults = check_plan(request, plan)
        if faults:
            more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
            raise FaultyPlanError(
                f"The planner made a plan that breaks the rule {faults[0].rule} at "
                f"{faults[0].where}: {faults[0].text}{more}. It was not kept; accepted: a plan "
                "without faults."
            )
        object.__setattr__(self, "plan", plan)


def zone_of(zone: FloorZone) -> Zone:
    """Return the floor zone as the layout core knows it, in the job's unit.

    Raises ZoningError where its rooms make no one floor, InputError for an impossible outline.
    """
    rooms = list(zone.rooms.select_related("job").order_by("order", "pk"))
    return join(
        [placed_room(room, place_of(room, alone=len(rooms) == 1)) for room in rooms],
        list(passages_of(rooms)),
        unit=zone.job.unit,
    )


def request_of(zone: FloorZone) -> dict[str, Any]:
    """Return the plan request of a floor zone in its JSON form, checked.

    Where laying has begun, it is the request for what is left.

    Raises ZoningError or InputError where it can't be planned.
    """
    asked = {
        "format": 1,
        "unit": zone.job.unit,
        "name": f"Job {zone.job.number}, {zone.name}",
        "zone": _zone_to_json(zone_of(zone)),
        "product": _product_to_json(zone.product, zone.job.unit),
        "rules": _rules_to_json(zone),
        "lay": _lay_to_json(zone),
        "spares": zone.spares,
        "prefer": zone.prefer,
        "effort_s": EFFORT_S,
        "seed": 0,
    }
    asked = rest_of(zone, asked)
    read_request(asked)
    return asked


def place_of(room: Room, *, alone: bool = False) -> Place:
    """Return where a room lies in its floor; a room ``alone`` in it lies as it was measured."""
    if alone:
        return Place()
    unit = room.job.unit
    return Place(
        x=mm_in(room.place_x_mm, unit),
        y=mm_in(room.place_y_mm, unit),
        turn_deg=float(room.place_turn_deg),
    )


def placed_room(room: Room, place: Place) -> PlacedRoom:
    """Return a room with outline and holes in the coordinates of its floor."""
    holes = tuple(
        Hole(ring=placed(_ring(hole["ring"]), place), kind=HoleKind(hole["kind"]))
        for hole in room.holes
    )
    edges = tuple(_EDGES[edge["kind"]] for edge in room.edges)
    ring = placed(_ring(room.outline), place)
    return PlacedRoom(name=room.name, ring=ring, holes=holes, edges=edges)


def passages_of(rooms: list[Room]) -> Iterator[Passage]:
    """Yield what the floor of these rooms covers in their openings.

    A floor carried into another of the rooms covers the opening whole. One that ends there runs to
    the middle of the wall, under the strip, or over the whole depth to a stair nose: common
    practice, no source. A floor carried to no room of these ends at the wall line.
    """
    alone = len(rooms) == 1
    together = {room.pk for room in rooms}
    for room in rooms:
        ring = placed(_ring(room.outline), place_of(room, alone=alone))
        for seen in openings_of(room):
            doorway, own = seen.doorway, seen.doorway.room_id == room.pk
            carried = doorway.treatment == Treatment.CARRY
            inside = {doorway.room_id, doorway.beyond_id} <= together
            if carried and not (inside and own):
                continue
            gap = seen.gap(room.job.unit)
            edge = opening(ring, wall=gap.wall, offset=gap.offset, width=gap.width)
            depth = _covered_depth(doorway, room.job.unit)
            yield Passage(
                room=room.name,
                ring=edge.ring(depth),
                cased=doorway.casings > 0,
                beyond=doorway.beyond.name if carried and doorway.beyond else "",
                end=_ENDS.get(Treatment(doorway.treatment), EdgeKind.TRANSITION),
            )


def ask_for_plan(*, zone: FloorZone, user: User) -> Errand:
    """Return the errand that plans the zone as it stands now; asked twice, it is one errand.

    An errand under way for an older state of the zone is cancelled. Raises what `request_of` does.
    """
    payload = {"zone": zone.pk, "request": request_of(zone)}

    def asked() -> Errand:
        company, subject = zone.job.company, subject_of(zone)
        return ask(company=company, kind=KIND, subject=subject, payload=payload, user=user)

    errand = asked()
    if errand.payload != canonical_json(payload):
        cancel(errand)
        errand = asked()
    return errand


def errand_of(zone: FloorZone) -> Errand | None:
    """Return the newest planning errand of a zone, whatever its state."""
    return latest(company=zone.job.company, kind=KIND, subject=subject_of(zone))


def subject_of(zone: FloorZone) -> str:
    """Return how errands name a zone."""
    return f"zone:{zone.pk}"


def plan_request(
    asked: Mapping[str, Any],
    *,
    stop: Callable[[], bool],
    progress: Callable[[Progress], None] | None = None,
) -> JudgedPlan:
    """Return the best plan found within the effort of the request, judged.

    Raises StoppedError, NoPlanError, NotYetError of the planner; FaultyPlanError.
    """
    request = read_request(dict(asked))
    return JudgedPlan(asked=asked, told=plan_to_json(_planned(request, stop, progress)))


def _planned(
    request: PlanRequest, stop: Callable[[], bool], progress: Callable[[Progress], None] | None
) -> Plan:
    ends = time.monotonic() + request.effort_s
    return plan_floor(request, stop=lambda: stop() or time.monotonic() >= ends, progress=progress)


@transaction.atomic
def keep_plan(*, zone: FloorZone, judged: JudgedPlan, user: User | None) -> FloorPlan:
    """Return the plan stored as the zone's newest, request and plan frozen side by side."""
    company, totals = zone.job.company, judged.plan.totals
    request = freeze(company=company, kind="request", content=dict(judged.asked), user=user)
    document = freeze(
        company=company, kind="plan", content=dict(judged.told), user=user, inputs=request.sha256
    )
    plan = FloorPlan.objects.create(
        zone=zone,
        number=next_number(zone.plans.all()),
        document=document,
        request=request,
        planks=totals.planks,
        cartons=totals.cartons,
        lower_bound=totals.lower_bound,
        proven=judged.plan.status == "proven",
    )
    audit(user=user, company=company, subject=f"job {zone.job_id}", act=f"Planned {plan}")
    return plan


def plan_zone_now(zone: FloorZone, *, user: User | None = None) -> FloorPlan:
    """Return a plan of the zone made in this process, for demo data and tests."""
    judged = plan_request(request_of(zone), stop=lambda: False)
    return keep_plan(zone=zone, judged=judged, user=user)


def whats_changed(plan: FloorPlan) -> str:
    """Return why a plan no longer fits its zone, in a sentence; empty while it fits."""
    try:
        asked = request_of(plan.zone)
    except LayoutError as refused:
        return f"The floor can't be planned as it stands now. {refused}"
    then, now = json.loads(plan.request.text), json.loads(canonical_json(asked))
    if now.get("laid"):  # what is down holds the direction: no rule was changed by that
        then["rules"]["direction_deg"] = now["rules"]["direction_deg"]
    changed = {_TELLING[name] for name in _TELLING if then.get(name) != now.get(name)}
    return f"Changed since this plan: {', '.join(sorted(changed))}." if changed else ""


def is_active(errand: Errand | None) -> bool:
    """Tell whether planning is under way."""
    return errand is not None and errand.state in (ErrandState.WAITING, ErrandState.RUNNING)


def _covered_depth(doorway: Doorway, unit: str) -> float:
    """Return how deep the floor reaches into an opening."""
    depth = mm_in(doorway.depth_mm, unit)
    whole = doorway.treatment in (Treatment.CARRY, Treatment.STAIR_NOSE)
    return depth if whole else depth / 2


def _ring(points: Any) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)


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
    told: dict[str, Any] = {"boards": sizes} if len(sizes) > 1 else dict(sizes[0])
    if product.variants:
        told["variants"] = dict(product.variants)
    if product.both_ways:
        told["backward"] = True
    return told | {"lock": product.lock}


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
