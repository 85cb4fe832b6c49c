"""What one of each thing on the rate card costs by the hours, reckoned by hand at 50 an hour."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.card.rows import ROWS, row_for
from estimates.domain.card.unit_costs import UnitCost, laying_cost, unit_cost
from estimates.domain.price_book import HALF_DAY, USUAL_COVERS
from jobs.domain.scope.rates import STARTING_RATES, ProductionRate
from tests.estimates.a_price import a_book, a_material, a_quantity, a_scope, a_task, terms

TRIP = ProductionRate(task_code="travel", driver="trips", hours=Decimal("1.5"), source="company")


def cost_of(code: str, item: str = "", **changes: object) -> UnitCost:
    """The cost of one at the starting rates, overhead 12 %, leveler 38 a bag, disposal 0.35."""
    book = a_book(a_material("leveller", "38"), a_material("disposal", "0.35", taxable=False))
    given = {"overhead": Decimal("0.12")} | changes
    return unit_cost(code, item, rates=(*STARTING_RATES, TRIP), book=book, terms=terms(**given))


@pytest.mark.parametrize(
    ("code", "item", "hours", "cost"),
    [
        ("casings", "", "0.2", "11.20"),  # 0.2 h x 50 x 1.12
        ("doors_off", "", "0.40", "22.40"),  # 0.15 h off, 0.25 h on
        ("treads", "", "1.00", "56.00"),  # tread 0.5, riser 0.25, nosing 0.25
        ("base_on", "", "0.065", "3.64"),  # off 1.5 h and on 5 h per 100 ft
        ("toilets", "", "1.25", "70.00"),
        ("furniture", "", "1.5", "84.00"),
        ("tear_out", "", "0.015", "0.84"),
        ("tear_out", "tile", "0.06", "3.36"),
        ("trips", "", "1.5", "84.00"),
        (HALF_DAY, "", "8", "448.00"),  # half of a crew's 16 hours
    ],
)
def test_a_unit_costs_its_hours_with_overhead(code: str, item: str, hours: str, cost: str) -> None:
    one = cost_of(code, item)

    assert (one.hours, one.cost) == (Decimal(hours), Decimal(cost))
    assert not one.beside


def test_a_bag_costs_its_half_hour_and_itself_with_the_tax_on_it() -> None:
    bag = cost_of("leveller", tax_mode="consumer", tax_rate=Decimal("0.08"))

    # 0.5 h x 50 = 25; 38 x 1.08 = 41.04; 66.04 x 1.12 = 73.9648.
    assert bag.cost == Decimal("73.96")
    assert bag.beside == ("Primer",)


def test_disposal_costs_the_hauling_and_what_the_place_takes() -> None:
    # 0.005 h x 50 = 0.25; 0.60 x 1.12 = 0.672.
    assert cost_of("disposal").cost == Decimal("0.67")


def test_laying_by_the_rates_is_a_least_cost_and_names_what_comes_on_top() -> None:
    laying = cost_of("floor_area")

    # (0.4 prep + 0.3 pad + 2 laying + 0.15 cleaning) / 100 h x 50 x 1.12.
    assert (laying.hours, laying.cost) == (Decimal("0.0285"), Decimal("1.60"))
    assert {"Pieces laid", "Crosscuts", "Carried in"} <= set(laying.beside)


def test_laying_is_known_from_floors_that_were_reckoned() -> None:
    small = a_scope(
        quantities=(a_quantity("floor_area", 80),),
        tasks=(a_task("lay", "6.00"), a_task("setup", "1.50"), a_task("tear_out", "9.00")),
    )

    laying = laying_cost([a_scope(), small], a_book(), terms(overhead=Decimal("0.10")))

    # 12 + 7.5 h on 120 + 80 ft2: 0.0975 h x 50 x 1.10 = 5.3625; tear-out has a rate of its own.
    assert laying is not None
    assert (laying.hours, laying.cost, laying.scopes) == (Decimal("0.0975"), Decimal("5.36"), 2)


def test_nothing_is_known_without_a_floor() -> None:
    assert laying_cost([], a_book(), terms()) is None


def test_the_rate_at_the_margin_leaves_the_margin() -> None:
    # 11.20 / 0.75.
    assert cost_of("casings").at_margin(terms(margin=Decimal("0.25"))) == Decimal("14.93")


def test_every_row_pays_for_something_and_stands_once() -> None:
    assert len({row.key for row in ROWS}) == len(ROWS)
    assert {row.code for row in ROWS} == {*USUAL_COVERS, HALF_DAY}


def test_an_item_without_a_row_is_charged_in_the_row_of_any() -> None:
    assert row_for("tear_out", "tile").label == "Tear-out, tile"
    assert row_for("tear_out", "other").label == "Tear-out"
    assert row_for("disposal", "carpet").label == "Disposal"
