"""Sales tax of a price in stages is shared out over its invoices, to the cent.

By hand: quoted 1,234.57, of it 71.23 sales tax; deposit 370.37, progress 500.00, final 364.20.
    tax up to the deposit    71.23 x 370.37 / 1,234.57 = 21.3689...   21.37
    tax up to the progress   71.23 x 870.37 / 1,234.57 = 50.2170...   50.22, less 21.37: 28.85
    tax up to the final      71.23                                    less 50.22: 21.01
Change order 1, +123.45 with 7.12 of tax, on the progress invoice: 28.85 + 7.12 = 35.97.
    together                 21.37 + 35.97 + 21.01 = 78.35 = 71.23 + 7.12
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.invoices.stages import (
    AgreedChange,
    BilledStage,
    PriceInStages,
    next_invoices,
    stages_quoted,
)
from estimates.domain.invoices.tax import tax_in
from estimates.domain.quotes.content import QuoteStage
from jobs.domain.checks import ZERO

SAID = (
    QuoteStage(name="Deposit", when="", amount=Decimal("370.37")),
    QuoteStage(name="Progress", when="", amount=Decimal("500.00")),
    QuoteStage(name="Final payment", when="", amount=Decimal("364.20")),
)
CHANGE = AgreedChange(number=1, amount=Decimal("123.45"), tax=Decimal("7.12"))


def a_price(*changes: AgreedChange) -> PriceInStages:
    total = Decimal("1234.57")
    stages = stages_quoted(SAID, total=total, deposit=Decimal("370.37"))
    return PriceInStages(quoted=total, stages=stages, changes=changes, tax=Decimal("71.23"))


def taxes_in_turn(agreed: PriceInStages, *, skip: int = 0) -> list[Decimal]:
    """The tax of each invoice, issued one after the other; the final one after ``skip`` of them."""
    billed: list[BilledStage] = []
    taxes: list[Decimal] = []
    while offered := next_invoices(agreed, billed):
        due = offered[-1] if skip and len(taxes) == skip else offered[0]
        taxes.append(tax_in(agreed, billed, due))
        billed.append(
            BilledStage(
                kind=due.kind,
                key=due.key,
                amount=due.amount,
                held=due.held,
                released=due.released,
                changes=due.changes,
            )
        )
    return taxes


def test_three_stages_hold_the_tax_by_hand() -> None:
    assert taxes_in_turn(a_price()) == [Decimal("21.37"), Decimal("28.85"), Decimal("21.01")]


def test_a_change_order_brings_its_own_tax() -> None:
    taxes = taxes_in_turn(a_price(CHANGE))
    assert taxes == [Decimal("21.37"), Decimal("35.97"), Decimal("21.01")]
    assert sum(taxes) == Decimal("78.35")


def test_what_is_held_back_is_taxed_where_it_is_billed() -> None:
    held = replace(a_price(), retainage=Decimal("0.1"))
    assert taxes_in_turn(held) == [*taxes_in_turn(a_price()), Decimal("0.00")]


def test_a_stage_that_is_skipped_is_taxed_with_the_final_one() -> None:
    assert taxes_in_turn(a_price(CHANGE), skip=1) == [Decimal("21.37"), Decimal("56.98")]


def test_a_price_of_nothing_has_no_tax() -> None:
    free = PriceInStages(quoted=ZERO, stages=stages_quoted((), total=ZERO, deposit=ZERO))
    assert sum(taxes_in_turn(free)) == 0


@given(st.integers(1, 10**7), st.integers(0, 10**6), st.lists(st.integers(1, 999), min_size=1))
def test_all_invoices_together_hold_all_the_tax(total: int, tax: int, weights: list[int]) -> None:
    price, of_it = Decimal(total) / 100, Decimal(min(tax, total)) / 100
    stages = tuple(QuoteStage(name=f"{n}", when="", amount=Decimal(n)) for n in weights)
    parts = stages_quoted(stages, total=price, deposit=ZERO)
    agreed = PriceInStages(quoted=price, stages=parts, tax=of_it, changes=(CHANGE,))
    assert sum(taxes_in_turn(agreed)) == of_it + CHANGE.tax
