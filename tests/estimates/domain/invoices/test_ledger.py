"""The sheet of invoices and payments: RFC 4180, texts guarded, amounts left as numbers."""

from __future__ import annotations

import csv
import io
from datetime import date
from decimal import Decimal

import pytest

from estimates.domain.invoices.ledger import HEADS, LedgerRow, write_ledger


def a_row(**changes: object) -> LedgerRow:
    given: dict[str, object] = {
        "entry": "Invoice",
        "day": date(2027, 3, 1),
        "invoice": "4-1",
        "job_number": 4,
        "title": "Two rooms",
        "bill_to": "Ines Okafor",
        "order_number": "",
        "what": "Deposit",
    }
    return LedgerRow(**given | changes)  # type: ignore[arg-type]


def read(*rows: LedgerRow) -> list[list[str]]:
    return list(csv.reader(io.StringIO(write_ledger(rows), newline=""), strict=True))


def test_each_row_has_a_cell_under_every_head() -> None:
    head, row = read(a_row(amount=Decimal("370.37")))
    assert head == list(HEADS)
    assert dict(zip(head, row, strict=True))["Amount"] == "370.37"


def test_lines_end_as_the_form_asks() -> None:
    assert write_ledger([a_row()]).count("\r\n") == 2


def test_quotes_commas_and_line_ends_survive() -> None:
    title = 'The "Larch", upstairs\nand down'
    assert read(a_row(title=title))[1][4] == 'The "Larch", upstairs and down'


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@a", "\uff1d1", "\t=1"])
def test_a_text_that_could_be_carried_out_is_guarded(text: str) -> None:
    assert read(a_row(bill_to=text))[1][5].startswith("'")


def test_an_amount_below_nothing_stays_a_number() -> None:
    assert read(a_row(paid=Decimal("-20.00")))[1][13] == "-20.00"
