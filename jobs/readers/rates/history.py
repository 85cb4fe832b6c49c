"""Where each production rate comes from, since which day, and every rate that it was before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from jobs.clock import day_of
from jobs.domain.scope.rates import STARTING_RATES, ProductionRate
from jobs.domain.tasks import TASKS
from jobs.models import Company, PastRate, Rate
from jobs.readers.scope import company_rates, rate_key

Origin = Literal["default", "set", "learned"]
RateKey = tuple[str, str, str]


@dataclass(frozen=True, kw_only=True, slots=True)
class RateLine:
    """A rate that counts: the company's row for it, None where it is a starting one."""

    rate: ProductionRate
    row: Rate | None
    since: date | None

    @property
    def origin(self) -> Origin:
        """Whether it is a starting rate, one that somebody set, or one from the logs."""
        if self.row is None:
            return "default"
        return "learned" if self.row.jobs else "set"


@dataclass(frozen=True, kw_only=True, slots=True)
class RateThen:
    """A rate as it counted from a day on; None: from the start. `until` None: it still counts."""

    hours: Decimal
    per: Decimal
    source: str
    since: date | None
    until: date | None
    who: str = ""


def rate_lines(company: Company) -> list[RateLine]:
    """Return every rate that counts, in the order of the work."""
    rows = {(row.task, row.driver, row.item): row for row in company.rates.all()}
    order = list(TASKS)
    rates = sorted(company_rates(company), key=lambda rate: order.index(rate.task_code))
    lines = []
    for rate in rates:
        row = rows.get(rate_key(rate))
        since = day_of(row.changed_at, company) if row else None
        lines.append(RateLine(rate=rate, row=row, since=since))
    return lines


def history_of(company: Company, key: RateKey) -> list[RateThen]:
    """Return every rate that a work had, the newest first; the starting one is the oldest."""
    named = dict(zip(("task", "driver", "item"), key, strict=True))
    then = []
    row = company.rates.filter(**named).first()
    if row is not None:
        then.append(_then(company, row, row.changed_at, None))
    past = PastRate.objects.filter(company=company, **named).select_related("ended_by")
    then += [_then(company, rate, rate.set_at, rate.ended_at) for rate in past]
    starting = next((rate for rate in STARTING_RATES if rate_key(rate) == key), None)
    if starting is not None:
        then.append(
            RateThen(
                hours=starting.hours,
                per=starting.per,
                source=starting.source,
                since=None,
                until=None,
            )
        )
    return then


def _then(
    company: Company, rate: Rate | PastRate, since: datetime, until: datetime | None
) -> RateThen:
    ended_by = rate.ended_by if isinstance(rate, PastRate) else None
    return RateThen(
        hours=rate.hours,
        per=rate.per,
        source=rate.source,
        since=day_of(since, company),
        until=day_of(until, company) if until else None,
        who=ended_by.name if ended_by else "",
    )
