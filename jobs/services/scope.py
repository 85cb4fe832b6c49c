"""Making the scope: frozen quantities, tasks and hours between the plan and the price."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.changed.changes import ScopeChange, scope_changes
from jobs.domain.scope.counted import as_counted
from jobs.domain.scope.hours import travel_rate, work_from
from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.rates_used import as_rate, rate_used
from jobs.domain.scope.scope import (
    FrozenScope,
    make_scope,
    scope_document,
    scope_text,
)
from jobs.domain.scope.takeoff import take_off
from jobs.domain.scope.underlay import with_rolls_bought
from jobs.models import FloorPlan, FloorZone, Job, Scope, User
from jobs.readers.floors.floors import floor_rows
from jobs.readers.floors.for_days import floors_for_days
from jobs.readers.floors.resume import is_of_the_rest
from jobs.readers.floors.rolls import rolls_bought
from jobs.readers.floors.suitability import refuse_unfit
from jobs.readers.plan_request import whats_changed, whats_remeasured
from jobs.readers.scope import (
    agreed_scope_of,
    job_take,
    places_of,
    rates_of,
    scope_value,
    scope_zone,
    site_work,
)
from jobs.readers.site import holds_of
from jobs.readers.stored_plan import of_older_rules
from jobs.services.records import audit_job, freeze, next_number

NO_PLANS: Mapping[FloorZone, FloorPlan] = MappingProxyType({})
"""No floor in another product than its own."""


def latest_plans(job: Job) -> dict[FloorZone, FloorPlan]:
    """Return each zone of ``job`` with its newest plan of the whole floor.

    Raises:
        BadValueError: there is no zone, or one that is not planned yet.
    """
    zones = list(job.zones.select_related("product").prefetch_related("rooms"))
    if not zones:
        accepted = "a planned floor: put rooms together as a floor and plan it first"
        raise BadValueError(field="floor", value="none", accepted=accepted)
    whole = _whole_plans(zones)
    for zone in zones:
        if zone.pk not in whole:
            accepted = "a plan: plan this floor first"
            raise BadValueError(field=f"floor {zone.name}", value="not planned", accepted=accepted)
    return {zone: whole[zone.pk] for zone in zones}


def _whole_plans(zones: Sequence[FloorZone]) -> dict[int, FloorPlan]:
    """Return the newest plan of each floor that is not only of what was left, by the floor's pk."""
    whole: dict[int, FloorPlan] = {}
    for plan in FloorPlan.objects.filter(zone__in=zones).select_related("document", "request"):
        if plan.zone_id not in whole and not is_of_the_rest(plan):
            whole[plan.zone_id] = plan
    return whole


