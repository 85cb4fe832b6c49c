"""Every text about money that was ever written is read, and written again byte for byte.

Once a form has a newer format, its older texts are only read.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimates.domain.change_order import CHANGE_ORDER, order_document, order_from
from estimates.domain.estimate import ESTIMATE, estimate_document, priced_from
from estimates.domain.quote import QUOTE, quote_document, quote_from
from estimates.domain.review.closed import CLOSED_REVIEW, closed_document, closed_from
from jobs.domain.documents import canonical_json, digest
from tests.estimates.a_closed_review import a_closed_review
from tests.estimates.kept import FOLDER, a_newer_quote, a_priced, an_older_quote
from tests.jobs.kept import kept
from tests.orders.a_change import a_change_order


def test_an_estimate_is_written_as_it_always_was() -> None:
    assert canonical_json(estimate_document(a_priced())) == kept("estimate-3", FOLDER)


def test_an_estimate_of_format_1_is_read_without_what_it_did_not_keep() -> None:
    read = priced_from(ESTIMATE.read(kept("estimate-1", FOLDER)))
    unknown = {"days_on_site": None, "contribution_per_day": None, "basis": None, "payer": None}
    assert read == replace(a_priced(), **unknown)  # type: ignore[arg-type]


def test_an_estimate_of_format_2_is_read_as_paid_by_the_client() -> None:
    read = priced_from(ESTIMATE.read(kept("estimate-2", FOLDER)))
    assert read == replace(a_priced(), payer=None)


def test_an_estimate_of_format_3_is_read() -> None:
    assert priced_from(ESTIMATE.read(kept("estimate-3", FOLDER))) == a_priced()


def test_a_quote_is_written_as_it_always_was() -> None:
    assert canonical_json(quote_document(a_newer_quote())) == kept("quote-4", FOLDER)


@pytest.mark.parametrize("text", ["quote-3", "quote-4"])
def test_a_newer_quote_is_read_and_format_3_tells_its_week_by_its_sentence(text: str) -> None:
    assert quote_from(QUOTE.read(kept(text, FOLDER))) == a_newer_quote()


@pytest.mark.parametrize("text", ["quote-1", "quote-2"])
def test_a_quote_of_an_older_format_is_read_with_its_own_words_and_amounts(text: str) -> None:
    assert quote_from(QUOTE.read(kept(text, FOLDER))) == an_older_quote()


def test_a_deposit_that_was_stored_as_a_whole_number_is_read() -> None:
    text = kept("quote-1", FOLDER).replace('"deposit_percent":"30"', '"deposit_percent":30')
    assert text != kept("quote-1", FOLDER)
    assert quote_from(QUOTE.read(text)) == an_older_quote()


def test_every_line_of_an_older_quote_stays_readable() -> None:
    """6 cartons and 2 rolls at $660, laying and base at $572, 3 bags at $270: $1,502 and tax."""
    quote = quote_from(QUOTE.read(kept("quote-1", FOLDER)))
    shown = "\n".join(section.text for section in quote.older)
    for words in ("Floor laid, $492.00", "Base put on, $80.00", "Allowances, total: $270.00"):
        assert words in shown
    assert (quote.total, quote.most, quote.issued_on) == (
        Decimal("1556.45"),
        Decimal("1556.45"),
        date(2027, 2, 26),
    )


def test_a_change_order_is_written_as_it_always_was() -> None:
    assert canonical_json(order_document(a_change_order())) == kept("change-order-2", FOLDER)


def test_a_change_order_of_format_2_is_read() -> None:
    assert order_from(CHANGE_ORDER.read(kept("change-order-2", FOLDER))) == a_change_order()


def test_a_change_order_of_format_1_is_read() -> None:
    order = order_from(CHANGE_ORDER.read(kept("change-order-1", FOLDER)))
    assert order.changes == ("Added: Flooring (Oak, Den), 2 cartons.",)
    assert order.estimate_sha256 == digest("estimate")
    assert (order.lines, order.total, order.tax) == ((), None, Decimal("0.00"))
    assert order.issued_on == order.agreed_on == date(2027, 3, 8)


def test_a_closed_review_is_written_as_it_always_was() -> None:
    assert canonical_json(closed_document(a_closed_review())) == kept("review-1", FOLDER)


def test_a_closed_review_is_read() -> None:
    assert closed_from(CLOSED_REVIEW.read(kept("review-1", FOLDER))) == a_closed_review()
