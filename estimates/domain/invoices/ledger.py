"""Invoices and payments as a sheet for whoever keeps the books: a row an entry. Pure.

Source of the form: RFC 4180. A text that a spreadsheet program could carry out is guarded as in the
price book (`book.cells`); amounts are plain numbers and stay so, below nothing too.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import astuple, dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.book.cells import guarded, one_line

HEADS = (
    *("Entry", "Date", "Invoice", "Job", "Title", "Billed to", "Order number", "What"),
    *("Amount", "Held back", "Released", "To be paid", "Pay by", "Paid", "Paid by"),
    *("Note", "State", "Sales tax in it"),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class LedgerRow:
    """An invoice or a payment, its fields in the order of `HEADS`; None where it has none."""

    entry: str
    day: date
    invoice: str
    job_number: int
    title: str
    bill_to: str
    order_number: str
    what: str
    amount: Decimal | None = None
    held: Decimal | None = None
    released: Decimal | None = None
    payable: Decimal | None = None
    due_on: date | None = None
    paid: Decimal | None = None
    way: str = ""
    note: str = ""
    state: str = ""
    tax: Decimal | None = None


def write_ledger(rows: Iterable[LedgerRow]) -> str:
    """Return rows as a sheet with its head."""
    sheet = _Sheet()
    writer = csv.writer(sheet)
    writer.writerow(HEADS)
    writer.writerows([_cell(value) for value in astuple(row)] for row in rows)
    return "".join(sheet.lines)


class _Sheet:
    """What the writer writes to: it keeps the lines."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def write(self, line: str) -> None:
        """Keep a line."""
        self.lines.append(line)


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value:.2f}"
    return guarded(one_line(value)) if isinstance(value, str) else str(value)
