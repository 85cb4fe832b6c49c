"""What a price holds, told to whoever pays: allowances, lines by the unit, what is in it. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from decimal import Decimal

from estimates.domain.priced import Priced, PricedLine, amounts_of
from estimates.domain.priced_lines import BY_CLIENT
from estimates.domain.quotes.content import QuoteAllowance, QuoteUnit
from estimates.domain.quotes.plain_words import listed, plain_words
from jobs.domain.checks import ONE, ZERO
from jobs.domain.figures import money, unit_sign
from jobs.domain.quantities import Quantity
from jobs.domain.scope.scope import FrozenScope

ALLOWANCE_WORDS = {
    "Low spots filled with leveler": (
        "low spots",
        (
            "We can't see the floor beneath yet. If it has low spots, we fill them with leveling "
            "compound."
        ),
    ),
    "Low spots primed": (
        "primer in low spots",
        "Low spots get a coat of primer before they are filled.",
    ),
    "Screws in loose spots": (
        "loose spots",
        "Loose and squeaking spots show when the old floor is out. We fasten them.",
    ),
    "Old base that breaks, replaced": (
        "baseboard that breaks",
        "Old baseboard may split when it comes off. We put new in its place.",
    ),
}
"""The allowances that are offered from evidence: what they are for, and what is done."""
_MORE = "If it takes more, we stop and ask, and go on once you sign, or we leave it."
ALL_ELSE = "All other material and work"
GOODS = {
    "cartons": "the flooring",
    "pad": "the pad",
    "vapour_barrier": "the moisture film",
    "base_stock": "the baseboard",
    "nosing_stock": "the stair edges",
    "transition_profile": "the strips at the doors",
    "leveller": "the leveling compound",
}
"""Material that is named where somebody else brings it; the rest are small goods."""


def allowances_of(priced: Priced) -> tuple[QuoteAllowance, ...]:
    """Return each allowance with the price of one, how many at most, and what that comes to."""
    return tuple(_allowance(line) for line in priced.allowance_lines)


def _allowance(line: PricedLine) -> QuoteAllowance:
    name, text = ALLOWANCE_WORDS.get(line.label, (line.label, f"{line.label}."))
    return QuoteAllowance(
        name=name,
        text=f"{text} {_MORE}",
        each=line.unit_price or ZERO,
        unit=line.unit,
        units=line.quantity,
        most=line.amount,
    )


def units_of(priced: Priced) -> tuple[QuoteUnit, ...]:
    """Return the price by the unit; with sales tax the lines sum to the total.

    What is not sold by the unit is one line.
    """
    alike: dict[tuple[str, str, Decimal], list[PricedLine]] = defaultdict(list)
    for line in priced.lines:
        if line.unit_price is not None and line.amount:
            label = f"{line.label}, {line.item}" if line.item else line.label
            alike[label, line.unit, line.unit_price].append(line)
    units = [
        QuoteUnit(
            label=label,
            quantity=sum((line.quantity for line in same), ZERO),
            unit=unit_sign(unit),
            each=each,
            amount=amounts_of(same),
        )
        for (label, unit, each), same in alike.items()
    ]
    rest = priced.subtotal - sum((unit.amount for unit in units), ZERO)
    if rest:
        units.append(QuoteUnit(label=ALL_ELSE, quantity=ONE, unit="job", each=rest, amount=rest))
    return tuple(units)


def inclusions_of(scope: FrozenScope, priced: Priced) -> tuple[str, ...]:
    """Return what the price holds, what it doesn't because somebody else brings it, and why."""
    return (
        *_included(scope, priced),
        *(f"Also in the price: {line.label}." for line in priced.lines if line.kind == "added"),
        *(f"Taken off: {_reduction(line, priced)}." for line in _of(priced, "discount")),
        *_supplied(priced),
        *_by_you(priced),
    )


def _of(priced: Priced, kind: str) -> Iterable[PricedLine]:
    return (line for line in priced.lines if line.kind == kind)


def _included(scope: FrozenScope, priced: Priced) -> Iterator[str]:
    """Yield what we bring and do, in the order of the work; sales tax is told with the total."""
    yield "Labor" if priced.basis and priced.basis.labor_only else "Material and labor"
    counted = {entry.code for entry in scope.quantities if entry.amount}
    if "furniture" in counted and "furniture" not in scope.left:
        yield "Moving the furniture, and back"
    if "toilets" in counted and "fixtures_off" not in scope.left:
        yield "Toilet lifted and set again"
    if "appliances" in counted and "fixtures_off" not in scope.left:
        yield "Appliances moved and put back"
    yield from _old_floor(scope, counted)
    if "doors_off" in counted and "doors_off" not in scope.left:
        trimmed = "doors_trimmed" in counted and "doors_on" not in scope.left
        yield f"Doors off, {'trimmed ' if trimmed else ''}and on again"
    if "base_on" in counted and "base" not in scope.left:
        yield _baseboard(scope)
    if "transitions" in counted and "transitions" not in scope.left:
        yield "Strips where floors meet"
    if any(task.code == "clean" for task in scope.tasks):
        yield "Cleaning up"


def _old_floor(scope: FrozenScope, counted: Collection[str]) -> Iterator[str]:
    parts = ("tear_out", "out"), ("dispose", "hauled away")
    done = [words for task, words in parts if task not in scope.left]
    if "tear_out" in counted and done:
        yield f"Old floor {listed(done)}"


def _baseboard(scope: FrozenScope) -> str:
    kinds = {entry.basis.endswith("replace") for entry in scope.quantities if _is_base(entry)}
    new, back = "New baseboard", "Your baseboard off and on again"
    return f"{new} and your own on again" if len(kinds) > 1 else new if True in kinds else back


def _is_base(entry: Quantity) -> bool:
    return entry.code == "base_on" and bool(entry.amount)


def _reduction(line: PricedLine, priced: Priced) -> str:
    return f"{money(-line.amount, priced.currency)}, {line.basis}"


def _supplied(priced: Priced) -> Iterable[str]:
    """Yield the material that isn't ours, by who brings it."""
    brought: dict[str, list[str]] = defaultdict(list)
    for line in priced.lines:
        if line.kind == "material" and line.basis.startswith("supplied by "):
            goods = GOODS.get(line.code, "small goods")
            brought[line.basis.removeprefix("supplied by ")].append(goods)
    for who, labels in brought.items():
        by = "you" if who == "the client" else who
        yield f"Supplied by {by} and not in this price: {listed(dict.fromkeys(labels))}."
    if any(line.basis == "client's material" for line in priced.lines):
        yield "You buy all the material; it is not in this price."


def _by_you(priced: Priced) -> Iterable[str]:
    """Yield what the homeowner does, at no charge."""
    labels = [
        line.label.lower()
        for line in priced.lines
        if line.basis == BY_CLIENT and line.is_by_client and line.code != "travel"
    ]
    if labels:
        yield f"Done by you, no charge: {plain_words(listed(dict.fromkeys(labels)))}."


def tax_note(priced: Priced) -> str:
    """Return how sales tax is kept: in the total, on material, or not at all and why."""
    if priced.tax_mode == "exempt":
        return (
            f"Exempt from sales tax, certificate {priced.basis.certificate}" if priced.basis else ""
        )
    if priced.tax:
        return f"Sales tax of {money(priced.tax, priced.currency)} is in the total."
    return "Sales tax on material is in the price." if priced.tax_mode == "consumer" else ""
