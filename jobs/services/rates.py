"""Production rates of a company: set, learned, dropped; what each was before is kept."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from jobs.domain.scope.rates import ProductionRate
from jobs.models import Company, PastRate, Rate, User
from jobs.models.base import Values
from jobs.services.records import audit, put_values, save_versioned, writes_once

RATE_FIELDS = ("hours", "per", "source", "jobs")


@writes_once(Rate, "set rate")
def set_rate(*, company: Company, user: User, key: str, expected: int, values: Values) -> Rate:
    """Return the company's own rate for a task, its driver and an item, new or changed.

    Raises:
        StaleError: somebody else saved that rate since version ``expected``.
    """
    named = {name: values[name] for name in ("task", "driver", "item")}
    figures = {name: values[name] for name in RATE_FIELDS if name != "jobs"} | {"jobs": 0}
    rate, _ = _put_rate(company, user, named, figures, expected=expected)
    audit(user=user, company=company, subject="rates", act=f"Set the rate {rate}")
    return rate


@transaction.atomic
def remove_rate(*, rate: Rate, user: User) -> None:
    """Drop the company's own rate; where there is a starting one it counts again."""
    act = f"Dropped the rate {rate}"
    audit(user=user, company=rate.company, subject="rates", act=act)
    _keep(rate, user)
    rate.delete()


@transaction.atomic
def take_rates(*, company: Company, user: User, rates: Iterable[ProductionRate]) -> int:
    """Save these rates as the company's own; return how many of them differ from what was saved."""
    count = 0
    for rate in rates:
        named = {"task": rate.task_code, "driver": rate.driver, "item": rate.item}
        figures = {name: getattr(rate, name) for name in RATE_FIELDS}
        _, changed = _put_rate(company, user, named, figures)
        count += changed
    if count:
        act = f"Took {count} production rate{'' if count == 1 else 's'} from the log"
        audit(user=user, company=company, subject="rates", act=act)
    return count


def _put_rate(
    company: Company, user: User, named: Values, figures: Values, *, expected: int | None = None
) -> tuple[Rate, bool]:
    """Return a rate as it stands now, and whether it differs from what was saved.

    Raises StaleError where a version is expected and somebody else saved the rate since.
    """
    rate, new = Rate.objects.get_or_create(company=company, **named, defaults=dict(figures))
    differs = any(getattr(rate, name) != value for name, value in figures.items())
    if differs:
        _keep(rate, user)
    if differs or (expected is not None and not new):
        put_values(rate, figures)
        seen = rate.version if expected is None else expected
        save_versioned(rate, expected=seen, names=RATE_FIELDS)
    return rate, new or differs


def _keep(rate: Rate, user: User) -> PastRate:
    """Return the kept figures of a rate that counts until now."""
    names = ("company", "task", "driver", "item", *RATE_FIELDS)
    fields = {name: getattr(rate, name) for name in names}
    return PastRate.objects.create(set_at=rate.changed_at, ended_by=user, **fields)