def floors_to_plan_again(job: Job) -> tuple[FloorZone, ...]:
    """Return the floors whose whole plan was made by older rules, but those that are begun.

    Nobody plans a begun floor as a whole again: it is laid by the plan that it has.
    """
    plans = latest_plans(job)
    return tuple(
        zone for zone, plan in plans.items() if of_older_rules(plan.document) and not zone.going_on
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class OutdatedFloor:
    """A floor that is no longer as its plan has it, and in a sentence what changed."""

    zone: FloorZone
    why: str


def outdated_floors(job: Job) -> tuple[OutdatedFloor, ...]:
    """Return the floors whose plan is older than what it was made for; raises as `latest_plans`."""
    plans = latest_plans(job)
    rows = floor_rows(plans)
    outdated = []
    for zone, plan in plans.items():
        looked = whats_remeasured if zone.going_on else whats_changed
        why = looked(plan, rows[zone.pk])
        if why:
            outdated.append(OutdatedFloor(zone=zone, why=why))
    return tuple(outdated)


def work_out(
    job: Job,
    *,
    otherwise: Callable[[JobTake], JobTake] | None = None,
    plans: Mapping[FloorZone, FloorPlan] = NO_PLANS,
) -> FrozenScope:
    """Return the scope of ``job`` as it stands now, unsaved.

    Once a scope is agreed on, hours are reckoned with its rates, crew and trip: then only what
    differs in the work differs in the price.

    ``otherwise`` makes another job of what is counted: the same floor with other materials or by
    another plan. ``plans``: floors in other products, each with its plan in that product.

    Raises:
        BadValueError: something needed is missing, or a product may not lie where it is to be
            laid; it says what and where.
    """
    refuse_unfit(job)
    return _worked_out(job, otherwise, plans)


def _worked_out(
    job: Job,
    otherwise: Callable[[JobTake], JobTake] | None = None,
    others: Mapping[FloorZone, FloorPlan] = NO_PLANS,
) -> FrozenScope:
    plans = _with(latest_plans(job), others)
    takes = job_take(job, plans, otherwise=others)
    if otherwise is not None:
        takes = otherwise(takes)
    agreed = agreed_scope_of(job)
    takes = with_rolls_bought(takes, rolls_bought(job, agreed))
    site, rates = site_work(job, plans, agreed), rates_of(job, agreed)
    site = replace(site, floors=floors_for_days(job, takes, plans))
    work = work_from(take_off(takes), [as_rate(rate) for rate in rates], site, holds_of(job))
    floors = [scope_zone(zone, plan) for zone, plan in plans.items()]
    return make_scope(
        as_counted(floors, takes),
        work,
        places=places_of(job),
        rates=(*rates, rate_used(travel_rate(site), "")),
        left_to_homeowner=site.left_to_homeowner,
    )


def _with(
    plans: Mapping[FloorZone, FloorPlan], others: Mapping[FloorZone, FloorPlan]
) -> dict[FloorZone, FloorPlan]:
    """Return the plans of floors, these others in place of the floors' own."""
    by_pk = {zone.pk: (zone, plan) for zone, plan in others.items()}
    return dict(by_pk.get(zone.pk, (zone, plan)) for zone, plan in plans.items())


@transaction.atomic
def freeze_scope(
    *,
    job: Job,
    user: User | None,
    otherwise: Callable[[JobTake], JobTake] | None = None,
    plans: Mapping[FloorZone, FloorPlan] = NO_PLANS,
) -> Scope:
    """Return the scope of ``job`` as it stands now, frozen; the newest again if nothing changed.

    ``otherwise``, ``plans``: the scope of the whole job done another way, which somebody may
    choose.

    Raises:
        BadValueError: something needed is missing; it says what and where.
    """
    Job.objects.select_for_update().get(pk=job.pk)
    value = work_out(job, otherwise=otherwise, plans=plans)
    newest = job.scopes.select_related("document").first()
    if newest and _says(newest, value):
        return newest
    document = freeze(company=job.company, kind="scope", content=scope_document(value), user=user)
    scope = Scope.objects.create(
        job=job, number=next_number(job.scopes.all()), document=document, hours=value.crews_hours
    )
    act = f"Froze scope {scope.number}, {scope.hours} h"
    audit_job(job=job, user=user, act=act)
    return scope


def _says(scope: Scope, value: FrozenScope) -> bool:
    """Whether a frozen scope says this; one that can't be read says nothing.

    A scope of before days were kept has other words; it says this where none of it is a change.
    """
    try:
        kept = scope_value(scope)
    except BrokenDocumentError:
        return False
    if kept.schedule is None and value.schedule is None:
        return not scope_changes(kept, value)
    return scope_text(kept) == scope_text(value)


def changes_since_agreed(job: Job) -> tuple[ScopeChange, ...]:
    """Return what ``job`` as it stands now does differently from its agreed scope.

    Nothing where nothing is agreed yet, the job is closed, or the floor has no plan at present.
    A product that turned out not to suit its place is no change of scope.
    Other hours for the same work are no change of scope: rates are learned while jobs are open.
    """
    if job.agreed_scope is None or job.closed_at is not None:
        return ()
    try:
        now = _worked_out(job)
    except BadValueError:
        return ()
    changes = scope_changes(scope_value(job.agreed_scope), now)
    return changes if any(_is_of_scope(change) for change in changes) else ()


def _is_of_scope(change: ScopeChange) -> bool:
    if change.what == CATALOG["trips"].label:  # counted from the hours
        return False
    return change.subject != "task" or change.kind != "changed"
