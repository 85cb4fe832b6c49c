"""The current plan of every floor of a job, opened: as agreed, or as laid and planned again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.domain.checks import BadValueError
from jobs.domain.plans.stored import StoredPlan
from jobs.domain.scope.scope import ScopeZone
from jobs.models import Document, FloorZone, Job
from jobs.readers.current_plan.marks import PlanMark, plan_marks
from jobs.readers.scope import agreed_scope_of
from jobs.readers.stored_plan import of_older_rules, plan_of


@dataclass(frozen=True, kw_only=True, slots=True)
class CurrentFloor:
    """One floor of the agreed scope and the plan that it is laid by."""

    mark: PlanMark
    document: Document

    @property
    def name(self) -> str:
        """The floor's name, as agreed."""
        return self.mark.zone.name

    @property
    def row(self) -> FloorZone | None:
        """The floor's row; None where it is gone."""
        return self.mark.row

    @property
    def product(self) -> str:
        """The name of the product that the floor is laid of."""
        row = self.mark.row
        return self.mark.zone.product or (row.product.name if row else "")

    @property
    def number(self) -> int:
        """The number of its plan; 0 where only the plan's document is left."""
        return self.mark.number

    @property
    def of_older_rules(self) -> bool:
        """Whether its plan was made by older rules: shown for ever, printed anew no more."""
        return of_older_rules(self.document)

    def stored(self) -> StoredPlan:
        """Return the plan and its request.

        Raises BadValueError where the request is gone, BrokenDocumentError where one of them can't
        be read.
        """
        requests = Document.objects.filter(company=self.document.company_id, kind="request")
        plan = self.mark.plan
        request = (
            requests.filter(pk=plan.request_id)
            if plan
            else requests.filter(sha256=self.document.inputs_sha256)
        ).first()
        if request is None:
            raise _gone(self.mark.zone)
        return plan_of(request=request, plan=self.document)


def current_floors(job: Job) -> tuple[CurrentFloor, ...]:
    """Return the floors of the agreed scope with their current plans; none without a scope.

    Raises BadValueError for a floor whose plan is gone.
    """
    scope = agreed_scope_of(job)
    return current_floors_of(job, scope.zones) if scope else ()


def current_floors_of(job: Job, zones: Sequence[ScopeZone]) -> tuple[CurrentFloor, ...]:
    """Return these floors of a scope with their current plans; raises as `current_floors`."""
    marks = plan_marks({job.pk: zones})[job.pk]
    kept = Document.objects.filter(company=job.company_id, kind="plan")
    documents = {one.sha256: one for one in kept.filter(sha256__in=[mark.sha256 for mark in marks])}
    floors = []
    for mark in marks:
        if mark.sha256 not in documents:
            raise _gone(mark.zone)
        floors.append(CurrentFloor(mark=mark, document=documents[mark.sha256]))
    return tuple(floors)


def _gone(zone: ScopeZone) -> BadValueError:
    accepted = "a plan that is still kept; agree on a scope with a new plan"
    return BadValueError(field=f"plan of {zone.name}", value="gone", accepted=accepted)
