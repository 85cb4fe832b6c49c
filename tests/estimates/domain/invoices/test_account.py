"""What a job's invoices and payments come to, by hand: 1,000.00 agreed, 300 and 500 billed."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.invoices.account import (
    InvoiceEntry,
    JobAccount,
    PaymentEntry,
    account_of,
)

TODAY = date(2027, 3, 10)
EARLIER, LATER = date(2027, 3, 9), date(2027, 3, 11)


def an_invoice(key: int, amount: str, **changes: object) -> InvoiceEntry:
    given: dict[str, object] = {"held": Decimal(0), "released": Decimal(0), "due_on": LATER}
    return InvoiceEntry(key=key, amount=Decimal(amount), **given | changes)  # type: ignore[arg-type]


def an_account(invoices: list[InvoiceEntry], *payments: tuple[int, str]) -> JobAccount:
    money = [PaymentEntry(invoice=key, amount=Decimal(amount)) for key, amount in payments]
    return account_of(Decimal(1000), invoices, money, today=TODAY)


def test_the_balance_is_what_was_agreed_less_what_was_paid() -> None:
    # 1,000 - 420 = 580; asked for 300 + 500 - 50 held = 750, of which 330 is open.
    held = an_invoice(2, "500.00", held=Decimal("50.00"))
    account = an_account([an_invoice(1, "300.00"), held], (1, "300.00"), (2, "120.00"))
    assert [account.balance, account.payable, account.open] == [580, 750, 330]
    assert [account.billed, account.unbilled, account.held] == [800, 200, 50]


def test_an_entry_that_takes_a_payment_back_opens_the_invoice_again() -> None:
    account = an_account([an_invoice(1, "300.00")], (1, "300.00"), (1, "-300.00"))
    assert account.standings[1].state == "open"
    assert account.standings[1].open == 300


def test_a_payment_on_a_void_invoice_counts_on_the_one_in_its_place() -> None:
    void = an_invoice(1, "300.00", is_void=True)
    account = an_account([void, an_invoice(2, "280.00", replaces=1)], (1, "300.00"))
    assert [account.standings[key].state for key in (1, 2)] == ["void", "paid"]
    assert [account.standings[2].open, account.billed, account.paid] == [-20, 280, 300]


def test_an_invoice_is_overdue_the_day_after_its_last_day() -> None:
    invoices = [an_invoice(1, "10", due_on=TODAY), an_invoice(2, "10", due_on=EARLIER)]
    states = [an_account(invoices).standings[key].state for key in (1, 2)]
    assert states == ["open", "overdue"]


def test_a_part_that_was_paid_is_said() -> None:
    assert an_account([an_invoice(1, "10.00")], (1, "4.00")).standings[1].state == "partly paid"
