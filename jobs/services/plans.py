"""The only caller of the planner: rows of the database become a plan request, a plan becomes rows.

A plan is stored only in the hands of `JudgedPlan`, which can't be made of a plan with faults. What
is judged is the stored form, read back: what the database keeps is what stood the judgment.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from django.db import transaction

from jobs.domain.formats import Fields
from jobs.models import Company, Document, Errand, FloorPlan, FloorZone, User
from jobs.models.work import ErrandState
from jobs.readers.plan_request import request_of
from jobs.readers.stored_plan import plan_of
from jobs.services.records import audit_job, freeze, next_number
from jobs.worker.errands import active_subjects, ask_anew, latest
from layout.judge.check import check_plan
from layout.planner.effort import Progress
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.plan_form import plan_to_json, read_plan
from layout.values.request import PlanRequest, read_request

KIND = "plan-floor"


log = logging.getLogger(__name__)


class FaultyPlanError(ValueError):
    """A plan that breaks its request: the text says how many faults, the log the first of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedPlan:
    """A plan request and a plan in their JSON forms, the plan without a fault.

    Raises FaultyPlanError for a plan with faults, InputError for forms that can't be read.
    """

    request_form: Fields
    plan_form: Fields
    plan: Plan = field(init=False)

    def __post_init__(self) -> None:
        request, plan = read_request(self.request_form), read_plan(self.plan_form)
        faults = check_plan(request, plan)
        if faults:
            more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
            log.error("%s at %s: %s%s", faults[0].rule, faults[0].where, faults[0].text, more)
            raise FaultyPlanError(
                f"The planner made a plan that breaks a rule of this floor{more}. It was not kept; "
                "accepted: a plan without faults. Plan once more; the worker's log says which."
            )
        object.__setattr__(self, "plan", plan)


def ask_for_plan(*, zone: FloorZone, user: User) -> Errand:
    """Return the errand that plans the zone as it stands now; asked twice, it is one errand.

    An errand under way for an older state of the zone is canceled. Raises what `request_of` does.
    """
    payload = {"zone": zone.pk, "request": request_of(zone)}
    company, subject = zone.job.company, subject_of(zone)
    return ask_anew(company=company, kind=KIND, subject=subject, payload=payload, user=user)


def errand_of(zone: FloorZone) -> Errand | None:
    """Return the newest planning errand of a zone, whatever its state."""
    return latest(company=zone.job.company, kind=KIND, subject=subject_of(zone))


def being_planned(company: Company, zones: Iterable[FloorZone]) -> set[int]:
    """Return the pks of those of these floors of a company that are being planned."""
    subjects = {subject_of(zone): zone.pk for zone in zones}
    active = active_subjects(company=company, kind=KIND, subjects=subjects)
    return {subjects[subject] for subject in active}


def subject_of(zone: FloorZone) -> str:
    """Return how errands name a zone."""
    return f"zone:{zone.pk}"


def plan_request(
    request_form: Fields,
    *,
    stop: Callable[[], bool],
    progress: Callable[[Progress], None] | None = None,
) -> JudgedPlan:
    """Return the best plan found within the effort of the request, judged.

    Raises StoppedError, NoPlanError, NotYetError of the planner; FaultyPlanError.
    """
    plan = _planned(read_request(request_form), stop, progress)
    return JudgedPlan(request_form=request_form, plan_form=plan_to_json(plan))


def _planned(
    request: PlanRequest, stop: Callable[[], bool], progress: Callable[[Progress], None] | None
) -> Plan:
    if request.effort_iterations is not None:
        return plan_floor(request, stop=stop, progress=progress)
    ends = time.monotonic() + request.effort_s
    return plan_floor(request, stop=lambda: stop() or time.monotonic() >= ends, progress=progress)


@transaction.atomic
def keep_plan(*, zone: FloorZone, judged: JudgedPlan, user: User | None) -> FloorPlan:
    """Return the plan stored as the zone's newest, request and plan frozen side by side."""
    request, document = freeze_judged(zone=zone, judged=judged, user=user)
    return put_plan(zone=zone, request=request, document=document, user=user)


def freeze_judged(
    *, zone: FloorZone, judged: JudgedPlan, user: User | None
) -> tuple[Document, Document]:
    """Return what a plan was asked for and the plan, frozen."""
    company = zone.job.company
    request = freeze(company=company, kind="request", content=judged.request_form, user=user)
    document = freeze(
        company=company,
        kind="plan",
        content=judged.plan_form,
        user=user,
        inputs=request.sha256,
    )
    return request, document


@transaction.atomic
def put_plan(
    *, zone: FloorZone, request: Document, document: Document, user: User | None
) -> FloorPlan:
    """Return a frozen plan as the zone's newest."""
    plan = plan_of(request=request, plan=document).plan
    row = FloorPlan.objects.create(
        zone=zone,
        number=next_number(zone.plans.all()),
        document=document,
        request=request,
        planks=plan.totals.planks,
        cartons=plan.totals.cartons,
        lower_bound=plan.totals.lower_bound,
        proven=plan.status == "proven",
    )
    audit_job(job=zone.job, user=user, act=f"Planned {row}")
    return row


def plan_zone_now(
    zone: FloorZone, *, user: User | None = None, effort_iterations: int | None = None
) -> FloorPlan:
    """Return a plan of the zone made in this process, for demo data and tests.

    An effort counted in iterations makes the same plan on every machine; without it seconds count.
    """
    request = request_of(zone)
    if effort_iterations is not None:
        request["effort_iterations"] = effort_iterations
    judged = plan_request(request, stop=lambda: False)
    return keep_plan(zone=zone, judged=judged, user=user)


def is_active(errand: Errand | None) -> bool:
    """Whether planning is under way."""
    return errand is not None and errand.state in (ErrandState.WAITING, ErrandState.RUNNING)
