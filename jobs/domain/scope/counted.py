"""The floors of a scope that is only looked at: counted from another plan than the kept one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.scope import ScopeZone


def as_counted(zones: Iterable[ScopeZone], job: JobTake) -> tuple[ScopeZone, ...]:
    """Return the floors with rows and product of what was counted: of another plan, its own."""
    takes = {take.name: take for take in job.zones}
    return tuple(
        replace(zone, rows=takes[zone.name].plan.rows, product=takes[zone.name].product.name)
        for zone in zones
    )
