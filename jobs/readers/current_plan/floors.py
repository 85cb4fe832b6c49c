"""The current plan of every floor of a job: as agreed, or as laid and planned again since.

A floor is laid by the plan that its agreed scope was counted from. Once rows are down and what is
left was planned again, that newer plan holds: it has the pieces that are down and those to come.
A plan of the whole floor that nobody agreed on yet is no crew's business.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from jobs.domain.checks import BadValueError
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.scope.scope import ScopeZone
from jobs.models import Document, FloorPlan, FloorZone, Job
from jobs.readers.floors.resume import is_of_the_rest
from jobs.readers.scope import agreed_scope_of
from jobs.readers.stored_plan import of_older_rules, plan_of


@dataclass(frozen=True, kw_only=True, slots=True)
class CurrentFloor:
    """One floor of the agreed scope and the plan that it is laid by.

    ``row``: the floor's row, None where it is gone; ``plan`` likewise. ``replanned``: what was left
    of the floor was planned again since the scope was agreed on.
    """

    zone: ScopeZone
    row: FloorZone | None
    plan: FloorPlan | None
    document: Document
    replanned: bool

    @property
    def name(self) -> str:
        """The floor's name, as agreed."""
        return self.zone.name

    @property
    def product(self) -> str:
        """The name of the product that the floor is laid of."""
        return self.zone.product or (self.row.product.name if self.row else "")

    @property
    def number(self) -> int:
        """The number of its plan; 0 where only the plan's document is left."""
        return self.plan.number if self.plan else 0

    @property
    def of_older_rules(self) -> bool:
        """Whether its plan was made by older rules: shown for ever, printed anew no more."""
        return of_older_rules(self.document)

    def stored(self) -> StoredPlan:
        """Return the plan and its request.

        Raises BadValueError where the request is gone, BrokenDocumentError where one of them can't
        be read.
        """
        request = self.plan.request if self.plan else _request_of(self.document)
        if request is None:
            raise gone(self.zone)
        return plan_of(request=request, plan=self.document)


def current_floors(job: Job) -> tuple[CurrentFloor, ...]:
    """Return the floors of the agreed scope with their current plans; none without a scope.

    Raises BadValueError for a floor whose plan is gone.
    """
    scope = agreed_scope_of(job)
    return current_floors_of(job, scope.zones) if scope else ()


def current_floors_of(job: Job, zones: Sequence[ScopeZone]) -> tuple[CurrentFloor, ...]:
    """Return these floors of a scope with their current plans; raises as `current_floors`."""
    shas = [zone.plan_sha256 for zone in zones]
    agreed = {
        document.sha256: document
        for document in Document.objects.filter(
            company_id=job.company_id, kind="plan", sha256__in=shas
        )
    }
    rows = {row.name: row for row in job.zones.select_related("product")}
    plans = _plans_of(rows.values())
    return tuple(_current(zone, agreed.get(zone.plan_sha256), rows, plans) for zone in zones)


def gone(zone: ScopeZone) -> BadValueError:
    """Return the refusal of a floor whose plan is not kept any more."""
    accepted = "a plan that is still kept; agree on a scope with a new plan"
    return BadValueError(field=f"plan of {zone.name}", value="gone", accepted=accepted)


def _plans_of(rows: Iterable[FloorZone]) -> dict[int, list[FloorPlan]]:
    """Return the plans of these floors by the floor's pk, newest first."""
    plans: dict[int, list[FloorPlan]] = {row.pk: [] for row in rows}
    found = FloorPlan.objects.filter(zone__in=list(plans)).select_related("document", "request")
    for plan in found:
        plans[plan.zone_id].append(plan)
    return plans


def _current(
    zone: ScopeZone,
    document: Document | None,
    rows: dict[str, FloorZone],
    plans: dict[int, list[FloorPlan]],
) -> CurrentFloor:
    if document is None:
        raise gone(zone)
    ours = {plan.document_id: plan for of_row in plans.values() for plan in of_row}
    agreed = ours.get(document.pk)
    by_pk = {row.pk: row for row in rows.values()}
    row = by_pk[agreed.zone_id] if agreed else rows.get(zone.name)
    again = _plan_of_the_rest(row, plans[row.pk], agreed) if row else None
    return CurrentFloor(
        zone=zone,
        row=row,
        plan=again or agreed,
        document=again.document if again else document,
        replanned=again is not None,
    )


def _plan_of_the_rest(
    row: FloorZone, plans: Sequence[FloorPlan], agreed: FloorPlan | None
) -> FloorPlan | None:
    """Return the newest plan of what was left of a begun floor, made since the agreed one."""
    if not row.going_on:
        return None
    later = (plan for plan in plans if agreed is None or plan.number > agreed.number)
    return next((plan for plan in later if is_of_the_rest(plan)), None)


def _request_of(document: Document) -> Document | None:
    requests = Document.objects.filter(company=document.company_id, kind="request")
    return requests.filter(sha256=document.inputs_sha256).first()
