"""More of what grows: invoices, payments and completion slips of an accepted job.

As in `tests.growing`, each of these functions makes one more row.
"""

from __future__ import annotations

from datetime import date

from tests.estimates.invoices_by_hand import a_payment_of, a_slip_of, an_invoice_of
from tests.growing import OwnersBook


def invoices(book: OwnersBook, number: int) -> None:
    """Progress invoices of the accepted job."""
    an_invoice_of(book.accepted, kind="progress")


def overdue_invoices(book: OwnersBook, number: int) -> None:
    """Invoices of the accepted job that should have been paid years ago."""
    day = date(2020, 1, 2)
    an_invoice_of(book.accepted, kind="progress", issued_on=day, due_on=day)


def payments(book: OwnersBook, number: int) -> None:
    """Payments of one invoice."""
    a_payment_of(book.bill)


def slips(book: OwnersBook, number: int) -> None:
    """Completion slips of the accepted job."""
    a_slip_of(book.accepted)
