"""Closed jobs beside each other: by crew, by floor, by quarter."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.terms.booked import per_day
from estimates.models import ClosedReview
from jobs.domain.checks import ZERO
from jobs.models import Company


@dataclass(frozen=True, kw_only=True, slots=True)
class JobsTogether:
    """Closed jobs of one kind: what they were sold for, cost and left, and the days they took."""

    name: str
    jobs: int
    price: Decimal
    cost: Decimal
    contribution: Decimal
    quoted: Decimal
    days: Decimal

    @property
    def a_day(self) -> Decimal | None:
        """Contribution by the day on site."""
        return per_day(self.contribution, self.days)


def closed_reviews(company: Company) -> list[ClosedReview]:
    """Return the reviews that count of all closed jobs of a company, the newest first."""
    rows = ClosedReview.objects.filter(job__company=company, reopened_at__isnull=True)
    return list(rows.select_related("job__client").order_by("-closed_on", "-pk"))


def together(name: str, rows: Iterable[ClosedReview]) -> JobsTogether:
    """Return reviews summed under a name."""
    reviews = list(rows)
    return JobsTogether(
        name=name,
        jobs=len(reviews),
        price=sum((row.price for row in reviews), ZERO),
        cost=sum((row.cost for row in reviews), ZERO),
        contribution=sum((row.contribution for row in reviews), ZERO),
        quoted=sum((row.quoted for row in reviews), ZERO),
        days=sum((row.days_on_site or ZERO for row in reviews), ZERO),
    )


def grouped(
    rows: Iterable[ClosedReview], name_of: Callable[[ClosedReview], str]
) -> list[JobsTogether]:
    """Return reviews summed by what they are named, the best by the day on site first."""
    groups: dict[str, list[ClosedReview]] = {}
    for row in rows:
        groups.setdefault(name_of(row), []).append(row)
    summed = [together(name, each) for name, each in groups.items()]
    return sorted(summed, key=lambda group: (-(group.a_day or ZERO), group.name))


def crew_of(row: ClosedReview) -> str:
    """Return the crew of a job."""
    return row.crew or "No log"


def floor_of(row: ClosedReview) -> str:
    """Return what kind of floor a job was."""
    return row.floor or "Not known any more"


def quarter_of(row: ClosedReview) -> str:
    """Return the quarter in which a job was closed: 2027, quarter 1."""
    return f"{row.closed_on.year}, quarter {(row.closed_on.month + 2) // 3}"
