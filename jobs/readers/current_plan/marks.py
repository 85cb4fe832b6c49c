"""Which plan every floor of some jobs is laid by, in short: its number and digest.

A floor is laid by the plan that its agreed scope was counted from. Once rows are down and what is
left was planned again, that newer plan holds: it has the pieces that are down and those to come.
A plan of the whole floor that nobody agreed on yet is no crew's business.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.plans.stored import REQUEST, request_from
from jobs.domain.scope.scope import ScopeZone
from jobs.models import FloorPlan, FloorZone
from jobs.readers.documents import opened
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, rows_of

KINDS = (of_jobs.ZONES, of_jobs.PLANS, of_jobs.REST_PLANS)
"""The rows that say what floors are laid by."""


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
    """Return by the job's pk what its floors are laid by, in one query for all jobs.

    ``scopes``: the floors of each job's agreed scope, by the job's pk.
    """
    return marks_from(scopes, rows_of(list(scopes), *KINDS))


def marks_from(
    scopes: Mapping[int, Sequence[ScopeZone]], rows: KindRows
) -> dict[int, tuple[PlanMark, ...]]:
    """Return by the job's pk what its floors are laid by, from the rows of `KINDS`."""
    plans = _by_zone(rows[of_jobs.PLANS])
    again = _by_zone(plan for plan in rows[of_jobs.REST_PLANS] if _is_of_the_rest(plan))
    by_job: dict[int, list[FloorZone]] = defaultdict(list)
    for row in rows[of_jobs.ZONES]:
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


def _by_zone(rows: Iterable[FloorPlan]) -> dict[int, list[FloorPlan]]:
    """Return plans by their floor's pk, newest first."""
    plans: dict[int, list[FloorPlan]] = defaultdict(list)
    for plan in rows:
        plans[plan.zone_id].append(plan)
    return plans


def _is_of_the_rest(plan: FloorPlan) -> bool:
    """Whether a plan is of what was left of a floor when rows of it were down."""
    request, _ = opened(plan.request, REQUEST, request_from)
    return bool(request.laid)
