"""A small scope and price book to price: figures chosen so that sums are done in the head."""

from decimal import Decimal
from typing import Any

from estimates.domain.price_book import SOLD, Price, PriceBook, PricingTerms
from estimates.domain.priced import Priced, PricedLine
from estimates.domain.terms.job_terms import TaxRates
from jobs.domain.documents import digest
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.scope import FrozenScope, ScopeZone
from jobs.domain.tasks import Task

TODAY = "2026-03-02"

Given = dict[str, Any]
"""Fields of a value by name, before a test's changes. Any: each field has a type of its own."""


def a_task(code: str, hours: str, **changes: object) -> Task:
    given: Given = {"label": code, "hours": Decimal(hours), "basis": "counted"}
    return Task(code=code, **given | changes)


def a_quantity(code: str, amount: int | str, **changes: str) -> Quantity:
    return quantity(code, Decimal(amount), "counted", **changes)


def a_scope(**changes: object) -> FrozenScope:
    """120 ft2, six cartons, two rolls of pad; twelve hours of laying, four of base."""
    given: Given = {
        "zones": (ScopeZone(name="up", rows=18, area_ft2=Decimal(120), plan_sha256=digest("up")),),
        "quantities": (
            a_quantity("floor_area", 120),
            a_quantity("base_on", 40),
            a_quantity("cartons", 6, item="plank"),
            a_quantity("pad", 2),
            a_quantity("planks", 54),
        ),
        "tasks": (
            a_task("lay", "12.00", zone="up", rows=(1, 18)),
            a_task("base", "4.00", zone="up"),
        ),
    }
    return FrozenScope(**given | changes)


def a_material(code: str, amount: str, **changes: object) -> Price:
    return _price(code, amount, "material", **changes)


def an_adder(code: str, amount: str, **changes: object) -> Price:
    return _price(code, amount, "adder", **{"taxable": False} | changes)


def _price(code: str, amount: str, kind: str, **changes: object) -> Price:
    given: Given = {
        "label": SOLD[code].label,
        "unit": SOLD[code].unit,
        "effective": "2026-01-01",
        "taxable": True,
    }
    return Price(code=code, amount=Decimal(amount), kind=kind, **given | changes)  # type: ignore[arg-type]


def a_book(*prices: Price) -> PriceBook:
    """Cartons at 60, pad at 45, an hour at 50: 450 of material and 800 of labor."""
    listed = prices or (a_material("cartons", "60"), a_material("pad", "45"))
    return PriceBook(prices=listed, burdened_rate=Decimal(50))


def terms(**changes: object) -> PricingTerms:
    given: Given = {"as_of": TODAY} | changes
    if "tax_rate" in given:
        given["tax_rates"] = TaxRates(state=given.pop("tax_rate"))
    return PricingTerms(**given)


def the_line(result: Priced, code: str) -> PricedLine:
    return next(line for line in result.lines if line.code == code)
