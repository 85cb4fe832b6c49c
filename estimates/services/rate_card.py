"""The rate card: rates set and dropped, row by row; keyword-only, atomic, audited."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db import transaction

from estimates.domain.card.rows import CardRow
from estimates.models import PricedPer, PriceItem
from estimates.readers.rate_card import AnyRate, rates_for, row_rates
from jobs.domain.checks import BadValueError
from jobs.domain.figures import money, unit_sign
from jobs.models import Company, User
from jobs.models.base import Values
from jobs.services.records import StaleError, audit, put_values, save_versioned, writes_once

RATE_FIELDS = ("amount", "taxable")


@writes_once(PriceItem, "set card rate")
def save_rate(
    *,
    company: Company,
    row: CardRow,
    user: User,
    key: str,
    seen: int | None,
    expected: int,
    values: Values,
    today: date,
) -> PriceItem:
    """Return the rate that stands after a row of the card was saved; the one before it is kept.

    ``seen`` is the rate that the person saw, None where the row had none.

    Raises:
        StaleError: another rate counts by now, or somebody saved it.
        BadValueError: the day lies before that of the rate in force, or has a rate already.
    """
    counts = row_rates(company, row, today).counts
    if counts is None:
        if seen is not None:
            raise BadValueError(field="amount", value="dropped meanwhile", accepted="a new rate")
        return _audit(_new_rate(company, row, values, today), row, user)
    if (counts.pk, counts.version) != (seen, expected):
        raise StaleError(counts, (f"The rate is now {rate_words(counts)}.",))
    waits = counts.effective_from > today
    if values["effective_from"] != counts.effective_from and (waits or is_other(counts, values)):
        refuse_day(counts, rates_for(company, row), values["effective_from"], today)
        save_versioned(counts, expected=expected, names=())
        return _audit(_new_rate(company, row, values, today), row, user)
    put_values(counts, {name: values[name] for name in RATE_FIELDS} | {"last_seen": today})
    names = (*RATE_FIELDS, "last_seen")
    return _audit(save_versioned(counts, expected=expected, names=names), row, user)


def is_other(rate: AnyRate, values: Values) -> bool:
    """Whether these values make another rate."""
    return any(getattr(rate, name) != values[name] for name in RATE_FIELDS)


def refuse_day(rate: AnyRate, others: Iterable[AnyRate], day: date, today: date) -> None:
    """Raise BadValueError where another rate can't be in force from ``day`` on."""
    if day < rate.effective_from <= today:
        accepted = f"{rate.effective_from} or later, the day from which the rate in force counts"
        raise BadValueError(field="effective_from", value=str(day), accepted=accepted)
    there = next((other for other in others if other.effective_from == day), None)
    if there is not None:
        accepted = f"another day: from this one on it is {rate_words(there)} already"
        raise BadValueError(field="effective_from", value=str(day), accepted=accepted)


def _new_rate(company: Company, row: CardRow, values: Values, today: date) -> PriceItem:
    named = {"kind": "adder", "code": row.code, "item": row.item, "label": row.label}
    fields = {name: values[name] for name in (*RATE_FIELDS, "effective_from")}
    return PriceItem.objects.create(
        company=company,
        unit=row.unit,
        per=PricedPer.MEASURE,
        last_seen=today,
        **named,
        **fields,
    )


@transaction.atomic
def drop_rate(*, rate: PriceItem, row: CardRow, user: User) -> None:
    """Take a rate off the card; the one before it counts again. Estimates keep what they had."""
    act = f"Dropped the rate of {row.label}, {rate_words(rate)}"
    audit(user=user, company=rate.company, subject=f"rate {rate.code}", act=act)
    rate.delete()


def rate_words(rate: AnyRate) -> str:
    """Return a rate as it is said: $2.85 a ft², $14.00 each."""
    amount = money(rate.amount, rate.company.currency)
    return f"{amount} each" if rate.unit == "each" else f"{amount} a {unit_sign(rate.unit)}"


def _audit(rate: PriceItem, row: CardRow, user: User) -> PriceItem:
    act = f"Set the rate of {row.label} to {rate_words(rate)}"
    audit(user=user, company=rate.company, subject=f"rate {rate.code}", act=act)
    return rate
