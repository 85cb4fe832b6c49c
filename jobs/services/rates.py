"""Production rates of a company: set, learned, dropped; what each was before is kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.domain.scope.rates import ProductionRate
from jobs.models import Company, PastRate, Rate, RateTaking, User
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


@writes_once(RateTaking, "take rates")
def take_rates(
    *, company: Company, user: User, key: str, rates: Iterable[ProductionRate]
) -> RateTaking:
    """Return the taking of these rates: they count from now on, what each was before is kept.

    Raises:
        BadValueError: every one of them counts already.
    """
    Company.objects.select_for_update().get(pk=company.pk)
    taken = []
    for rate in rates:
        named = {"task": rate.task_code, "driver": rate.driver, "item": rate.item}
        figures = {name: getattr(rate, name) for name in RATE_FIELDS}
        before = Rate.objects.filter(company=company, **named).first()
        kept = before and _figures(before) | {"set_at": str(before.changed_at)}
        row, changed = _put_rate(company, user, named, figures)
        row.refresh_from_db()
        if changed:
            taken.append({**named, "before": kept, "after": _figures(row)})
    if not taken:
        accepted = "a rate that the logs have otherwise than it counts"
        raise BadValueError(field="rates", value="all taken already", accepted=accepted)
    act = f"Took {len(taken)} production rate{'' if len(taken) == 1 else 's'} from the log"
    audit(user=user, company=company, subject="rates", act=act)
    return RateTaking.objects.create(company=company, who=user, rates=taken)


@transaction.atomic
def undo_taking(*, taking: RateTaking, user: User) -> int:
    """Give back what each rate was before it was taken; return how many. Twice gives back once.

    A rate that somebody set since stays as it was set.
    """
    taking = RateTaking.objects.select_for_update().get(pk=taking.pk)
    if taking.undone_at is not None:
        return 0
    count = sum(_give_back(taking.company, user, each) for each in taking.rates)
    taking.undone_at = timezone.now()
    taking.save(update_fields=["undone_at"])
    act = f"Gave back {count} production rate{'' if count == 1 else 's'} that the log had changed"
    audit(user=user, company=taking.company, subject="rates", act=act)
    return count


def _give_back(company: Company, user: User, taken: Mapping[str, Any]) -> bool:
    """Whether a rate still stood as it was taken, and so went back to what it was."""
    named = {name: taken[name] for name in ("task", "driver", "item")}
    row = Rate.objects.filter(company=company, **named).first()
    if row is None or _figures(row) != taken["after"]:
        return False
    _keep(row, user)
    before = taken["before"]
    if before is None:
        row.delete()
        return True
    figures = {
        **{name: Decimal(before[name]) for name in ("hours", "per")},
        **{name: before[name] for name in ("source", "jobs")},
    }
    set_at = datetime.fromisoformat(before["set_at"])
    rows = Rate.objects.filter(pk=row.pk)
    rows.update(version=F("version") + 1, changed_at=set_at, **figures)
    return True


def _figures(rate: Rate) -> dict[str, Any]:
    """Return the figures of a rate as a taking keeps them."""
    exact = {name: f"{getattr(rate, name).normalize():f}" for name in ("hours", "per")}
    return {**exact, "source": rate.source, "jobs": rate.jobs}


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
