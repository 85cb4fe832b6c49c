"""Production rates of a company: own ones in place of the starting ones."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from django.db import transaction

from jobs.domain.scope.rates import ProductionRate
from jobs.models import Company, Rate, User
from jobs.models.base import Values
from jobs.services.records import audit, save_versioned, writes_once

RATE_FIELDS = ("hours", "per", "source")


@writes_once(Rate, "set rate")
def set_rate(*, company: Company, user: User, key: str, expected: int, values: Values) -> Rate:
    """Return the company's own rate for a task, its driver and an item, new or changed.

    Raises:
        StaleError: somebody else saved that rate since version ``expected``.
    """
    named = {name: values[name] for name in ("task", "driver", "item")}
    figures = {name: values[name] for name in RATE_FIELDS}
    rate, new = Rate.objects.get_or_create(company=company, **named, defaults=figures)
    if not new:
        for name, value in figures.items():
            setattr(rate, name, value)
        save_versioned(rate, expected=expected, names=RATE_FIELDS)
    audit(user=user, company=company, subject="rates", act=f"Set the rate {rate}")
    return rate


@transaction.atomic
def remove_rate(*, rate: Rate, user: User) -> None:
    """Drop the company's own rate; where there is a starting one it counts again."""
    act = f"Dropped the rate {rate}"
    audit(user=user, company=rate.company, subject="rates", act=act)
    rate.delete()


@transaction.atomic
def take_rates(*, company: Company, user: User, rates: Iterable[ProductionRate]) -> int:
    """Save these rates as the company's own; return how many of them differ from what was saved."""
    count = 0
    for rate in rates:
        named = {"task": rate.task_code, "driver": rate.driver, "item": rate.item}
        figures: dict[str, Decimal | str] = {
            "hours": rate.hours,
            "per": rate.per,
            "source": rate.source,
        }
        row, new = Rate.objects.get_or_create(company=company, **named, defaults=figures)
        changed = any(getattr(row, name) != value for name, value in figures.items())
        if changed:
            for name, value in figures.items():
                setattr(row, name, value)
            save_versioned(row, expected=row.version, names=RATE_FIELDS)
        count += new or changed
    if count:
        act = f"Took {count} production rate{'' if count == 1 else 's'} from the log"
        audit(user=user, company=company, subject="rates", act=act)
    return count
