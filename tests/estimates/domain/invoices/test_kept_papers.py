"""Invoices and completion slips are read as they were written, and written again byte for byte."""

from __future__ import annotations

from dataclasses import replace

from estimates.domain.invoices.content import INVOICE, invoice_document, invoice_from
from estimates.domain.invoices.slip import SLIP, slip_document, slip_from
from jobs.domain.documents import canonical_json
from tests.estimates.invoices_by_hand import a_slip_word, an_invoice_said
from tests.estimates.kept import FOLDER
from tests.jobs.kept import kept


def test_an_invoice_is_written_as_it_always_was() -> None:
    assert canonical_json(invoice_document(an_invoice_said())) == kept("invoice-2", FOLDER)


def test_an_invoice_is_read_and_one_of_format_1_says_nothing_of_its_tax() -> None:
    said = an_invoice_said()
    assert invoice_from(INVOICE.read(kept("invoice-2", FOLDER))) == said
    assert invoice_from(INVOICE.read(kept("invoice-1", FOLDER))) == replace(said, tax=None)


def test_a_completion_slip_is_written_as_it_always_was() -> None:
    assert canonical_json(slip_document(a_slip_word())) == kept("completion-slip-1", FOLDER)


def test_a_completion_slip_of_format_1_is_read() -> None:
    assert slip_from(SLIP.read(kept("completion-slip-1", FOLDER))) == a_slip_word()


def test_an_invoice_says_what_is_left() -> None:
    # 640.00 less 94.00 held; 940.00 less 300.00 and 640.00 is all; 940.00 less 300.00 paid.
    said = an_invoice_said()
    assert [said.payable, said.unbilled, said.balance] == [546, 0, 640]
