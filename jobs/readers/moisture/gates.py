"""What the moisture gates of many jobs hang on, in as many queries as for one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from jobs.domain.lengths import MM_PER_IN
from jobs.domain.site.moisture_gates import MoistureGates
from jobs.models import Core, FloorZone, Product, WorkDay

_STRIP_MM = MM_PER_IN * 3


def moisture_gates(jobs: Sequence[int]) -> dict[int, MoistureGates]:
    """Return by its key what the gates of each job hang on; a job without a floor has none."""
    products: dict[int, list[Product]] = defaultdict(list)
    for zone in FloorZone.objects.filter(job__in=jobs).select_related("product"):
        products[zone.job_id].append(zone.product)
    starts = _row_ones(jobs)
    return {job: gates_of(those, starts.get(job)) for job, those in products.items()}


def gates_of(products: Iterable[Product], row_one: date | None = None) -> MoistureGates:
    """Return what the gates hang on where these products are laid."""
    those = list(products)
    waiting = [each for each in those if each.core == Core.WOOD and not each.acclimate_hours]
    return MoistureGates(
        limit_on_wood=any(each.most_wood_mc_pct is not None for each in those),
        boards={each.name: Decimal(each.width_mm) <= _STRIP_MM for each in waiting},
        row_one=row_one,
    )


def _row_ones(jobs: Sequence[int]) -> dict[int, date]:
    """Return the day of row one of each job, those where rows were laid already left out."""
    days = WorkDay.objects.filter(job__in=jobs).order_by("date").prefetch_related("log")
    begun: set[int] = set()
    starts: dict[int, date] = {}
    for day in days:
        if any(line.task == "lay" for line in day.log.all()):
            begun.add(day.job_id)
        if any(entry["task"] == "lay" for entry in day.entries):
            starts.setdefault(day.job_id, day.date)
    return {job: start for job, start in starts.items() if job not in begun}
