"""The state's cap on deposits, said to the company beside its own rule. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimates.domain.law.deposit import STATE_CAPS, Deposit, StateCap, deposit_for
from jobs.domain.figures import money, percent

DOLLARS = "USD"
_HELD = {"": "", "state": ", as the state caps it", "company": ", your own limit"}
EXAMPLE_TOTALS = (Decimal(4000), Decimal(12000))


@dataclass(frozen=True, kw_only=True, slots=True)
class CapRow:
    """A row of the table: a state, what it allows, the law that says so, when it was read."""

    state: str
    words: str
    source: str
    read: str


@dataclass(frozen=True, kw_only=True, slots=True)
class DepositRule:
    """A company's rule on deposits, and the state it works in; `cap`: its own, in dollars."""

    percent_of_total: Decimal
    cap: Decimal | None
    state: str
    currency: str


def cap_rows() -> Iterator[CapRow]:
    """Yield the states whose cap is known, by name."""
    for cap in sorted(STATE_CAPS.values(), key=lambda one: one.name):
        read = f"{cap.read_on:%B} {cap.read_on.year}"
        yield CapRow(state=cap.name, words=cap_words(cap), source=cap.source, read=read)


def cap_words(cap: StateCap) -> str:
    """Return what a state allows, in words: one third of the price, and special orders."""
    said = f"{_share(cap.share)} of the price"
    if cap.dollars is not None:
        said += f", at most {money(cap.dollars, DOLLARS)}"
    if cap.special_orders == "added":
        said += ", and special orders"
    if cap.special_orders == "instead":
        said += ", or special orders where they are more"
    return said + (f"; for prices above {money(cap.above, DOLLARS)}" if cap.above else "")


def examples(rule: DepositRule) -> tuple[str, ...]:
    """Return what the rule comes to for a small job and for a large one, then the state's word."""
    deposits = [
        deposit_for(
            total=total, percent_of_total=rule.percent_of_total, cap=rule.cap, state=rule.state
        )
        for total in EXAMPLE_TOTALS
    ]
    lines = [
        _example(total, deposit, rule.currency)
        for total, deposit in zip(EXAMPLE_TOTALS, deposits, strict=True)
    ]
    return (*lines, deposits[-1].advice)


def _example(total: Decimal, deposit: Deposit, currency: str) -> str:
    amount = money(deposit.amount, currency)
    return f"Of {money(total, currency)} the deposit is {amount}{_HELD[deposit.capped_by]}."


def _share(share: Fraction) -> str:
    if share == Fraction(1, 3):
        return "One third"
    return percent(Decimal(share.numerator) / share.denominator)
