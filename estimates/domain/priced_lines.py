"""The lines of a price by what they cost, and the tax that the installer bears on them."""

from collections.abc import Iterable
from decimal import Decimal

from estimates.domain.money import cents, sales_tax
from estimates.domain.price_book import NEVER_CLIENTS, Allowance, PriceBook, PricingTerms
from estimates.domain.priced import LABOR, PricedLine, PriceFault
from jobs.domain.checks import ONE, ZERO
from jobs.domain.quantities import Quantity, in_units
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import Task

BY_CLIENT = "done by the client"


def material_lines(
    scope: FrozenScope, book: PriceBook, terms: PricingTerms
) -> tuple[list[PricedLine], list[PriceFault]]:
    """Return the lines of all material that has a price, and a fault for each that has none."""
    lines: list[PricedLine] = []
    faults: list[PriceFault] = []
    for entry in scope.quantities:
        if entry.kind != "material" or not entry.amount:
            continue
        if terms.buys(entry.code, entry.item):
            basis = _supplied_words(entry, terms)
            lines.append(quantity_line(entry, ZERO, basis, taxable=False))
            continue
        price = book.find("material", entry.code, entry.item, terms.as_of)
        if price is None:
            text = f"{entry.where}: no price per {entry.unit} on {terms.as_of}"
            faults.append(PriceFault(code=entry.code, text=text))
            continue
        lines.append(quantity_line(entry, price.amount, entry.basis, taxable=price.taxable))
    return lines, faults


def _supplied_words(entry: Quantity, terms: PricingTerms) -> str:
    """Who supplies a material, in words."""
    if entry.code in NEVER_CLIENTS:
        return BY_CLIENT
    if by := terms.supplier(entry.code, entry.item):
        return f"supplied by {by}"
    return "client's material" if terms.labor_only else "supplied by the client"


def quantity_line(entry: Quantity, unit_cost: Decimal, basis: str, *, taxable: bool) -> PricedLine:
    """Return the line of a quantity at what a unit of it costs, nothing charged for it yet."""
    return PricedLine(
        code=entry.code,
        label=entry.label,
        kind="material",
        quantity=entry.amount,
        unit=entry.unit,
        unit_cost=unit_cost,
        cost=cents(entry.amount * unit_cost),
        amount=ZERO,
        taxable=taxable,
        basis=basis,
        zone=entry.zone,
        room=entry.room,
        item=entry.item,
    )


def labor_line(task: Task, book: PriceBook, terms: PricingTerms) -> PricedLine:
    """Return the line of a task at the burdened rate; at nothing where the client does it."""
    left_out = task.code in terms.not_ours
    rate = ZERO if left_out else book.burdened_rate
    return PricedLine(
        code=task.code,
        label=task.label,
        kind=LABOR,
        quantity=task.hours,
        unit="h",
        unit_cost=rate,
        cost=cents(task.hours * rate),
        amount=ZERO,
        basis=BY_CLIENT if left_out else task.basis,
        zone=task.zone,
    )


def allowance_line(entry: Allowance) -> PricedLine:
    """Return the line of an allowance, charged at its own price; its basis keeps the evidence."""
    cap = f"up to {in_units(entry.units, entry.unit)}; more by change order"
    return PricedLine(
        code=entry.code,
        label=entry.label,
        kind="allowance",
        quantity=entry.units,
        unit=entry.unit,
        unit_cost=entry.unit_cost,
        cost=cents(entry.units * entry.unit_cost),
        unit_price=entry.unit_price,
        amount=cents(entry.units * entry.unit_price),
        taxable=entry.taxable,
        basis=f"{cap}. {entry.evidence}" if entry.evidence else cap,
    )


def taxed_cost(line: PricedLine, terms: PricingTerms) -> Decimal:
    """Return the cost of a line with the tax that the installer pays on it, not rounded."""
    if terms.tax_mode == "consumer" and line.taxable:
        return line.cost * (ONE + terms.tax_rate)
    return line.cost


def use_tax_on(lines: Iterable[PricedLine], terms: PricingTerms) -> Decimal:
    """Return the tax in cents that the installer pays on the material of these lines."""
    if terms.tax_mode != "consumer":
        return ZERO
    bought = [line.cost for line in lines if line.kind in ("material", "added") and line.taxable]
    return sales_tax(bought, terms.tax_rate, terms.tax_basis)
