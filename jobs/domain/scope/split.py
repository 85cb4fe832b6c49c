"""The work split of a scope: its days and trips without the work that the homeowner takes on."""

from collections.abc import Collection
from dataclasses import replace

from jobs.domain.scope.hours import SiteWork, laid_out
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS


def leaving(scope: FrozenScope, codes: Collection[str]) -> FrozenScope:
    """Return the scope as it were with these kinds of task, and no others, left to the homeowner.

    Days, trips and the road are laid out anew for the same crew. A scope that kept no days keeps
    its trips.
    """
    left = tuple(code for code in TASKS if code in codes)
    kept = scope.schedule
    if kept is None or left == scope.left:
        return replace(scope, left_to_homeowner=left)
    site = SiteWork(
        crew_hours_per_day=kept.crew_hours,
        trip_hours=kept.trip_hours,
        crew=kept.crew,
        left_to_homeowner=left,
        older_days=kept.older,
        agreed=kept.may_be_open,
    )
    work = laid_out(
        [entry for entry in scope.quantities if entry.code != "trips"],
        [task for task in scope.tasks if task.code != "travel"],
        site,
    )
    return replace(
        scope,
        quantities=work.quantities,
        tasks=work.tasks,
        schedule=work.schedule,
        left_to_homeowner=left,
    )
