"""Every text about money that was ever written is read, and written again byte for byte.

Once a form has a newer format, its older texts are only read.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.change_order import CHANGE_ORDER, order_from
from estimates.domain.estimate import ESTIMATE, estimate_document, priced_from
from estimates.domain.quote import QUOTE, quote_from
from jobs.domain.documents import canonical_json, digest
from tests.estimates.kept import FOLDER, a_priced, a_quote_content
from tests.jobs.kept import kept


def test_an_estimate_is_written_as_it_always_was() -> None:
    assert canonical_json(estimate_document(a_priced())) == kept("estimate-1", FOLDER)


def test_an_estimate_of_format_1_is_read() -> None:
    assert priced_from(ESTIMATE.read(kept("estimate-1", FOLDER))) == a_priced()


def test_a_quote_is_written_as_it_always_was() -> None:
    assert canonical_json(a_quote_content()) == kept("quote-1", FOLDER)


def test_a_quote_of_format_1_is_read() -> None:
    quote = quote_from(QUOTE.read(kept("quote-1", FOLDER)))
    assert (quote["total"], quote["issued_on"]) == (Decimal("1556.45"), date(2027, 2, 26))
    assert sum(group["amount"] for group in quote["groups"]) == quote["subtotal"]


def test_a_change_order_of_format_1_is_read() -> None:
    order = order_from(CHANGE_ORDER.read(kept("change-order-1", FOLDER)))
    assert order.changes == ("Added: Flooring (Oak, Den), 2 cartons.",)
    assert order.estimate_sha256 == digest("estimate")
