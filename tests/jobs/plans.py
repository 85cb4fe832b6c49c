"""Floors with real plans, planned once a run: planning takes its time."""

from __future__ import annotations

import json
from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache

from jobs.domain.documents import canonical_json
from jobs.domain.formats import Fields
from jobs.models import AlternativePlan, FloorPlan, FloorZone, Job, Product
from jobs.readers.floors.alternatives import zone_in
from jobs.readers.plan_request import request_of
from jobs.services.floors.alternatives import keep_alternative
from jobs.services.plans import JudgedPlan, keep_plan, plan_request
from jobs.services.scope import freeze_scope
from tests.builders import make_company, make_job, make_product, make_room, make_zone

_UNNAMED = {"name": "A floor"}


@lru_cache(maxsize=256)
def judged(request: str) -> JudgedPlan:
    """Return the plan of a request.

    A plan does not depend on what its floor is called: alike floors of all jobs share one.
    """
    form = json.loads(request)
    return JudgedPlan(request_form=form, plan_form=_plan_of(canonical_json(form | _UNNAMED)))


@lru_cache(maxsize=256)
def _plan_of(request: str) -> Fields:
    return plan_request(json.loads(request), stop=lambda: False).plan_form


def planned(zone: FloorZone) -> FloorPlan:
    """Return a stored plan of a zone."""
    return keep_plan(zone=zone, judged=judged(canonical_json(request_of(zone))), user=None)


def planned_alike(zone: FloorZone, *, iterations: int | None = None) -> FloorPlan:
    """Return a stored plan of a zone, one and the same for all of one size: quick to come by.

    Of a scope that is frozen from such plans nobody can tell which floor is whose. ``iterations``
    bound the planner by so many looks, whatever the clock, where a test counts what comes of it.
    """
    request = request_of(zone) | _UNNAMED
    if iterations is not None:
        request["effort_iterations"] = iterations
    return keep_plan(zone=zone, judged=judged(canonical_json(request)), user=None)


def agreed_rooms(*names: str, left: Sequence[str] = (), **of_product: object) -> Job:
    """Return a job with a small floor in each of these rooms, and its scope agreed on.

    `left` are codes of the tasks that its homeowner does.
    """
    job = make_job(make_company(), left_to_homeowner=list(left))
    product = make_product(job.company, **of_product)
    for name in names:
        planned(make_zone(make_room(job, name), product))
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    return job


def planned_in(zone: FloorZone, product: Product, direction_deg: str = "0") -> AlternativePlan:
    """Return a kept plan of a zone in another product, as a comparison keeps it."""
    turn = Decimal(direction_deg)
    request = request_of(zone_in(zone, product, turn))
    return keep_alternative(
        zone=zone,
        product=product,
        direction_deg=turn,
        judged=judged(canonical_json(request)),
        user=None,
    )
