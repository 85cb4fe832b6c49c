"""What stands on a price beyond the scope: added lines, the minimum, a discount, rounding, tax.

They follow each other in that order: the minimum counts what was added, a discount is taken off
the price with its minimum, rounding comes last, and sales tax is reckoned on what is left.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from estimates.domain.money import cents, price_at_margin, round_to, sales_tax, spread
from estimates.domain.price_book import PricingTerms
from estimates.domain.priced import LABOR, LineKind, PricedLine, PriceFault, amounts_of
from estimates.domain.priced_lines import taxed_cost
from jobs.domain.checks import ONE, ZERO
from jobs.domain.figures import percent

LABOR_KINDS: tuple[LineKind, ...] = (LABOR, "adder", "minimum")
"""What is labor by the tax law, unless the line itself says that it sells material."""


def added_lines(terms: PricingTerms) -> list[PricedLine]:
    """Return the lines that were added to the job, each at its price or at the margin."""
    lines = []
    for number, entry in enumerate(terms.added, start=1):
        line = PricedLine(
            code=f"added-{number}",
            label=entry.label,
            kind="added",
            quantity=entry.quantity,
            unit=entry.unit,
            unit_cost=entry.unit_cost,
            cost=cents(entry.quantity * entry.unit_cost),
            unit_price=entry.unit_price,
            amount=ZERO,
            taxable=entry.taxable,
            basis="added by hand" if entry.unit_price is not None else "added by hand, at margin",
        )
        lines.append(_charged(line, terms))
    return lines


def _charged(line: PricedLine, terms: PricingTerms) -> PricedLine:
    if line.unit_price is not None:
        return replace(line, amount=cents(line.quantity * line.unit_price))
    cost = taxed_cost(line, terms) * (ONE + terms.overhead)
    return replace(line, amount=price_at_margin(cost, terms.margin))


def with_minimum(lines: Sequence[PricedLine], terms: PricingTerms) -> list[PricedLine]:
    """Return the lines, and one more where they fall short of the minimum charge."""
    lacking = terms.minimum - amounts_of(lines)
    if lacking <= 0:
        return list(lines)
    basis = f"the least we come out for is {terms.minimum}"
    made_up = _job_line("minimum", "Minimum charge, made up", cents(lacking), basis)
    return [*lines, made_up]


def adjusted(
    lines: Sequence[PricedLine], terms: PricingTerms
) -> tuple[tuple[PricedLine, ...], list[PriceFault]]:
    """Return the lines with discount and rounding, and a fault for a discount beyond the price."""
    after, faults = list(lines), []
    if terms.discount is not None:
        price = amounts_of(lines)
        off = terms.discount.amount or cents(price * terms.discount.part)
        if off > price:
            text = f"Discount: {off} is more than the price of {price}"
            faults.append(PriceFault(code="discount", text=text))
            off = price
        part = f", {percent(terms.discount.part, 2)}" if terms.discount.part else ""
        after.append(_job_line("discount", f"Discount{part}", -off, terms.discount.reason))
    if terms.round_to:
        price = amounts_of(after)
        change = round_to(price, terms.round_to) - price
        if change:
            basis = f"to the nearest {terms.round_to}, before sales tax"
            after.append(_job_line("rounding", "Rounding", change, basis))
    return tuple(after), faults


def _job_line(kind: LineKind, label: str, amount: Decimal, basis: str) -> PricedLine:
    return PricedLine(
        code=kind,
        label=label,
        kind=kind,
        quantity=ONE,
        unit="job",
        cost=ZERO,
        unit_price=amount,
        amount=amount,
        basis=basis,
    )


def billed_tax(lines: Iterable[PricedLine], terms: PricingTerms) -> Decimal:
    """Return the sales tax on the bill: on what is taxed, less its share of the discount."""
    priced = list(lines)
    charged = [line for line in priced if line.kind not in ("discount", "rounding")]
    left = spread(amounts_of(priced), [line.amount for line in charged])
    sold = [part for part, line in zip(left, charged, strict=True) if _is_taxed(line, terms)]
    return sales_tax(sold, terms.tax_rate, terms.tax_basis)


def _is_taxed(line: PricedLine, terms: PricingTerms) -> bool:
    """Whether the client pays sales tax on a line."""
    if terms.tax_mode in ("none", "exempt"):
        return False
    if terms.tax_mode == "all":
        return True
    if line.kind in LABOR_KINDS and not line.taxable:
        return terms.labor_taxed
    return terms.tax_mode == "seller" and line.taxable
