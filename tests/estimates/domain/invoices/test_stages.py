"""Invoices of an agreed price come to it to the cent, whatever changes between them.

By hand: quoted 1,234.57 as deposit 370.37 (30 %: 370.371), progress 500.00, final 364.20.
Change order 1, +123.45, before the progress invoice; change order 2, -23.46, after it.
    agreed    1,234.57 + 123.45 - 23.46 = 1,334.56
    deposit     370.37
    progress    500.00 + 123.45 = 623.45
    final       364.20 -  23.46 = 340.74
    together    370.37 + 623.45 + 340.74 = 1,334.56
With 10 % of the whole held back:
    final       340.74 less 133.46 (133.456 rounded): 207.28 to pay
    retainage   133.46
    together    370.37 + 623.45 + 207.28 + 133.46 = 1,334.56
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.invoices.stages import (
    AgreedChange,
    BilledStage,
    InvoiceDue,
    InvoiceLine,
    PriceInStages,
    next_invoices,
    stages_by_deposit,
    stages_quoted,
)
from estimates.domain.law.stages import payment_stages
from estimates.domain.quotes.content import QuoteStage
from jobs.domain.checks import ZERO, BadValueError

TOTAL, DEPOSIT = Decimal("1234.57"), Decimal("370.37")
SAID = (
    QuoteStage(name="Deposit", when="On acceptance", amount=DEPOSIT),
    QuoteStage(name="Progress", when="When the floor is down", amount=Decimal("500.00")),
    QuoteStage(name="Final payment", when="When the work is done", amount=Decimal("364.20")),
)
FIRST = AgreedChange(number=1, amount=Decimal("123.45"))
SECOND = AgreedChange(number=2, amount=Decimal("-23.46"))


def a_price(*changes: AgreedChange, retainage: str = "0") -> PriceInStages:
    stages = stages_quoted(SAID, total=TOTAL, deposit=DEPOSIT)
    return PriceInStages(quoted=TOTAL, stages=stages, changes=changes, retainage=Decimal(retainage))


def billed(due: InvoiceDue) -> BilledStage:
    return BilledStage(
        kind=due.kind,
        key=due.key,
        amount=due.amount,
        held=due.held,
        released=due.released,
        changes=due.changes,
    )


def in_turn(*agreed: PriceInStages) -> list[InvoiceDue]:
    """Issue the next invoice of each of these prices in turn, then those of the last to the end."""
    dues: list[InvoiceDue] = []
    prices = list(agreed)
    while True:
        offered = next_invoices(prices[0], [billed(due) for due in dues])
        if not offered and len(prices) == 1:
            return dues
        dues += offered[:1]
        prices = prices[1:] or prices


def test_three_stages_with_two_change_orders_come_to_the_agreed_price() -> None:
    dues = in_turn(a_price(), a_price(FIRST), a_price(FIRST, SECOND))
    assert [due.amount for due in dues] == [DEPOSIT, Decimal("623.45"), Decimal("340.74")]
    assert sum(due.amount for due in dues) == Decimal("1334.56")


def test_a_change_order_stands_on_the_next_invoice_as_a_line() -> None:
    dues = in_turn(a_price(), a_price(FIRST), a_price(FIRST, SECOND))
    assert dues[1].lines == (
        InvoiceLine(label="Progress", amount=Decimal("500.00")),
        InvoiceLine(label="Change order 1", amount=Decimal("123.45")),
    )
    assert dues[2].lines[1] == InvoiceLine(label="Change order 2", amount=Decimal("-23.46"))


def test_a_deposit_takes_no_change_order() -> None:
    assert in_turn(a_price(FIRST))[0].amount == DEPOSIT


def test_retainage_is_held_of_the_final_invoice_and_released_at_the_end() -> None:
    held = [a_price(*changes, retainage="0.1") for changes in ((), (FIRST,), (FIRST, SECOND))]
    dues = in_turn(*held)
    figures = [(due.kind, f"{due.held}", f"{due.payable}") for due in dues]
    assert figures == [
        ("deposit", "0", "370.37"),
        ("progress", "0", "623.45"),
        ("final", "133.46", "207.28"),
        ("retainage", "0", "133.46"),
    ]
    assert sum(due.payable for due in dues) == Decimal("1334.56")


def test_the_final_invoice_may_come_at_once_and_takes_all() -> None:
    final = next_invoices(a_price(FIRST), [])[-1]
    assert (final.kind, final.amount) == ("final", Decimal("1358.02"))
    assert final.lines[0].label == "Final payment, with deposit and progress"
    assert next_invoices(a_price(FIRST), [billed(final)]) == ()


def test_a_change_order_after_the_final_invoice_is_billed_alone() -> None:
    dues = in_turn(a_price(), a_price(), a_price(), a_price(FIRST))
    assert [due.kind for due in dues] == ["deposit", "progress", "final", "rest"]
    assert dues[3].lines == (InvoiceLine(label="Change order 1", amount=Decimal("123.45")),)


def test_money_back_after_the_final_invoice_is_an_invoice_of_less_than_nothing() -> None:
    assert in_turn(a_price(), a_price(), a_price(), a_price(SECOND))[3].amount == SECOND.amount


def test_a_void_deposit_is_billed_again_first() -> None:
    dues = in_turn(a_price())
    again = next_invoices(a_price(), [billed(due) for due in dues[1:2]])
    assert [due.kind for due in again] == ["deposit", "final"]
    assert again[1].amount == Decimal("734.57")


def test_a_void_deposit_after_the_final_invoice_is_the_rest() -> None:
    dues = in_turn(a_price())
    (again,) = next_invoices(a_price(), [billed(due) for due in dues[1:]])
    assert (again.kind, again.amount) == ("rest", DEPOSIT)


def test_a_stage_of_more_than_is_left_is_not_offered() -> None:
    down = AgreedChange(number=1, amount=Decimal("-900.00"))
    (final,) = next_invoices(a_price(down), [BilledStage(kind="deposit", key="1", amount=DEPOSIT)])
    assert (final.kind, final.amount) == ("final", Decimal("-35.80"))


def test_another_choice_keeps_its_deposit_and_shares_out_the_rest() -> None:
    # 2,000.00 less 600.00 is 1,400.00: 500 / 864.20 of it is 809.9977, 364.20 / 864.20 is 590.0023.
    stages = stages_quoted(SAID, total=Decimal("2000.00"), deposit=Decimal("600.00"))
    amounts = [f"{stage.amount:.2f}" for stage in stages]
    assert amounts == ["600.00", "810.00", "590.00"]


def test_a_quote_without_stages_has_a_deposit_and_the_rest() -> None:
    stages = stages_by_deposit(TOTAL, DEPOSIT)
    assert [(stage.kind, stage.amount) for stage in stages] == [
        ("deposit", DEPOSIT),
        ("final", Decimal("864.20")),
    ]


def test_what_the_quote_says_is_held_back_is_in_the_final_invoice() -> None:
    # 1,000.00: deposit 300.00, progress 40 % 400.00, held 100.00, so the final payment is 200.00.
    said = payment_stages(
        total=Decimal("1000.00"),
        deposit=Decimal("300.00"),
        plan="deposit_progress_rest",
        progress_percent=Decimal(40),
        retainage=Decimal("0.1"),
    )
    stages = stages_quoted(said, total=Decimal("1000.00"), deposit=Decimal("300.00"))
    price = PriceInStages(quoted=Decimal("1000.00"), stages=stages, retainage=Decimal("0.1"))
    assert [due.payable for due in in_turn(price)] == [stage.amount for stage in said]


def test_a_final_payment_that_is_all_held_back_is_still_an_invoice() -> None:
    said = payment_stages(
        total=Decimal("1000.00"), deposit=Decimal("900.00"), retainage=Decimal("0.1")
    )
    stages = stages_quoted(said, total=Decimal("1000.00"), deposit=Decimal("900.00"))
    assert [(stage.kind, stage.name) for stage in stages] == [
        ("deposit", "Deposit"),
        ("final", "Final payment"),
    ]


def test_without_a_deposit_there_is_one_invoice() -> None:
    assert [stage.kind for stage in stages_by_deposit(TOTAL, ZERO)] == ["final"]


def test_stages_that_do_not_sum_to_the_price_are_refused() -> None:
    with pytest.raises(BadValueError, match=r"stages is 1234\.57; accepted: 1300 together"):
        replace(a_price(), quoted=Decimal(1300))


CENTS = st.decimals(min_value=-2000, max_value=3000, places=2)


@given(st.lists(CENTS, max_size=5), st.integers(0, 20), st.integers(0, 5))
def test_whatever_changes_all_invoices_come_to_the_agreed_price(
    amounts: list[Decimal], held: int, early: int
) -> None:
    changes = [AgreedChange(number=at, amount=amount) for at, amount in enumerate(amounts, start=1)]
    share = f"{Decimal(held) / 100}"
    steps = [a_price(*changes[:count], retainage=share) for count in range(len(changes) + 1)]
    dues = in_turn(*steps[min(early, len(steps) - 1) :])
    assert sum(due.payable for due in dues) == steps[-1].total
    numbers = [number for due in dues for number in due.changes]
    assert len(numbers) == len(set(numbers))
