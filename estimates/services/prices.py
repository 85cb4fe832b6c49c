"""Prices of materials: set, changed row by row, looked up anew; keyword-only, atomic, audited."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import F
from django.utils import timezone

from estimates.domain.book.groups import is_loose
from estimates.domain.book.packs import Per
from estimates.models import PricedPer, PriceItem
from estimates.readers.price_rows import (
    history_of,
    materials_of,
    price_in,
    price_words,
    row_that_counts,
    rows_that_count,
)
from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG
from jobs.models import Company, User
from jobs.models.base import Values
from jobs.services.records import StaleError, audit, put_values, save_versioned, writes_once

PRICE_FIELDS = (
    *("code", "item", "label", "unit", "kind", "pack", "covers", "amount", "per", "taxable"),
    *("tax_class", "effective_from", "last_seen", "supplier", "our_code", "special_order"),
    "returnable",
)
FIGURES = ("amount", "per", "pack", "covers", "taxable", "tax_class")
"""What makes a price: changed, it is another price, and the old one stays in the book."""

DETAILS = ("label", "supplier", "our_code", "special_order", "returnable")


@writes_once(PriceItem, "set price")
def set_price(*, company: Company, user: User, key: str, values: Values) -> PriceItem:
    """Return the price in force from its date on; the same date again corrects it."""
    named = {name: values[name] for name in ("kind", "code", "item", "effective_from")}
    fields = {name: values[name] for name in PRICE_FIELDS if name in values and name not in named}
    if values["kind"] == "material" and "per" not in values:
        loose = is_loose(values["code"])
        fields |= {"pack": "" if loose else values["unit"], "per": _usual_per(values["code"])}
    price, new = PriceItem.objects.update_or_create(company=company, **named, defaults=fields)
    if not new:
        PriceItem.objects.filter(pk=price.pk).update(version=F("version") + 1)
    _audit(price, user)
    return price


@writes_once(PriceItem, "save price")
def save_row(
    *, row: PriceItem, user: User, key: str, expected: int, values: Values, today: date
) -> PriceItem:
    """Return the price that stands after a row was saved: looked up today, changed where it was.

    Other figures from a later day on are a price of their own, and ``row`` stays as it is.

    Raises:
        StaleError: another price counts by now, or somebody saved ``row``.
        BadValueError: the day lies before that of ``row``, or another price stands from it.
    """
    counts = row_that_counts(row, today)
    if (counts.pk, counts.version) != (row.pk, expected):
        raise StaleError(counts, _differences(row, values, counts))
    if _is_changed(row, values):
        day = values["effective_from"]
        if day != row.effective_from:
            _refuse_day(row, day)
            _claim(row, expected)
            return _audit(_newer(row, values, today), user)
    put_values(row, {name: values[name] for name in (*FIGURES, *DETAILS)} | {"last_seen": today})
    saved = save_versioned(row, expected=expected, names=(*FIGURES, *DETAILS, "last_seen"))
    return _audit(saved, user)


def _is_changed(row: PriceItem, values: Values) -> bool:
    """Whether these values make another price than ``row`` is."""
    yours = PriceItem(code=row.code, unit=row.unit)
    put_values(yours, {name: values[name] for name in FIGURES})
    taxed = (yours.taxable, yours.tax_class) != (row.taxable, row.tax_class)
    return taxed or price_in(yours) != price_in(row)


def _refuse_day(row: PriceItem, day: date) -> None:
    """Raise BadValueError where a changed price can't be in force from ``day`` on."""
    if day < row.effective_from:
        accepted = f"{row.effective_from} or later, the day from which the price in force counts"
        raise BadValueError(field="effective_from", value=str(day), accepted=accepted)
    there = history_of(row).filter(effective_from=day).first()
    if there is not None:
        accepted = f"another day: from this one on it is {price_words(there)} already"
        raise BadValueError(field="effective_from", value=str(day), accepted=accepted)


def _claim(row: PriceItem, expected: int) -> None:
    """Raise the version of ``row``, so that only one of two who change its price is the first."""
    rows = PriceItem.objects.filter(pk=row.pk, version=expected)
    if not rows.update(version=F("version") + 1, changed_at=timezone.now()):
        raise StaleError(PriceItem.objects.get(pk=row.pk), ())


