"""What a ballpark is reckoned from: products with a price a square foot, the prices in force."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.ballpark.beside import beside_ballpark
from estimates.domain.ballpark.counts import RoughFloor
from estimates.domain.ballpark.price import BallparkRange, ballpark_range
from estimates.domain.money import price_of_measure
from estimates.domain.priced import Priced
from estimates.models import Ballpark
from estimates.readers.price_rows import price_in, rows_that_count
from estimates.readers.prices import company_book_and_terms
from jobs.domain.lengths import MM2_PER_FT2
from jobs.models import Company, Job, Product
from jobs.readers.scope import company_rates

MOST_LISTED = 60
"""More planks than anybody looks through at the phone; a price may be typed instead."""
_MM2_PER_FT2 = Decimal(MM2_PER_FT2.numerator) / MM2_PER_FT2.denominator


def ballpark_now(company: Company, floor: RoughFloor, today: date) -> BallparkRange:
    """Return the range for a floor by what is in force on a day."""
    book, terms = company_book_and_terms(company, today)
    rates = company_rates(company)
    return ballpark_range(floor, book, terms, rates, Decimal(company.trip_hours))


def planks_priced(company: Company, today: date) -> dict[str, Decimal]:
    """Return the company's products that have a price of their own, by the square foot."""
    rows = rows_that_count(company, today).filter(code="cartons", effective_from__lte=today)
    names = rows.exclude(item="").values("item")
    products = list(Product.objects.filter(company=company, name__in=names)[:MOST_LISTED])
    priced = {row.item: row for row in rows.filter(item__in=[one.name for one in products])}
    by_foot = {}
    for product in products:
        price = price_in(priced[product.name])
        covers = _covers(product)
        if price.by_measure is not None:
            by_foot[product.name] = price.by_measure
        elif price.by_pack is not None and covers:
            by_foot[product.name] = price_of_measure(price.by_pack, covers)
    return by_foot


def _covers(product: Product) -> Decimal:
    """Return the square feet that a carton of a product covers, by its planks."""
    across = sum((width * count for width, count in product.sizes), Decimal(0))
    covers: Decimal = product.length_mm * across / _MM2_PER_FT2
    return covers


def ballpark_words(job: Job, priced: Priced) -> str:
    """Return how the ballpark that a job was begun from stands beside its price; empty: none."""
    row = Ballpark.objects.filter(job=job).first()
    if row is None:
        return ""
    return beside_ballpark(row.least, row.most, priced.subtotal, job.company.currency)
