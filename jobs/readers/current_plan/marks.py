"""Which plan every floor of some jobs is laid by, in short: its number and digest.

A floor is laid by the plan that its agreed scope was counted from. Once rows are down and what is
left was planned again, that newer plan holds: it has the pieces that are down and those to come.
A plan of the whole floor that nobody agreed on yet is no crew's business.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.plans.stored import REQUEST, request_from
from jobs.domain.scope.scope import ScopeZone
from jobs.models import FloorPlan, FloorZone
from jobs.readers.documents import opened


@dataclass(frozen=True, kw_only=True, slots=True)
class PlanMark:
    """The plan that one floor is laid by.

    ``row``: the floor, None where it is gone; ``plan``: the plan's row, None where only its
    document is kept. ``replanned``: what was left was planned again since the scope was agreed on.
    """

    zone: ScopeZone
    row: FloorZone | None
    plan: FloorPlan | None
    sha256: str
    replanned: bool

    @property
    def number(self) -> int:
        """The number of the plan; 0 where only its document is kept."""
        return self.plan.number if self.plan else 0


def plan_marks(scopes: Mapping[int, Sequence[ScopeZone]]) -> dict[int, tuple[PlanMark, ...]]:
    """Return by the job's pk what its floors are laid by, in as many queries as for one job.

    ``scopes``: the floors of each job's agreed scope, by the job's pk.
    """
    rows = list(FloorZone.objects.filter(job__in=list(scopes)).select_related("product"))
    plans = _plans_of(rows)
    again = _plans_of_the_rest([row for row in rows if row.going_on])
    by_job: dict[int, list[FloorZone]] = defaultdict(list)
    for row in rows:
        by_job[row.job_id].append(row)
    return {
        job: tuple(_mark(zone, by_job[job], plans, again) for zone in zones)
        for job, zones in scopes.items()
    }


def _mark(
    zone: ScopeZone,
    rows: Sequence[FloorZone],
    plans: Mapping[int, Sequence[FloorPlan]],
    again: Mapping[int, Sequence[FloorPlan]],
) -> PlanMark:
    of_rows = [(row, plan) for row in rows for plan in plans.get(row.pk, ())]
    agreed = next((pair for pair in of_rows if pair[1].document.sha256 == zone.plan_sha256), None)
    row = agreed[0] if agreed else next((one for one in rows if one.name == zone.name), None)
    plan = agreed[1] if agreed else None
    since = plan.number if plan else 0
    later = [one for one in again.get(row.pk, ()) if one.number > since] if row else []
    newest = later[0] if later else None
    return PlanMark(
        zone=zone,
        row=row,
        plan=newest or plan,
        sha256=newest.document.sha256 if newest else zone.plan_sha256,
        replanned=newest is not None,
    )


def _plans_of(rows: Sequence[FloorZone]) -> dict[int, list[FloorPlan]]:
    """Return the plans of these floors by the floor's pk, newest first, without their texts."""
    rows_of_plans = FloorPlan.objects.filter(zone__in=rows).select_related("document")
    plans: dict[int, list[FloorPlan]] = defaultdict(list)
    for plan in rows_of_plans.defer("document__text"):
        plans[plan.zone_id].append(plan)
    return plans


def _plans_of_the_rest(begun: Sequence[FloorZone]) -> dict[int, list[FloorPlan]]:
    """Return the plans of what was left of begun floors by the floor's pk, newest first."""
    if not begun:
        return {}
    rows_of_plans = FloorPlan.objects.filter(zone__in=begun).select_related("document", "request")
    plans: dict[int, list[FloorPlan]] = defaultdict(list)
    for plan in rows_of_plans.defer("document__text"):
        request, _ = opened(plan.request, REQUEST, request_from)
        if request.laid:
            plans[plan.zone_id].append(plan)
    return plans
