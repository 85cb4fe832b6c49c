"""What each rate was before anything was learned: set by hand on a day, or the default."""

from __future__ import annotations

from collections import defaultdict
from datetime import datetime, timedelta

from jobs.clock import day_of
from jobs.domain.rates.work import AnchoredRate
from jobs.domain.scope.rates import STARTING_RATES, ProductionRate
from jobs.models import Company, PastRate, Rate
from jobs.readers.scope import company_rates, rate_key

RateKey = tuple[str, str, str]

AT_ONCE = timedelta(seconds=1)
"""A rate that ended no longer than this before another began gave way to it."""


def anchored_rates(company: Company) -> tuple[AnchoredRate, ...]:
    """Return every rate that counts with what it was before anything was learned of it."""
    rows = {(row.task, row.driver, row.item): row for row in company.rates.all()}
    past: dict[RateKey, list[PastRate]] = defaultdict(list)
    for earlier in PastRate.objects.filter(company=company):
        past[earlier.task, earlier.driver, earlier.item].append(earlier)
    default = {rate_key(rate): rate for rate in STARTING_RATES}
    anchored = []
    for rate in company_rates(company):
        key = rate_key(rate)
        row = rows.get(key)
        before = _before_learning(row, past[key]) if row is not None else None
        if row is None or (before is None and key in default):
            anchored.append(AnchoredRate(now=rate, anchor=default[key]))
        else:
            set_by_hand = before or row
            since = day_of(_begun(set_by_hand), company).isoformat()
            anchored.append(AnchoredRate(now=rate, anchor=_value(set_by_hand), since=since))
    return tuple(anchored)


def _before_learning(row: Rate, past: list[PastRate]) -> Rate | PastRate | None:
    """Return the rate that was set by hand last without a gap; None where it was a default.

    `past` has the newest first. A rate that was dropped ended long before the next one began.
    """
    each: Rate | PastRate = row
    for earlier in [None, *past]:
        if earlier is not None:
            if _begun(each) - earlier.ended_at > AT_ONCE:
                return None
            each = earlier
        if not each.jobs:
            return each
    return None


def _begun(rate: Rate | PastRate) -> datetime:
    return rate.changed_at if isinstance(rate, Rate) else rate.set_at


def _value(rate: Rate | PastRate) -> ProductionRate:
    return ProductionRate(
        task_code=rate.task,
        driver=rate.driver,
        item=rate.item,
        hours=rate.hours,
        per=rate.per,
        source=rate.source,
    )
