"""Planks of the last carton spent on looks: tried by the worker, shown, taken by a person.

What was tried is kept with the errand. Taken, it is judged once more and becomes the floor's plan.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace

from jobs.domain.checks import BadValueError
from jobs.domain.formats import Fields
from jobs.domain.plans.spending import Gain, buys_something, gains
from jobs.models import Errand, FloorPlan, FloorZone, User
from jobs.readers.floors.spending import SpendOffer, offer_for
from jobs.readers.plan_request import request_form, request_value
from jobs.services.plans import JudgedPlan, keep_plan, plan_request
from jobs.services.records import audit_job, save_versioned, writes_once
from jobs.worker.errands import ask_anew, latest
from layout.values.material import Prefer
from layout.values.plan import Plan
from layout.values.plan_form import read_plan
from layout.values.request import PlanRequest, read_request

KIND = "spend-planks"


@dataclass(frozen=True, slots=True, kw_only=True)
class TriedSpending:
    """A floor's plan and what it becomes once what its last carton leaves is spent."""

    request: PlanRequest
    before: Plan
    after: Plan

    @property
    def gains(self) -> tuple[Gain, ...]:
        """What the planks change."""
        return gains(self.before, self.after)

    @property
    def buys(self) -> bool:
        """Whether the planks buy anything."""
        return buys_something(self.before, self.after)


def ask_to_spend(*, zone: FloorZone, user: User) -> Errand:
    """Return the errand that tries what is left; asked twice, it is one errand.

    Raises BadValueError where nothing is left.
    """
    offer = offer_for(zone)
    if offer is None:
        raise _nothing_left()
    company, subject = zone.job.company, f"zone:{zone.pk}"
    payload = _payload(zone, offer.plan)
    return ask_anew(company=company, kind=KIND, subject=subject, payload=payload, user=user)


def spending_errand(zone: FloorZone) -> Errand | None:
    """Return the newest trial of a floor, whatever its state."""
    return latest(company=zone.job.company, kind=KIND, subject=f"zone:{zone.pk}")


def tried_spending(offer: SpendOffer, errand: Errand | None) -> TriedSpending | None:
    """Return what was tried of the floor as it stands; None where that is another one, or none."""
    if errand is None or errand.state != Errand.State.DONE or not _is_of(offer, errand):
        return None
    after = read_plan(json.loads(errand.result)["plan"])
    return TriedSpending(request=offer.stored.request, before=offer.stored.plan, after=after)


def try_spending(request: Fields, *, stop: Callable[[], bool]) -> Fields:
    """Return what a trial is kept as."""
    return {"plan": plan_request(request, stop=stop).plan_form}


@writes_once(FloorPlan, "spend planks")
def take_spending(*, zone: FloorZone, user: User, key: str, expected: int) -> FloorPlan:
    """Return the plan that was tried, now the floor's newest; the floor prefers so from now on.

    Raises StaleError where somebody changed the floor first, BadValueError where what was tried is
    of another plan.
    """
    offer, errand = offer_for(zone), spending_errand(zone)
    if offer is None:
        raise _nothing_left()
    if errand is None or tried_spending(offer, errand) is None:
        accepted = "a trial of the floor as it stands; look at what the planks buy again"
        raise BadValueError(field="trial", value="of another plan", accepted=accepted)
    payload, result = json.loads(errand.payload), json.loads(errand.result)
    judged = JudgedPlan(request_form=payload["request"], plan_form=result["plan"])
    zone.prefer = Prefer.CARTONS.value
    save_versioned(zone, expected=expected, names=("prefer",))
    audit_job(job=zone.job, user=user, act=f"Spent {offer.planks} planks left of {zone}")
    return keep_plan(zone=zone, judged=judged, user=user)


def _payload(zone: FloorZone, plan: FloorPlan) -> Fields:
    """Return what the worker is told: the floor as it stands, its plan, and what to plan."""
    request = replace(request_value(zone), prefer=Prefer.CARTONS)
    return {"zone": zone.pk, "plan": plan.pk, "request": request_form(request, zone)}


def _is_of(offer: SpendOffer, errand: Errand) -> bool:
    """Whether an errand tried what is offered: this plan, of the floor as it stands."""
    payload = json.loads(errand.payload)
    now = replace(request_value(offer.zone), prefer=Prefer.CARTONS)
    return payload["plan"] == offer.plan.pk and read_request(payload["request"]) == now


def _nothing_left() -> BadValueError:
    accepted = "a planned floor whose last carton leaves planks, all floors of its product planned"
    return BadValueError(field="planks left", value="none", accepted=accepted)
