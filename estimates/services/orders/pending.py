"""What differs from the agreed scope of a job, and what that comes to by the accepted quote."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.orders.difference import (
    ChangedArea,
    ChangedLine,
    changed_areas,
    changed_lines,
)
from estimates.domain.priced import Priced, refuse_unpriced, unpriced
from estimates.readers.orders.agreed import (
    AgreedTotals,
    PricedAsThen,
    agreed_subtotal,
    agreed_totals,
    priced_as_then,
)
from jobs.domain.checks import BadValueError
from jobs.domain.documents import digest
from jobs.domain.plans.older import OlderPlanError
from jobs.domain.scope.changed.changes import ScopeChange
from jobs.domain.scope.changed.renamed import named_as
from jobs.domain.scope.scope import FrozenScope, scope_text
from jobs.models import FloorZone, Job
from jobs.readers.floors.suitability import refuse_unfit
from jobs.readers.scope import scope_value
from jobs.services.scope import (
    OutdatedFloor,
    floors_to_plan_again,
    outdated_floors,
    scope_beside_agreed,
    work_out,
)


class OutdatedPlanError(BadValueError):
    """A floor was changed after its plan was made. ``floor`` names it."""

    def __init__(self, outdated: OutdatedFloor) -> None:
        self.floor = outdated.zone.name
        super().__init__(
            field=f"the plan of {self.floor}",
            value=f"outdated. {outdated.why}",
            accepted="a plan of the floor as it stands: plan it again, then agree on the change",
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class PendingChange:
    """A scope that differs from the agreed one: how, and both priced as the accepted quote was.

    `agreed` is the agreed scope, its places called as they are now; `scope` is the one as it stands
    now, `seen` its digest. `older`: floors that must be planned again first, since older rules made
    their plans. `totals` are what was agreed on before.
    """

    changes: tuple[ScopeChange, ...]
    agreed: FrozenScope
    scope: FrozenScope
    before: Priced
    after: Priced
    totals: AgreedTotals
    then: PricedAsThen
    older: tuple[FloorZone, ...]

    @property
    def seen(self) -> str:
        """The digest of the scope as it stands now."""
        return digest(scope_text(self.scope))

    @property
    def difference(self) -> Decimal:
        """By how much the price would change, before sales tax."""
        return self.after.subtotal - self.before.subtotal

    @property
    def tax_difference(self) -> Decimal:
        """By how much the sales tax would change."""
        return self.after.tax - self.before.tax

    @property
    def agreed_price(self) -> Decimal:
        """The quote with its change orders, before tax."""
        return self.totals.subtotal

    @property
    def lines(self) -> tuple[ChangedLine, ...]:
        """What differs, by place, with its amounts."""
        return changed_lines(self.before, self.after)

    @property
    def areas(self) -> tuple[ChangedArea, ...]:
        """The floors that have another area."""
        return changed_areas(self.agreed, self.scope)

    @property
    def faults(self) -> tuple[str, ...]:
        """What has no price, in words."""
        return unpriced(self.after, self.before)

    @property
    def notes(self) -> tuple[str, ...]:
        """What is to be known of the prices and rates, in words."""
        return self.then.notes(self.scope)


def agreed_price(job: Job) -> Decimal | None:
    """Return the accepted price with its change orders, before sales tax; None before a word."""
    return agreed_subtotal(job)


def pending_change(job: Job, today: date) -> PendingChange | None:
    """Return what differs from the agreed scope of ``job`` and its price; None where nothing."""
    beside = scope_beside_agreed(job)
    if beside is None or job.agreed_scope is None:
        return None
    totals, then = agreed_totals(job), priced_as_then(job, today)
    if totals is None or then is None:
        return None
    refuse_unfit(job)
    now, changes = beside
    agreed = named_as(scope_value(job.agreed_scope), now)
    return PendingChange(
        changes=changes,
        agreed=agreed,
        scope=now,
        before=then.price(agreed, as_agreed=True),
        after=then.price(now),
        totals=totals,
        then=then,
        older=floors_to_plan_again(job),
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class PlanTrouble:
    """Why what a job is now can't be held against what was agreed: outdated plans, or no plan."""

    outdated: tuple[OutdatedFloor, ...] = ()
    refusal: str = ""


def plan_trouble(job: Job) -> PlanTrouble:
    """Return what keeps the plans of an agreed job from saying how it stands; empty: nothing."""
    if job.agreed_scope_id is None or job.closed_at is not None:
        return PlanTrouble()
    try:
        outdated = outdated_floors(job)
        work_out(job)
    except BadValueError as bad:
        return PlanTrouble(refusal=str(bad))
    return PlanTrouble(outdated=outdated)


def refuse_outdated(job: Job) -> None:
    """Raise OutdatedPlanError where a floor was changed after its plan was made.

    Such a plan counts what is no longer there: nothing is agreed on by it.
    """
    for outdated in outdated_floors(job):
        raise OutdatedPlanError(outdated)


def require_agreeable(pending: PendingChange | None, seen: str) -> PendingChange:
    """Return the change that was ``seen``, ready to be agreed on.

    Raises:
        BadValueError: nothing differs, it differs from what was seen, or a price is missing.
        OlderPlanError: older rules made the plan of a floor that is not begun.
    """
    if pending is None:
        accepted = "a floor, room or product that was changed since the scope was agreed"
        raise BadValueError(field="scope", value="as agreed", accepted=accepted)
    if pending.seen != seen:
        accepted = "the change as it stands now; read it and send it again"
        raise BadValueError(field="scope", value="changed again meanwhile", accepted=accepted)
    for zone in pending.older:
        raise OlderPlanError(zone.name)
    refuse_unpriced(pending.after, pending.before)
    return pending
