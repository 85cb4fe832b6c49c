"""What the moisture gates of many jobs hang on, in one round trip."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from jobs.domain.lengths import MM_PER_IN
from jobs.domain.site.moisture_gates import MoistureGates
from jobs.models import Core, Product
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, rows_of

KINDS = (of_jobs.ZONES, of_jobs.DAYS, of_jobs.ENTRIES)
"""The rows that gates hang on."""

_STRIP_MM = MM_PER_IN * 3


def moisture_gates(jobs: Sequence[int], rows: KindRows | None = None) -> dict[int, MoistureGates]:
    """Return by its key what the gates of each job hang on; a job without a floor has none.

    ``rows``: those of `KINDS` where they are at hand.
    """
    if rows is None:
        rows = rows_of(jobs, *KINDS)
    products: dict[int, list[Product]] = defaultdict(list)
    for zone in rows[of_jobs.ZONES]:
        products[zone.job_id].append(zone.product)
    starts = _row_ones(rows)
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


def _row_ones(rows: KindRows) -> dict[int, date]:
    """Return the day of row one of each job, those where rows were laid already left out."""
    laid_on = {entry.day_id for entry in rows[of_jobs.ENTRIES] if entry.task == "lay"}
    begun = {day.job_id for day in rows[of_jobs.DAYS] if day.pk in laid_on}
    starts: dict[int, date] = {}
    for day in rows[of_jobs.DAYS]:
        if any(entry["task"] == "lay" for entry in day.entries):
            starts.setdefault(day.job_id, day.date)
    return {job: start for job, start in starts.items() if job not in begun}
