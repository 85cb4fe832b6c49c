"""The seller's choice of item or invoice, followed by hand where a price is made.

Source: Streamlined Sales and Use Tax Agreement, section 324: carried to the third decimal, up where
that digit is greater than four; the seller may reckon by item or by invoice.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.pricing import price_scope
from tests.estimates.a_price import a_book, a_material, a_quantity, a_scope, terms

# 2.07, 3.21 and 4.35 at 7 %: 0.1449, 0.2247 and 0.3045 are 0.14 + 0.22 + 0.30 = 0.66 by item;
# 9.63 at 7 % is 0.6741, 0.67 by invoice.
SCOPE = a_scope(
    quantities=(a_quantity("cartons", 1), a_quantity("pad", 1), a_quantity("caulk", 1)),
    tasks=(),
)
BOOK = a_book(a_material("cartons", "2.07"), a_material("pad", "3.21"), a_material("caulk", "4.35"))


@pytest.mark.parametrize(("basis", "tax"), [("item", "0.66"), ("invoice", "0.67")])
@pytest.mark.parametrize(("mode", "field"), [("seller", "tax"), ("consumer", "use_tax")])
def test_tax_is_rounded_by_what_the_seller_chose(
    basis: str, tax: str, mode: str, field: str
) -> None:
    # No overhead and no margin: what is sold is what it cost.
    chosen = terms(tax_mode=mode, tax_rate=Decimal("0.07"), tax_basis=basis)
    assert getattr(price_scope(SCOPE, BOOK, chosen), field) == Decimal(tax)
