"""Making the scope: frozen quantities, tasks and hours between the plan and the price."""

from __future__ import annotations

from django.db import transaction

from jobs.cautionary import holds_of
from jobs.checked import BadValueError
from jobs.counting import job_take, rates_of, scope_zone, site_work
from jobs.hours import work_from
from jobs.models import FloorPlan, FloorZone, Job, Scope, User
from jobs.records import audit, freeze, next_number
from jobs.scoping import Scope as ScopeValue
from jobs.scoping import make_scope, read_scope, scope_document, scope_text
from jobs.takeoff import take_off


def latest_plans(job: Job) -> dict[FloorZone, FloorPlan]:
    """Return each zone of ``job`` with its newest plan.

    Raises:
        BadValueError: there is no zone, or one that is not planned yet.
    """
    zones = list(job.zones.select_related("product").prefetch_related("rooms"))
    if not zones:
        accepted = "a planned floor: put rooms together as a floor and plan it first"
        raise BadValueError(field="floor", value="none", accepted=accepted)
    plans: dict[FloorZone, FloorPlan] = {}
    for zone in zones:
        plan = zone.plans.select_related("document", "request").first()
        if plan is None:
            accepted = "a plan: plan this floor first"
            raise BadValueError(field=f"floor {zone.name}", value="not planned", accepted=accepted)
        plans[zone] = plan
    return plans


def work_out(job: Job) -> ScopeValue:
    """Return the scope of ``job`` as it stands now, unsaved.

    Raises:
        BadValueError: something needed is missing; it says what and where.
    """
    plans = latest_plans(job)
    takes = job_take(job, plans)
    work = work_from(take_off(takes), rates_of(job), site_work(job, plans), holds_of(job))
    return make_scope((scope_zone(zone, plan) for zone, plan in plans.items()), work)


@transaction.atomic
def freeze_scope(*, job: Job, user: User | None) -> Scope:
    """Return the scope of ``job`` as it stands now, frozen; the newest again if nothing changed.

    Raises:
        BadValueError: something needed is missing; it says what and where.
    """
    Job.objects.select_for_update().get(pk=job.pk)
    value = work_out(job)
    text = scope_text(value)
    newest = job.scopes.select_related("document").first()
    if newest and newest.document.text == text:
        return newest
    document = freeze(company=job.company, kind="scope", content=scope_document(value), user=user)
    scope = Scope.objects.create(
        job=job, number=next_number(job.scopes.all()), document=document, hours=value.hours
    )
    act = f"Froze scope {scope.number}, {scope.hours} h"
    audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
    return scope


def scope_value(scope: Scope) -> ScopeValue:
    """Return what a frozen scope says."""
    return read_scope(scope.document.text)