def _newer(row: PriceItem, values: Values, today: date) -> PriceItem:
    named = {"company": row.company, "code": row.code, "item": row.item, "unit": row.unit}
    fields = {name: values[name] for name in (*FIGURES, *DETAILS, "effective_from")}
    return PriceItem.objects.create(kind="material", last_seen=today, **named, **fields)


def _differences(row: PriceItem, values: Values, counts: PriceItem) -> tuple[str, ...]:
    """Return what stands now that differs from what somebody saw or typed."""
    yours = PriceItem(company=row.company, code=row.code, unit=row.unit)
    put_values(yours, {name: values[name] for name in (*FIGURES, *DETAILS)})
    lines = []
    if price_words(counts) != price_words(yours):
        since = f"from {counts.effective_from:%b} {counts.effective_from.day}"
        lines.append(f"Price is now {price_words(counts)} {since}; you have {price_words(yours)}.")
    for name in ("covers", "taxable", "tax_class", *DETAILS):
        now, typed = getattr(counts, name), getattr(yours, name)
        if now != typed:
            field = PriceItem._meta.get_field(name)  # noqa: SLF001  public by the documentation
            label = str(getattr(field, "verbose_name", name))
            lines.append(f"{label.capitalize()} is now {_said(now)}; you have {_said(typed)}.")
    return tuple(lines)


def _said(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return f"“{value}”" if value else "empty"


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceAnswer:
    """What somebody says of a price: `row` and its `version` as they saw it; None: none stood."""

    code: str
    item: str
    amount: Decimal
    per: Per
    covers: Decimal | None = None
    row: int | None = None
    version: int = 0


@writes_once(Company, "answer prices")
def answer_prices(
    *, company: Company, user: User, key: str, answers: Iterable[PriceAnswer], today: date
) -> Company:
    """Return the company once all answers are in its book: a new price each, or one seen today.

    Raises:
        StaleError: a price that was looked up was saved by somebody else meanwhile.
    """
    for answer in answers:
        if answer.row is None:
            _add(company, answer, user, today)
        else:
            _look_up(company, answer, user, today)
    return company


def _add(company: Company, answer: PriceAnswer, user: User, today: date) -> None:
    named = {"code": answer.code, "item": answer.item}
    stands = materials_of(company).filter(effective_from__lte=today, **named).first()
    if stands is not None:
        raise StaleError(stands, (f"{_thing(stands)} is now {price_words(stands)}.",))
    values = _new_values(answer, today)
    price = PriceItem.objects.create(company=company, effective_from=today, **named, **values)
    _audit(price, user)


def _look_up(company: Company, answer: PriceAnswer, user: User, today: date) -> None:
    row = (
        rows_that_count(company, today)
        .select_related("company")
        .filter(code=answer.code, item=answer.item)
        .first()
    )
    if row is None:
        raise BadValueError(field="price", value="gone", accepted="a price that stands")
    kept = {name: getattr(row, name) for name in (*FIGURES, *DETAILS)}
    figures = {"amount": answer.amount, "per": answer.per, "covers": answer.covers}
    values: Values = kept | figures | {"effective_from": today}
    if (row.pk, row.version) != (answer.row, answer.version):
        raise StaleError(row, _differences(row, values, row))
    if _is_changed(row, values) and row.effective_from != today:
        _claim(row, answer.version)
        row = _newer(row, values, today)
    else:
        put_values(row, {**figures, "last_seen": today})
        save_versioned(row, expected=answer.version, names=(*FIGURES, "last_seen"))
    _audit(row, user)


def _new_values(answer: PriceAnswer, today: date) -> dict[str, object]:
    entry = CATALOG[answer.code]
    return {
        "label": entry.label,
        "unit": entry.unit,
        "kind": "material",
        "pack": "" if is_loose(answer.code) else entry.unit,
        "per": answer.per,
        "amount": answer.amount,
        "covers": answer.covers,
        "last_seen": today,
    }


def _usual_per(code: str) -> str:
    return PricedPer.MEASURE if is_loose(code) else PricedPer.PACK


def _audit(price: PriceItem, user: User) -> PriceItem:
    """Return ``price`` once a line says who priced it."""
    act = f"Priced {_thing(price)} at {price_words(price)}"
    audit(user=user, company=price.company, subject=f"price {price.code}", act=act)
    return price


def _thing(price: PriceItem) -> str:
    return f"{price.label}, {price.item}" if price.item else price.label
