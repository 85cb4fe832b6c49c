"""Pricing: a scope, a price book and terms in, a priced scope out.

Margin is on the price, not on the cost: price = cost / (1 - margin). Whatever has no price is a
fault that names it, never nought. Money is rounded by the sums of `estimates.domain.money`, which
this module hands on, and nowhere else.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from estimates.domain.money import (
    carton_price,
    cents,
    margin_from_markup,
    margin_of,
    markup_from_margin,
    markup_of,
    price_at_margin,
    sales_tax,
    spread,
)
from estimates.domain.price_book import (
    Allowance,
    Price,
    PriceBook,
    Priced,
    PricedLine,
    PriceFault,
    RateCheck,
    Terms,
    amounts_of,
    costs_of,
)
from jobs.domain.checks import ONE, ZERO
from jobs.domain.documents import digest
from jobs.domain.quantities import Quantity, in_units
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.scope.scope import FrozenScope, scope_text
from jobs.domain.tasks import Task

__all__ = [
    "Allowance",
    "Price",
    "PriceBook",
    "PriceFault",
    "Priced",
    "PricedLine",
    "RateCheck",
    "Terms",
    "carton_price",
    "cents",
    "margin_from_markup",
    "margin_of",
    "markup_from_margin",
    "markup_of",
    "price_at_margin",
    "price_scope",
    "sales_tax",
    "spread",
]


def price_scope(scope: FrozenScope, book: PriceBook, terms: Terms) -> Priced:
    """Return the priced scope: lines, cost, overhead, margin, tax, total, contribution, faults."""
    faults: list[PriceFault] = []
    materials = _material_lines(scope, book, terms, faults)
    labour = [_labour_line(task, book, terms) for task in scope.tasks if task.hours]
    allowances = [_allowance_line(entry) for entry in terms.allowances]
    direct = [*materials, *labour]
    if terms.method == "cost":
        lines = [*_at_margin(direct, terms), *allowances]
    else:
        charged = _adder_lines(scope, book, terms)
        faults += _uncovered(scope, book, terms)
        lines = [*_beside_adders(direct, charged, book, terms), *charged, *allowances]
    checks = _rate_checks(scope, direct, book, terms)
    return _summed(scope, book, terms, _with_minimum(lines, terms), checks, faults)


def _material_lines(
    scope: FrozenScope, book: PriceBook, terms: Terms, faults: list[PriceFault]
) -> list[PricedLine]:
    lines: list[PricedLine] = []
    for entry in scope.quantities:
        if entry.kind != "material" or not entry.amount:
            continue
        if entry.code in terms.supplied:
            lines.append(_line(entry, ZERO, "supplied by the client", taxable=False))
            continue
        price = book.find("material", entry.code, entry.item, terms.as_of)
        if price is None:
            text = f"{entry.where}: no price per {entry.unit} on {terms.as_of}"
            faults.append(PriceFault(code=entry.code, text=text))
            continue
        lines.append(_line(entry, price.amount, entry.basis, taxable=price.taxable))
    return lines


def _line(entry: Quantity, unit_cost: Decimal, basis: str, *, taxable: bool) -> PricedLine:
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


def _labour_line(task: Task, book: PriceBook, terms: Terms) -> PricedLine:
    left_out = task.code in terms.left_out
    rate = ZERO if left_out else book.burdened_rate
    return PricedLine(
        code=task.code,
        label=task.label,
        kind="labour",
        quantity=task.hours,
        unit="h",
        unit_cost=rate,
        cost=cents(task.hours * rate),
        amount=ZERO,
        basis="done by the client" if left_out else task.basis,
        zone=task.zone,
    )


def _allowance_line(entry: Allowance) -> PricedLine:
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
        basis=f"up to {in_units(entry.units, entry.unit)}; more by change order",
    )


def _taxed_cost(line: PricedLine, terms: Terms) -> Decimal:
    """Cost of a line with the tax that the installer pays on it, not rounded."""
    if terms.tax_mode == "consumer" and line.taxable:
        return line.cost * (ONE + terms.tax_rate)
    return line.cost


def _use_tax(lines: Iterable[PricedLine], terms: Terms) -> Decimal:
    if terms.tax_mode != "consumer":
        return ZERO
    bought = [line.cost for line in lines if line.kind == "material" and line.taxable]
    return sales_tax(bought, terms.tax_rate, terms.tax_basis)


def _at_margin(direct: list[PricedLine], terms: Terms) -> list[PricedLine]:
    """The lines with their shares of a price that leaves the margin above cost and overhead."""
    cost = costs_of(direct) + _use_tax(direct, terms)
    price = price_at_margin(cost + cents(cost * terms.overhead), terms.margin)
    shares = spread(price, [_taxed_cost(line, terms) for line in direct])
    return [replace(line, amount=part) for line, part in zip(direct, shares, strict=True)]


def _adder_lines(scope: FrozenScope, book: PriceBook, terms: Terms) -> list[PricedLine]:
    lines: list[PricedLine] = []
    for entry in scope.quantities:
        price = _adder_for(entry, book, terms)
        if price is None:
            continue
        lines.append(
            replace(
                _line(entry, ZERO, entry.basis, taxable=price.taxable),
                label=price.label,
                kind="adder",
                unit_price=price.amount,
                amount=cents(entry.amount * price.amount),
            )
        )
    return lines


def _adder_for(entry: Quantity, book: PriceBook, terms: Terms) -> Price | None:
    """The adder that charges a quantity; none where the client does all the work it pays for."""
    price = book.find("adder", entry.code, entry.item, terms.as_of)
    if price is None or not entry.amount or entry.kind == "fact":
        return None
    paid_for = {*price.tasks_paid, *price.materials_paid}
    by_client = {*terms.left_out, *terms.supplied}
    return None if paid_for and paid_for <= by_client else price


def _beside_adders(
    direct: list[PricedLine], charged: list[PricedLine], book: PriceBook, terms: Terms
) -> list[PricedLine]:
    """The cost lines, charged only for material that no adder pays for, at the margin."""
    paid = _covered(charged, book, terms)[1]
    return [
        replace(line, amount=_alone(line, terms))
        if line.kind == "material" and line.code not in paid
        else line
        for line in direct
    ]


def _alone(line: PricedLine, terms: Terms) -> Decimal:
    cost = _taxed_cost(line, terms) * (ONE + terms.overhead)
    return price_at_margin(cost, terms.margin)


def _covered(
    charged: Iterable[PricedLine], book: PriceBook, terms: Terms
) -> tuple[set[str], set[str]]:
    """The task codes and the material codes that the charged adders pay for."""
    tasks: set[str] = set()
    materials: set[str] = set()
    for line in charged:
        price = book.find("adder", line.code, line.item, terms.as_of)
        if price is not None:
            tasks.update(price.tasks_paid)
            materials.update(price.materials_paid)
    return tasks, materials


def _uncovered(scope: FrozenScope, book: PriceBook, terms: Terms) -> list[PriceFault]:
    tasks, _ = _covered(_adder_lines(scope, book, terms), book, terms)
    loose = {
        task.code: task.label
        for task in scope.tasks
        if task.hours and task.code not in tasks and task.code not in terms.left_out
    }
    return [
        PriceFault(code=code, text=f"{label}: no rate in force on {terms.as_of} pays for it")
        for code, label in loose.items()
    ]


def _rate_checks(
    scope: FrozenScope, direct: list[PricedLine], book: PriceBook, terms: Terms
) -> tuple[RateCheck, ...]:
    """Each adder's charge, all zones together, against the cost of what it pays for.

    What several adders pay for is shared among them by what they charge.
    """
    charged = _adder_lines(scope, book, terms)
    charges = dict.fromkeys((line.code for line in charged), ZERO)
    for line in charged:
        charges[line.code] += line.amount
    pays = {
        code: _covered([line for line in charged if line.code == code], book, terms)
        for code in charges
    }
    costs = dict.fromkeys(charges, ZERO)
    for line in direct:
        payers = [code for code in charges if line.code in pays[code][line.kind != "labour"]]
        whole = sum((charges[code] for code in payers), ZERO)
        for code in payers:
            part = charges[code] / whole if whole else ONE / len(payers)
            costs[code] += _taxed_cost(line, terms) * part
    labels = {line.code: line.label for line in charged}
    return tuple(
        RateCheck(
            code=code,
            label=labels[code],
            charge=charges[code],
            cost=cents(costs[code] * (ONE + terms.overhead)),
        )
        for code in charges
    )


def _with_minimum(lines: list[PricedLine], terms: Terms) -> tuple[PricedLine, ...]:
    lacking = terms.minimum - amounts_of(lines)
    if lacking <= 0:
        return tuple(lines)
    basis = f"the least we come out for is {terms.minimum}"
    made_up = PricedLine(
        code="minimum",
        label="Minimum charge, made up",
        kind="minimum",
        quantity=ONE,
        unit="job",
        cost=ZERO,
        unit_price=cents(lacking),
        amount=cents(lacking),
        basis=basis,
    )
    return (*lines, made_up)


def _summed(
    scope: FrozenScope,
    book: PriceBook,
    terms: Terms,
    lines: tuple[PricedLine, ...],
    checks: tuple[RateCheck, ...],
    faults: list[PriceFault],
) -> Priced:
    use_tax = _use_tax(lines, terms)
    direct = costs_of(lines) + use_tax
    overhead = cents(direct * terms.overhead)
    subtotal = amounts_of(lines)
    sold = [line.amount for line in lines if line.taxable]
    tax = sales_tax(sold, terms.tax_rate, terms.tax_basis) if terms.tax_mode == "seller" else ZERO
    hours = sum((task.hours for task in scope.tasks if task.code not in terms.left_out), ZERO)
    contribution = subtotal - direct
    per_day = cents(contribution * terms.crew_hours_per_day / hours) if hours else None
    return Priced(
        scope_sha256=digest(scope_text(scope)),
        currency=book.currency,
        method=terms.method,
        as_of=terms.as_of,
        lines=lines,
        material_cost=costs_of(lines, "material"),
        use_tax=use_tax,
        labour_cost=costs_of(lines, "labour"),
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
        contribution_per_crew_day=per_day,
        rate_checks=checks,
        faults=tuple(faults),
    )
