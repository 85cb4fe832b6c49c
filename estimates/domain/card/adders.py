"""Adders: what is charged by the unit, what that pays for, and whether it brings its cost.

Of an adder that pays for work which the client does in part, the part by the hours that remain ours
is charged.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from estimates.domain.card.needs import rate_needs
from estimates.domain.money import cents, price_at_margin
from estimates.domain.price_book import HALF_DAY, USUAL_COVERS, Price, PriceBook, PricingTerms
from estimates.domain.priced import LABOR, PricedLine, PriceFault, RateCheck
from estimates.domain.priced_lines import quantity_line, taxed_cost
from jobs.domain.checks import ONE, ZERO
from jobs.domain.quantities import Quantity
from jobs.domain.scope.scope import FrozenScope


def adder_lines(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> list[PricedLine]:
    """Return the line of every quantity that an adder charges."""
    lines: list[PricedLine] = []
    for entry in scope.quantities:
        price = _adder_for(entry, book, terms)
        if price is None:
            continue
        ours, whole = _hours_paid(price, scope, terms)
        if ours or not whole:
            lines.append(_adder_line(entry, price, ours, whole))
    return lines


def _adder_line(entry: Quantity, price: Price, ours: Decimal, whole: Decimal) -> PricedLine:
    """Return what an adder charges for a quantity, where so much of its work is ours."""
    unit_price, basis = price.amount, entry.basis
    if ours != whole:
        unit_price = cents(price.amount * ours / whole)
        basis = f"{basis}; {ours} of {whole} h of its work are ours"
    return replace(
        quantity_line(entry, ZERO, basis, taxable=price.taxable),
        label=price.label,
        kind="adder",
        unit_price=unit_price,
        amount=cents(entry.amount * unit_price),
    )


def _hours_paid(price: Price, scope: FrozenScope, terms: PricingTerms) -> tuple[Decimal, Decimal]:
    """Return the hours of the work that an adder pays for: ours, and all of it."""
    paid = [task for task in scope.tasks if task.code in price.tasks_paid]
    whole = sum((task.hours for task in paid), ZERO)
    ours = sum((task.hours for task in paid if task.code not in terms.not_ours), ZERO)
    return ours, whole


def _adder_for(entry: Quantity, book: PriceBook, terms: PricingTerms) -> Price | None:
    """The adder that charges a quantity; none where the client does all the work it pays for."""
    price = book.find("adder", entry.code, entry.item, terms.as_of)
    if price is None or not entry.amount or entry.kind == "fact":
        return None
    paid_for = {*price.tasks_paid, *price.materials_paid}
    by_client = {
        *terms.not_ours,
        *(code for code in price.materials_paid if terms.buys(code)),
    }
    return None if paid_for and paid_for <= by_client else price


def beside_adders(
    direct: list[PricedLine], charged: list[PricedLine], book: PriceBook, terms: PricingTerms
) -> list[PricedLine]:
    """Return the cost lines, charged only for material that no adder pays for, at the margin."""
    paid = _covered(charged, book, terms)[1]
    return [
        replace(line, amount=_alone(line, terms))
        if line.kind == "material" and line.code not in paid
        else line
        for line in direct
    ]


def _alone(line: PricedLine, terms: PricingTerms) -> Decimal:
    cost = taxed_cost(line, terms) * (ONE + terms.overhead)
    return price_at_margin(cost, terms.margin)


def _covered(
    charged: Iterable[PricedLine], book: PriceBook, terms: PricingTerms
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


def with_half_day(terms: PricingTerms, book: PriceBook) -> PricingTerms:
    """Return terms whose minimum is the card's half day, where the card is used and asks more."""
    price = book.find("adder", HALF_DAY, "", terms.as_of)
    if terms.method != "rates" or price is None:
        return terms
    return replace(terms, minimum=max(terms.minimum, price.amount))


def unpaid_work(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> list[PriceFault]:
    """Return a fault for each rate that the card lacks, and for each task that no rate pays for."""
    needs = rate_needs(scope, book, terms)
    faults = [
        PriceFault(code=f"rate-{need.code}", text=f"{need.label}: {_no_rate(terms)}")
        for need in needs
    ]
    paid, _ = _covered(adder_lines(scope, book, terms), book, terms)
    paid.update(task for need in needs for task in USUAL_COVERS[need.code].tasks)
    loose = {
        task.code: task.label
        for task in scope.tasks
        if task.hours and task.code not in paid and task.code not in terms.not_ours
    }
    return faults + [
        PriceFault(code=code, text=f"{label}: {_no_rate(terms, 'in force ')} pays for it")
        for code, label in loose.items()
    ]


def _no_rate(terms: PricingTerms, how: str = "") -> str:
    """What is lacking, in words: a rate of ours on a day, or a unit price of the payer."""
    if terms.payer is not None and terms.payer.unit_prices:
        return f"no unit price agreed with {terms.payer.name}"
    return f"no rate {how}on {terms.as_of}"


def rate_checks(
    scope: FrozenScope, direct: list[PricedLine], book: PriceBook, terms: PricingTerms
) -> tuple[RateCheck, ...]:
    """Return each adder's charge, all zones together, against the cost of what it pays for.

    What several adders pay for is shared among them by what they charge.
    """
    charged = adder_lines(scope, book, terms)
    charges = dict.fromkeys((line.code for line in charged), ZERO)
    for line in charged:
        charges[line.code] += line.amount
    pays = {
        code: _covered([line for line in charged if line.code == code], book, terms)
        for code in charges
    }
    costs = dict.fromkeys(charges, ZERO)
    for line in direct:
        payers = [code for code in charges if line.code in pays[code][line.kind != LABOR]]
        whole = sum((charges[code] for code in payers), ZERO)
        for code in payers:
            part = charges[code] / whole if whole else ONE / len(payers)
            costs[code] += taxed_cost(line, terms) * part
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
