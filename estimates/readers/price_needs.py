"""Prices that are missing or old, of a job and of the whole book, with the rows they stand in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Exists, OuterRef
from django.db.models.functions import Coalesce

from estimates.domain.book.groups import GROUP_OF
from estimates.domain.book.needs import Need, needs_of, oldest_good
from estimates.models import PriceItem
from estimates.readers.price_rows import in_book_order, materials_of, rows_that_count
from estimates.readers.prices import book_and_terms
from jobs.domain.lengths import MM2_PER_FT2
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Company, Job, Product

MOST_LISTED = 30
_MM2_PER_FT2 = Decimal(MM2_PER_FT2.numerator) / MM2_PER_FT2.denominator
_HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, kw_only=True, slots=True)
class NeededPrice:
    """A thing to be priced: the old row that stands, None where none is; what a pack covers."""

    code: str
    item: str
    row: PriceItem | None = None
    covers: Decimal | None = None

    @property
    def label(self) -> str:
        """What it is in words."""
        return Need(code=self.code, item=self.item).label


def needs_of_job(job: Job, scope: FrozenScope, today: date) -> list[NeededPrice]:
    """Return what the scope of ``job`` takes that has no price, or one too old."""
    needs = needs_of(scope, *book_and_terms(job, today))
    return needed_prices(job.company, [(need.code, need.item) for need in needs], today)


def needs_of_book(company: Company, today: date) -> tuple[list[NeededPrice], int]:
    """Return the first missing and old prices of the whole book, and how many there are."""
    missing = _missing_in(company, today)
    seen = rows_that_count(company, today).annotate(seen=Coalesce("last_seen", "effective_from"))
    old = in_book_order(seen.filter(seen__lt=oldest_good(today)))
    rows = list(old.select_related("company")[:MOST_LISTED])
    stale = [NeededPrice(code=row.code, item=row.item, row=row) for row in rows]
    listed = [*needed_prices(company, missing[:MOST_LISTED], today), *stale]
    return listed[:MOST_LISTED], len(missing) + old.count()


def needed_prices(
    company: Company, things: Sequence[tuple[str, str]], today: date
) -> list[NeededPrice]:
    """Return things by code and item with the price that stands today and what a carton covers."""
    if not things:
        return []
    rows = rows_that_count(company, today).filter(
        code__in={code for code, _ in things},
        item__in={item for _, item in things},
        effective_from__lte=today,
    )
    by_thing = {(row.code, row.item): row for row in rows.select_related("company")}
    covers = _carton_covers(company, [item for code, item in things if code == "cartons"])
    return [
        NeededPrice(code=code, item=item, row=by_thing.get((code, item)), covers=covers.get(item))
        for code, item in things
    ]


def _missing_in(company: Company, today: date) -> list[tuple[str, str]]:
    """Return the products without a price of their own or any, and the materials without any."""
    priced = materials_of(company).filter(effective_from__lte=today)
    codes = set(priced.values_list("code", flat=True).order_by().distinct())
    missing = [(code, "") for code in GROUP_OF if code not in codes and code != "cartons"]
    cartons = priced.filter(code="cartons")
    if cartons.filter(item="").exists():
        return missing
    unpriced = Product.objects.filter(company=company)
    unpriced = unpriced.exclude(Exists(cartons.filter(item=OuterRef("name"))))
    return [*(("cartons", name) for name in unpriced.values_list("name", flat=True)), *missing]


def _carton_covers(company: Company, names: Iterable[str]) -> dict[str, Decimal]:
    """Return what a carton of each of these products covers by its planks, in ft2."""
    wanted = set(names) - {""}
    products = Product.objects.filter(company=company, name__in=wanted) if wanted else ()
    covers = {}
    for product in products:
        across = sum((width * count for width, count in product.sizes), Decimal(0))
        covers[product.name] = (product.length_mm * across / _MM2_PER_FT2).quantize(_HUNDREDTH)
    return covers
