"""Pricing: a scope, a price book and terms in, a priced scope out.

Margin is on the price, not on the cost: price = cost / (1 - margin). Whatever has no price is a
fault that names it, never nought. Money is rounded by `estimates.domain.money` and nowhere else.
"""

from dataclasses import replace

from estimates.domain.card.adders import (
    adder_lines,
    beside_adders,
    rate_checks,
    unpaid_work,
    with_half_day,
)
from estimates.domain.money import (
    cents,
    margin_of,
    per_crew_day,
    price_at_margin,
    spread,
)
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.priced import (
    LABOR,
    Priced,
    PricedLine,
    PriceFault,
    RateCheck,
    amounts_of,
    costs_of,
)
from estimates.domain.priced_lines import (
    allowance_line,
    labor_line,
    material_lines,
    taxed_cost,
    use_tax_on,
)
from estimates.domain.terms.adjustments import added_lines, adjusted, billed_tax, with_minimum
from estimates.domain.terms.basis import basis_of
from estimates.domain.terms.booked import days_of_scope, per_day
from jobs.domain.checks import ZERO
from jobs.domain.documents import digest
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.scope.scope import FrozenScope, scope_text


def price_scope(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> Priced:
    """Return the priced scope: lines, cost, overhead, margin, tax, total, contribution, faults."""
    terms = with_half_day(terms, book)
    materials, faults = material_lines(scope, book, terms)
    faults += [PriceFault(code="work_split", text=words) for words in terms.barred]
    labor = [labor_line(task, book, terms) for task in scope.tasks if task.hours]
    beside = [*(allowance_line(entry) for entry in terms.allowances), *added_lines(terms)]
    direct = [*materials, *labor]
    if terms.method == "cost":
        lines = [*_at_margin(direct, terms), *beside]
    else:
        charged = adder_lines(scope, book, terms)
        faults += unpaid_work(scope, book, terms)
        lines = [*beside_adders(direct, charged, book, terms), *charged, *beside]
    checks = rate_checks(scope, direct, book, terms)
    whole, beyond = adjusted(with_minimum(lines, terms), terms)
    return _summed(scope, book, terms, whole, checks, [*faults, *beyond])


def _at_margin(direct: list[PricedLine], terms: PricingTerms) -> list[PricedLine]:
    """The lines with their shares of a price that leaves the margin above cost and overhead."""
    cost = costs_of(direct) + use_tax_on(direct, terms)
    price = price_at_margin(cost + cents(cost * terms.overhead), terms.margin)
    shares = spread(price, [taxed_cost(line, terms) for line in direct])
    return [replace(line, amount=part) for line, part in zip(direct, shares, strict=True)]


def _summed(
    scope: FrozenScope,
    book: PriceBook,
    terms: PricingTerms,
    lines: tuple[PricedLine, ...],
    checks: tuple[RateCheck, ...],
    faults: list[PriceFault],
) -> Priced:
    use_tax = use_tax_on(lines, terms)
    direct = costs_of(lines) + use_tax
    overhead = cents(direct * terms.overhead)
    subtotal = amounts_of(lines)
    tax = billed_tax(lines, terms)
    tasks = [task for task in scope.tasks if task.code not in terms.not_ours]
    hours = sum((task.hours for task in tasks), ZERO)
    days = days_of_scope(scope, terms.crew_hours_per_day, terms.not_ours)
    contribution = subtotal - direct
    return Priced(
        scope_sha256=digest(scope_text(scope)),
        currency=book.currency,
        method=terms.method,
        as_of=terms.as_of,
        lines=lines,
        material_cost=costs_of(lines, "material"),
        use_tax=use_tax,
        labor_cost=costs_of(lines, LABOR),
        allowance_cost=costs_of(lines, "allowance"),
        direct_cost=direct,
        overhead=overhead,
        cost=direct + overhead,
        subtotal=subtotal,
        profit=subtotal - direct - overhead,
        margin=margin_of(subtotal, direct + overhead),
        tax_mode=terms.tax_mode,
        tax=tax,
        total=subtotal + tax,
        hours=hours,
        crew_days=to_hundredths(hours / terms.crew_hours_per_day),
        contribution=contribution,
        contribution_per_crew_day=per_crew_day(contribution, hours, terms.crew_hours_per_day),
        rate_checks=checks,
        faults=tuple(faults),
        added_cost=costs_of(lines, "added"),
        days_on_site=days,
        contribution_per_day=per_day(contribution, days),
        basis=basis_of(scope, book, terms),
        payer=terms.payer,
    )
