"""Making the scope: frozen quantities, tasks and hours between the plan and the price."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType
from typing import cast

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.changed.changes import ScopeChange, scope_changes
from jobs.domain.scope.counted import as_counted
from jobs.domain.scope.hours import SiteWork, travel_rate, work_from
from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.laid_for.basis import LaidFor, StoredBasis, stored_basis
from jobs.domain.scope.rates_used import RateUsed, as_rate, rate_used
from jobs.domain.scope.scope import (
    FrozenScope,
    ScopePlace,
    make_scope,
    scope_document,
    scope_text,
)
from jobs.domain.scope.takeoff import take_off
from jobs.domain.scope.underlay import with_rolls_bought
from jobs.domain.site.cautions import cautions_for, holds_from
from jobs.domain.site.facts import VisitFacts
from jobs.models import FloorPlan, FloorZone, Job, Scope, User
from jobs.readers.floors.floors import floor_rows
from jobs.readers.floors.for_days import floors_for_days, waits_of
from jobs.readers.floors.resume import is_of_the_rest
from jobs.readers.floors.rolls import rolls_bought
from jobs.readers.floors.suitability import refuse_unfit
from jobs.readers.penciled.site_work import for_crew, priced_basis, site_work
from jobs.readers.plan_request import whats_changed, whats_remeasured
from jobs.readers.scope import (
    agreed_scope_of,
    job_take,
    places_of,
    rates_of,
    scope_value,
    scope_zone,
)
from jobs.readers.site import facts_in, site_facts
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
    return work_basis(job).worked_out(otherwise=otherwise, plans=plans)


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkBasis:
    """What the scope of a job is worked out from, read once for all its ways.

    `takes`: what is counted of the job as it stands; `rolls`: what a roll covers, by its code.
    """

    job: Job
    plans: Mapping[FloorZone, FloorPlan]
    takes: JobTake
    rolls: Mapping[str, Decimal]
    site: SiteWork
    rates: tuple[RateUsed, ...]
    facts: VisitFacts
    places: tuple[ScopePlace, ...]

    def with_crew(self, crew: LaidFor) -> WorkBasis:
        """Return what the job is worked out from where this real crew does it."""
        return replace(self, site=for_crew(self.site, crew, self.job.company))

    def worked_out(
        self,
        *,
        otherwise: Callable[[JobTake], JobTake] | None = None,
        plans: Mapping[FloorZone, FloorPlan] = NO_PLANS,
    ) -> FrozenScope:
        """Return the scope of the job, or of the job done another way; see `work_out`."""
        among = _with(self.plans, plans)
        takes = job_take(self.job, among, otherwise=plans) if plans else self.takes
        takes = with_rolls_bought(otherwise(takes) if otherwise else takes, self.rolls)
        floors = floors_for_days(self.job, takes, among)
        site = replace(self.site, floors=floors, acclimatize_hours=waits_of(among))
        rates = [as_rate(rate) for rate in self.rates]
        facts = facts_in(self.facts, [zone.product for zone in among])
        work = work_from(take_off(takes), rates, site, holds_from(cautions_for(facts)))
        return make_scope(
            as_counted([scope_zone(zone, plan) for zone, plan in among.items()], takes),
            work,
            places=self.places,
            rates=(*self.rates, rate_used(travel_rate(site), "")),
            left_to_homeowner=site.left_to_homeowner,
        )


def work_basis(job: Job) -> WorkBasis:
    """Return what every way of ``job`` is worked out from.

    Raises:
        BadValueError: something needed is missing, or a product may not lie where it is to be
            laid; it says what and where.
    """
    refuse_unfit(job)
    return _basis(job)


def _basis(job: Job) -> WorkBasis:
    plans, agreed = latest_plans(job), agreed_scope_of(job)
    return WorkBasis(
        job=job,
        plans=plans,
        takes=job_take(job, plans),
        rolls=rolls_bought(job, agreed),
        site=site_work(job, plans, agreed),
        rates=rates_of(job, agreed),
        facts=site_facts(job),
        places=places_of(job),
    )


def _with(
    plans: Mapping[FloorZone, FloorPlan], others: Mapping[FloorZone, FloorPlan]
) -> dict[FloorZone, FloorPlan]:
    """Return the plans of floors, these others in place of the floors' own."""
    by_pk = {zone.pk: (zone, plan) for zone, plan in others.items()}
    return dict(by_pk.get(zone.pk, (zone, plan)) for zone, plan in plans.items())


@transaction.atomic
def freeze_scope(*, job: Job, user: User | None, worked: FrozenScope | None = None) -> Scope:
    """Return the scope of ``job`` as it stands now, frozen; the newest again if nothing changed.

    ``worked``: the scope of the whole job done another way, which somebody may choose, worked out
    while the job was locked.

    Raises:
        BadValueError: something needed is missing; it says what and where.
    """
    job = Job.objects.select_for_update(of=("self",)).select_related("company").get(pk=job.pk)
    value = worked or work_out(job)
    newest = job.scopes.select_related("document").first()
    basis = _basis_of(job)
    if newest and newest.laid_for == basis and _says(newest, value):
        return newest
    document = freeze(company=job.company, kind="scope", content=scope_document(value), user=user)
    scope = Scope.objects.create(
        job=job,
        number=next_number(job.scopes.all()),
        document=document,
        hours=value.crews_hours,
        laid_for=basis,
    )
    act = f"Froze scope {scope.number}, {scope.hours} h"
    audit_job(job=job, user=user, act=act)
    return scope


def _basis_of(job: Job) -> StoredBasis:
    """Return the crew and first day that the days of a job are laid out for now."""
    if job.agreed_scope is not None:
        return cast(StoredBasis, job.agreed_scope.laid_for)
    return stored_basis(priced_basis(job))


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
    beside = scope_beside_agreed(job)
    return beside[1] if beside else ()


def scope_beside_agreed(
    job: Job, now: FrozenScope | None = None
) -> tuple[FrozenScope, tuple[ScopeChange, ...]] | None:
    """Return the scope of ``job`` as it stands with its changes; None where there are none.

    ``now``: that scope where it is worked out already. What is a change: `changes_since_agreed`.
    """
    if job.agreed_scope is None or job.closed_at is not None:
        return None
    try:
        now = now or _basis(job).worked_out()
    except BadValueError:
        return None
    changes = scope_changes(scope_value(job.agreed_scope), now)
    return (now, changes) if any(_is_of_scope(change) for change in changes) else None


def _is_of_scope(change: ScopeChange) -> bool:
    if change.what == CATALOG["trips"].label:  # counted from the hours
        return False
    return change.subject != "task" or change.kind != "changed"
