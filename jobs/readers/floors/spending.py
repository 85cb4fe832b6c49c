"""Planks of the last carton that are left, by floor, once all floors of a product are planned."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from jobs.domain.formats import BrokenDocumentError
from jobs.domain.plans.spending import could_buy, planks_left
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.scope.rules import cartons_for, stair_planks
from jobs.models import FloorPlan, FloorZone, Job
from jobs.readers.openings.stairs import stair_takes
from jobs.readers.plan_request import whats_changed
from jobs.readers.plans import newest_plans
from jobs.readers.scope import product_take
from jobs.readers.stored_plan import stored_plan


@dataclass(frozen=True, slots=True, kw_only=True)
class SpendOffer:
    """A floor whose cartons leave planks that could buy something, and its plan."""

    zone: FloorZone
    plan: FloorPlan
    stored: StoredPlan
    planks: int

    @property
    def sentence(self) -> str:
        """How many planks are left, in a sentence."""
        many = self.planks != 1
        planks = f"{self.planks} plank{'s' if many else ''}"
        return f"{planks} of the last carton {'are' if many else 'is'} left."


def offers_of(job: Job) -> tuple[SpendOffer, ...]:
    """Return what the cartons of a job leave, by floor.

    Nothing of a product before all its floors are planned as they stand: until then nobody knows
    its cartons. A begun floor is laid by the plan that it has.
    """
    zones = list(job.zones.select_related("product", "job__company"))
    plans = newest_plans(zones)
    of_product: dict[int, list[FloorZone]] = defaultdict(list)
    for zone in zones:
        of_product[zone.product_id].append(zone)
    return tuple(
        offer
        for floors in of_product.values()
        for offer in _offers(floors, [plans.get(zone.pk) for zone in floors])
    )


def offer_for(zone: FloorZone) -> SpendOffer | None:
    """Return what the cartons of a floor leave, None where nothing is offered."""
    return next((offer for offer in offers_of(zone.job) if offer.zone.pk == zone.pk), None)


def _offers(zones: Sequence[FloorZone], plans: Sequence[FloorPlan | None]) -> list[SpendOffer]:
    """Return the offers of the floors of one product."""
    known = [plan for plan in plans if plan is not None]
    if len(known) < len(zones):
        return []
    try:
        stored = [stored_plan(plan) for plan in known]
    except BrokenDocumentError:
        return []
    if any(one.is_older or whats_changed(plan) for one, plan in zip(stored, known, strict=True)):
        return []
    together = _left_of_job(zones, stored)
    return [
        SpendOffer(zone=zone, plan=plan, stored=one, planks=left)
        for zone, plan, one in zip(zones, known, stored, strict=True)
        if not zone.going_on
        and (left := min(together, planks_left(one.request, one.plan)))
        and could_buy(one.plan)
    ]


def _left_of_job(zones: Sequence[FloorZone], stored: Sequence[StoredPlan]) -> int:
    """Return the planks that the cartons of all floors of one product leave, spares aside."""
    product = product_take(zones[0].product, pad=False, barrier=False)
    names = {zone.name for zone in zones}
    stairs = [one for one in stair_takes(zones[0].job, zones) if one.zone in names]
    planks = sum(one.plan.totals.planks + one.request.spares for one in stored)
    planks += sum(stair_planks(stair, product) for stair in stairs)
    return cartons_for(planks, product.per_carton) * product.per_carton - planks
