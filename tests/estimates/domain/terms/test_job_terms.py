"""Sales tax: one job in its four modes by hand, and the rates that are refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import TaxRates, require_tax
from jobs.domain.checks import BadValueError
from tests.estimates.a_price import a_book, a_scope, terms

RATES = TaxRates(state=Decimal("0.06"), county=Decimal("0.015"), city=Decimal("0.005"))


def priced(mode: str, **changes: object) -> Priced:
    """450 of material and 800 of labor, overhead 10 %, margin 20 %, 8 % of tax."""
    shares = {"overhead": Decimal("0.10"), "margin": Decimal("0.20"), "tax_rates": RATES}
    return price_scope(a_scope(), a_book(), terms(tax_mode=mode, **shares | changes))


def test_state_county_and_city_are_added_up() -> None:
    assert RATES.total == Decimal("0.08")


# Paid at purchase: 450 + 36 + 800 = 1 286; + 128.60 = 1 414.60; / 0.80 = 1 768.25.
# Otherwise 1 250 + 125 = 1 375; / 0.80 = 1 718.75, of which material is 618.75, labor 1 100:
# 8 % of the material is 49.50, of all 137.50. Paid at purchase, labor is 1 100 too: 88.
@pytest.mark.parametrize(
    ("mode", "labor_taxed", "price", "tax", "total"),
    [
        ("consumer", False, "1768.25", "0", "1768.25"),
        ("consumer", True, "1768.25", "88.00", "1856.25"),
        ("seller", False, "1718.75", "49.50", "1768.25"),
        ("seller", True, "1718.75", "137.50", "1856.25"),
        ("all", False, "1718.75", "137.50", "1856.25"),
        ("exempt", True, "1718.75", "0", "1718.75"),
    ],
)
def test_one_job_in_every_mode(
    mode: str, *, labor_taxed: bool, price: str, tax: str, total: str
) -> None:
    result = priced(mode, labor_taxed=labor_taxed)
    assert (result.subtotal, result.tax, result.total) == (
        Decimal(price),
        Decimal(tax),
        Decimal(total),
    )


def test_tax_paid_at_purchase_is_a_cost_and_no_other_is() -> None:
    costs = {mode: priced(mode).use_tax for mode in ("consumer", "seller", "all", "exempt")}
    assert costs == {"consumer": 36, "seller": 0, "all": 0, "exempt": 0}


def test_the_minimum_is_taxed_as_labor_is() -> None:
    # 281.25 make up 2 000; 8 % of 1 100 + 281.25 is 110.50, of the material 49.50.
    result = priced("seller", labor_taxed=True, minimum=Decimal(2000))
    assert result.tax == 160


@pytest.mark.parametrize(
    ("rates", "said"),
    [
        (("-1", "0", "0"), "state_percent is -1; accepted: a number of at least 0"),
        (("0", "31", "0"), "county_percent is 31; accepted: .* at most 30"),
        (("20", "10", "0.5"), "state_percent is '30.5 together'; accepted: up to 30"),
    ],
)
def test_tax_out_of_bounds_is_refused(rates: tuple[str, str, str], said: str) -> None:
    state, county, city = map(Decimal, rates)
    with pytest.raises(BadValueError, match=said):
        require_tax(state, county, city)


def test_thirty_percent_together_is_accepted() -> None:
    require_tax(Decimal(20), Decimal(5), Decimal(5))
