"""What a job's invoices and payments come to: billed, held back, paid, and the balance. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from jobs.domain.checks import ZERO

InvoiceState = Literal["void", "paid", "partly paid", "overdue", "open"]


@dataclass(frozen=True, kw_only=True, slots=True)
class InvoiceEntry:
    """An invoice as the account has it. `replaces` is the void one in whose place it stands."""

    key: int
    amount: Decimal
    held: Decimal
    released: Decimal
    due_on: date
    is_void: bool = False
    replaces: int | None = None

    @property
    def payable(self) -> Decimal:
        """What it asks for."""
        return self.amount - self.held + self.released


@dataclass(frozen=True, kw_only=True, slots=True)
class PaymentEntry:
    """Money that came, or, below nothing, an entry that takes one back."""

    invoice: int
    amount: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class InvoiceStanding:
    """How an invoice stands: what was paid on it, what is still open."""

    paid: Decimal
    open: Decimal
    state: InvoiceState


@dataclass(frozen=True, kw_only=True, slots=True)
class JobAccount:
    """The money of a job. Void invoices count nothing; what was paid on them still counts.

    `agreed` is the quoted price with every change order. `standings` are those of the invoices.
    """

    agreed: Decimal
    billed: Decimal
    payable: Decimal
    held: Decimal
    paid: Decimal
    standings: Mapping[int, InvoiceStanding]

    @property
    def unbilled(self) -> Decimal:
        """What no invoice has yet."""
        return self.agreed - self.billed

    @property
    def open(self) -> Decimal:
        """What invoices ask for and nobody paid yet; below nothing: paid too much."""
        return self.payable - self.paid

    @property
    def balance(self) -> Decimal:
        """What is still to be paid of the agreed price."""
        return self.agreed - self.paid


def account_of(
    agreed: Decimal,
    invoices: Sequence[InvoiceEntry],
    payments: Iterable[PaymentEntry],
    *,
    today: date,
) -> JobAccount:
    """Return the account of a job. A payment on a void invoice counts on the one in its place."""
    in_place = {one.replaces: one.key for one in invoices if one.replaces is not None}
    paid: dict[int, Decimal] = defaultdict(Decimal)
    for payment in payments:
        paid[_last(payment.invoice, in_place)] += payment.amount
    valid = [one for one in invoices if not one.is_void]
    return JobAccount(
        agreed=agreed,
        billed=sum((one.amount for one in valid), ZERO),
        payable=sum((one.payable for one in valid), ZERO),
        held=sum((one.held - one.released for one in valid), ZERO),
        paid=sum(paid.values(), ZERO),
        standings={one.key: _standing(one, paid[one.key], today) for one in invoices},
    )


def _last(key: int, in_place: Mapping[int, int]) -> int:
    """Return the invoice that stands in the place of this one at last."""
    while key in in_place:
        key = in_place[key]
    return key


def _standing(invoice: InvoiceEntry, paid: Decimal, today: date) -> InvoiceStanding:
    if invoice.is_void:
        return InvoiceStanding(paid=paid, open=ZERO, state="void")
    left = invoice.payable - paid
    return InvoiceStanding(paid=paid, open=left, state=_state(invoice, paid, left, today))


def _state(invoice: InvoiceEntry, paid: Decimal, left: Decimal, today: date) -> InvoiceState:
    if left <= 0:
        return "paid"
    if today > invoice.due_on:
        return "overdue"
    return "partly paid" if paid else "open"
