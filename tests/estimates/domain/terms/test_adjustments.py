"""Added lines, a discount, rounding and labor only, followed by hand to the cent."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.money import round_to
from estimates.domain.price_book import Allowance
from estimates.domain.priced import Priced, amounts_of
from estimates.domain.pricing import price_scope
from estimates.domain.terms.job_terms import AddedLine, Discount, TaxRates
from jobs.domain.checks import BadValueError
from tests.estimates.a_price import a_book, a_material, a_quantity, a_scope, terms, the_line

PIANO = AddedLine(
    label="Piano moved", quantity=Decimal(1), unit="job", unit_cost=Decimal(100), taxable=False
)
SILL = AddedLine(
    label="Oak sill",
    quantity=Decimal(2),
    unit="each",
    unit_cost=Decimal(20),
    unit_price=Decimal(45),
    taxable=True,
)
BAGS = Allowance(
    code="bags",
    label="Leveler",
    unit="bag",
    units=Decimal(4),
    unit_price=Decimal(70),
    unit_cost=Decimal(45),
)
SHARES = {"overhead": Decimal("0.10"), "margin": Decimal("0.20")}


def priced(**changes: object) -> Priced:
    return price_scope(a_scope(), a_book(), terms(**SHARES | changes))


def five_percent() -> Discount:
    return Discount(part=Decimal("0.05"), reason="second job")


def test_an_added_line_at_margin_bears_overhead_and_margin() -> None:
    # 100 + 10 % = 110; / 0.80 = 137.50.
    assert the_line(priced(added=(PIANO,)), "added-1").amount == Decimal("137.50")


def test_an_added_line_at_its_price_is_charged_so() -> None:
    result = priced(added=(SILL,))
    # 2 x 45 = 90, costing 2 x 20 = 40, on top of 1 718.75.
    assert the_line(result, "added-1").amount == 90
    assert (result.subtotal, result.added_cost) == (Decimal("1808.75"), Decimal(40))


def test_what_is_added_counts_towards_the_minimum() -> None:
    assert "minimum" not in {
        line.code for line in priced(added=(SILL,), minimum=Decimal(1800)).lines
    }


def test_a_part_off_is_a_line_with_its_reason() -> None:
    line = the_line(priced(discount=five_percent()), "discount")
    # 5 % of 1 718.75 is 85.9375.
    assert (line.amount, line.label, line.basis) == (
        Decimal("-85.94"),
        "Discount, 5%",
        "second job",
    )


def test_an_amount_off_comes_out_of_profit_and_not_of_cost() -> None:
    result = priced(discount=Discount(amount=Decimal(50), reason="scratched door"))
    assert (result.subtotal, result.cost) == (Decimal("1668.75"), Decimal(1375))
    assert result.profit == Decimal("293.75")


def test_a_discount_beyond_the_price_is_a_fault_and_takes_the_price_only() -> None:
    result = priced(discount=Discount(amount=Decimal(2000), reason="slip"))
    assert [fault.text for fault in result.faults] == [
        "Discount: 2000 is more than the price of 1718.75"
    ]
    assert result.subtotal == 0


@pytest.mark.parametrize(
    ("amount", "step", "rounded"),
    [
        ("1718.75", 10, "1720.00"),
        ("1718.75", 5, "1720.00"),
        ("1717.49", 5, "1715.00"),
        ("1715.00", 10, "1720.00"),
        ("1714.99", 10, "1710.00"),
    ],
)
def test_a_price_is_rounded_to_the_nearest_step_half_up(
    amount: str, step: int, rounded: str
) -> None:
    assert str(round_to(Decimal(amount), step)) == rounded


def test_rounding_comes_after_the_discount() -> None:
    result = priced(discount=five_percent(), round_to=10)
    # 1 718.75 - 85.94 = 1 632.81, so 1 630.
    assert the_line(result, "rounding").amount == Decimal("-2.81")
    assert amounts_of(result.lines) == result.subtotal == 1630


def test_a_round_price_has_no_rounding_line() -> None:
    result = priced(round_to=10, discount=Discount(amount=Decimal("8.75"), reason="round"))
    assert "rounding" not in {line.code for line in result.lines}


def test_a_whole_job_to_the_cent() -> None:
    result = priced(
        added=(PIANO, SILL),
        allowances=(BAGS,),
        discount=five_percent(),
        round_to=10,
        tax_mode="seller",
        tax_rates=TaxRates(state=Decimal("0.06"), county=Decimal("0.015"), city=Decimal("0.005")),
    )
    # 1 718.75 + 137.50 + 90 + 280 = 2 226.25; 5 % is 111.31; 2 114.94 is rounded to 2 110.
    assert result.subtotal == 2110
    # Taxed: material 618.75 and sills 90, which is 671.74 of the 2 110; 8 % of it.
    assert result.tax == Decimal("53.74")
    assert result.total == Decimal("2163.74")
    # 450 + 800 + 180 + 140 = 1 570; with overhead 1 727.
    assert (result.direct_cost, result.cost) == (Decimal(1570), Decimal(1727))
    assert (result.profit, result.margin) == (Decimal(383), Decimal("0.1815"))
    assert result.contribution == 540


def test_of_a_labor_only_job_the_client_buys_all_material() -> None:
    result = price_scope(a_scope(), a_book(a_material("pad", "45")), terms(labor_only=True))
    # Nobody needs a price of cartons; 16 h x 50 = 800.
    assert not result.faults
    assert (result.material_cost, result.total) == (Decimal(0), Decimal(800))
    assert the_line(result, "cartons").basis == "client's material"


def test_of_a_labor_only_job_disposal_is_still_ours() -> None:
    scope = a_scope(quantities=(a_quantity("disposal", 100),))
    result = price_scope(scope, a_book(a_material("disposal", "0.35")), terms(labor_only=True))
    assert result.material_cost == 35


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"reason": " "}, "discount.reason is ' '"),
        ({"part": Decimal(0)}, "accepted: either a part of the price or an amount"),
        ({"amount": Decimal(5)}, "accepted: either a part of the price or an amount"),
        ({"part": Decimal("1.01")}, r"discount.part is 1.01; accepted: .* at most 1"),
    ],
)
def test_a_discount_out_of_bounds_is_refused(changes: dict[str, object], said: str) -> None:
    given = {"part": Decimal("0.05"), "reason": "second job"} | changes
    with pytest.raises(BadValueError, match=said):
        Discount(**given)  # type: ignore[arg-type]


def test_another_rounding_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"terms.round_to is '7'"):
        terms(round_to=7)
