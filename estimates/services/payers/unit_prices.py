"""Unit prices of a payer: set and dropped, row by row; keyword-only, atomic, audited."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from estimates.domain.card.rows import CardRow
from estimates.models import PayerPrice
from estimates.readers.payers.unit_prices import unit_prices_of
from estimates.readers.rate_card import RateRows, rate_rows
from estimates.services.rate_card import RATE_FIELDS, is_other, rate_words, refuse_day
from jobs.domain.checks import BadValueError
from jobs.models import Client, User
from jobs.models.base import Values
from jobs.services.records import StaleError, audit, put_values, save_versioned, writes_once


def standing_price(payer: Client, row: CardRow, today: date) -> PayerPrice | None:
    """Return the unit price of one row that counts today, or will first."""
    return rate_rows(unit_prices_of(payer, row), today).get(row.key, RateRows()).counts


@writes_once(PayerPrice, "set unit price")
def save_unit_price(
    *,
    payer: Client,
    row: CardRow,
    user: User,
    key: str,
    seen: int | None,
    expected: int,
    values: Values,
    today: date,
) -> PayerPrice:
    """Return the unit price that stands after a row was saved; the one before it is kept.

    ``seen`` is the price that the person saw, None where the row had none.

    Raises:
        StaleError: another price counts by now, or somebody saved it.
        BadValueError: the day lies before that of the price in force, or has a price already.
    """
    counts = standing_price(payer, row, today)
    if counts is None:
        if seen is not None:
            raise BadValueError(field="amount", value="dropped meanwhile", accepted="a new price")
        return _audit(_new_price(payer, row, values), row, user)
    if (counts.pk, counts.version) != (seen, expected):
        raise StaleError(counts, (f"The price is now {rate_words(counts)}.",))
    waits = counts.effective_from > today
    if values["effective_from"] != counts.effective_from and (waits or is_other(counts, values)):
        refuse_day(counts, unit_prices_of(payer, row), values["effective_from"], today)
        save_versioned(counts, expected=expected, names=())
        return _audit(_new_price(payer, row, values), row, user)
    put_values(counts, {name: values[name] for name in RATE_FIELDS})
    return _audit(save_versioned(counts, expected=expected, names=RATE_FIELDS), row, user)


def _new_price(payer: Client, row: CardRow, values: Values) -> PayerPrice:
    fields = {name: values[name] for name in (*RATE_FIELDS, "effective_from")}
    return PayerPrice.objects.create(client=payer, code=row.code, item=row.item, **fields)


@transaction.atomic
def drop_unit_price(*, price: PayerPrice, row: CardRow, user: User) -> None:
    """Take a unit price away; the one before it counts again. Estimates keep what they had."""
    act = f"Dropped the unit price of {row.label}, {rate_words(price)}, of {price.client}"
    audit(user=user, company=price.company, subject=f"client {price.client_id}", act=act)
    price.delete()


def _audit(price: PayerPrice, row: CardRow, user: User) -> PayerPrice:
    act = f"Set the unit price of {row.label} to {rate_words(price)} for {price.client}"
    audit(user=user, company=price.company, subject=f"client {price.client_id}", act=act)
    return price
