"""Rows of the price book: which of them counts on a day, in words and as values of the domain."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import cast

from django.db.models import Case, Exists, IntegerField, OuterRef, Q, QuerySet, Value, When

from estimates.domain.book.groups import GROUPS, ORDER, is_loose
from estimates.domain.book.packs import PackPrice, Per
from estimates.domain.book.rows import BookRow
from estimates.models import PricedPer, PriceItem
from jobs.domain.figures import money, unit_sign
from jobs.models import Company

SEARCHED = ("label", "item", "supplier", "our_code", "code")


def materials_of(company: Company) -> QuerySet[PriceItem]:
    """Return every price of a material of the company, old ones and later ones too."""
    return PriceItem.objects.filter(company=company, kind="material")


def rows_that_count(company: Company, today: date) -> QuerySet[PriceItem]:
    """Return a row for each thing: the price in force today, else the first that will be."""
    same = materials_of(company).filter(code=OuterRef("code"), item=OuterRef("item"))
    newer = same.filter(effective_from__gt=OuterRef("effective_from"), effective_from__lte=today)
    earlier = same.filter(effective_from__lt=OuterRef("effective_from"))
    counts = Q(effective_from__lte=today) & ~Exists(newer)
    return materials_of(company).filter(counts | Q(effective_from__gt=today) & ~Exists(earlier))


def in_book_order(rows: QuerySet[PriceItem]) -> QuerySet[PriceItem]:
    """Return rows by group and material as the catalog has them, then by item."""
    places = [When(code=code, then=Value(place)) for code, place in ORDER.items()]
    place = Case(*places, default=Value(len(ORDER)), output_field=IntegerField())
    return rows.order_by(place, "item", "-effective_from")


def matching(rows: QuerySet[PriceItem], words: str, group: str) -> QuerySet[PriceItem]:
    """Return the rows of a group in which every word stands somewhere; empty ones: all."""
    if group in GROUPS:
        rows = rows.filter(code__in=GROUPS[group])
    for word in words.split():
        anywhere = Q()
        for name in SEARCHED:
            anywhere |= Q(**{f"{name}__icontains": word})
        rows = rows.filter(anywhere)
    return rows


def row_that_counts(row: PriceItem, today: date) -> PriceItem:
    """Return the price that counts today of the same thing."""
    rows = rows_that_count(row.company, today)
    return rows.select_related("company").get(code=row.code, item=row.item)


def history_of(row: PriceItem) -> QuerySet[PriceItem]:
    """Return every price of the same thing, the newest first."""
    return materials_of(row.company).filter(code=row.code, item=row.item)


def later_than(rows: Iterable[PriceItem], today: date) -> dict[tuple[str, str], PriceItem]:
    """Return the next price of each of these things that is not in force yet."""
    listed = list(rows)
    if not listed:
        return {}
    later = materials_of(listed[0].company).filter(
        effective_from__gt=today,
        code__in={row.code for row in listed},
        item__in={row.item for row in listed},
    )
    shown = {row.pk for row in listed}
    fetched = later.select_related("company")
    return {(row.code, row.item): row for row in fetched if row.pk not in shown}


def price_in(row: PriceItem) -> PackPrice:
    """Return what a row says of the price alone."""
    loose = is_loose(row.code)
    pack = row.pack or ("" if loose else row.unit)
    per = row.per if pack else PricedPer.MEASURE
    return PackPrice(
        code=row.code, amount=row.amount, per=cast(Per, str(per)), pack=pack, covers=row.covers
    )


def book_row(row: PriceItem) -> BookRow:
    """Return a row as a value."""
    price = price_in(row)
    return BookRow(
        code=row.code,
        item=row.item,
        label=row.label,
        pack=price.pack,
        covers=price.covers,
        amount=price.amount,
        per=price.per,
        effective_from=row.effective_from,
        last_seen=row.last_seen or row.effective_from,
        supplier=row.supplier,
        our_code=row.our_code,
        tax_class=row.tax_class,
        taxable=row.taxable,
        special_order=row.special_order,
        returnable=row.returnable,
    )


def price_words(row: PriceItem) -> str:
    """Return a price as it is said: $61.00 a carton."""
    price = price_in(row)
    amount = money(price.by_pack if price.per == "pack" else price.by_measure, row.company.currency)
    word = unit_sign(price.per_word)
    return f"{amount} each" if word == "each" else f"{amount} a {word}"
