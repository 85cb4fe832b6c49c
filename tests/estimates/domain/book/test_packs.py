"""A price by the pack or by what it covers, against figures worked out by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.book.groups import GROUP_OF, GROUPS, MEASURES, is_loose
from estimates.domain.book.packs import PackPrice
from estimates.domain.money import cents, tidy
from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG
from tests.estimates.a_price import Given


def a_carton(amount: str, **changes: object) -> PackPrice:
    """A price of a carton that covers 23.3 ft2."""
    given: Given = {"code": "cartons", "pack": "carton", "covers": Decimal("23.3"), "per": "pack"}
    return PackPrice(amount=Decimal(amount), **given | changes)


def a_box(amount: str, **changes: object) -> PackPrice:
    """A price of a box of 300 screws."""
    given: Given = {"code": "subfloor_screws", "pack": "box", "covers": Decimal(300)}
    given |= {"per": "pack"}
    return PackPrice(amount=Decimal(amount), **given | changes)


def test_every_material_of_the_catalog_stands_in_one_group() -> None:
    materials = {code for code, entry in CATALOG.items() if entry.kind == "material"}
    assert sorted(code for codes in GROUPS.values() for code in codes) == sorted(materials)
    assert set(GROUP_OF) == set(MEASURES) == materials


def test_a_price_by_the_square_foot_makes_the_price_of_a_carton() -> None:
    # 2.62 x 23.3 = 61.046
    assert a_carton("2.62", per="measure").by_pack == Decimal("61.046")


def test_a_price_by_the_carton_makes_that_of_a_square_foot() -> None:
    # 61 / 23.3 = 2.618025751...
    assert a_carton("61").by_measure == Decimal("2.618026")


def test_cartons_priced_by_the_square_foot_are_billed_as_square_feet() -> None:
    # 17 cartons are 396.1 ft2; at 2.62 they are 1,037.782. Cartons of 61.05 would be 1,037.85.
    price = a_carton("2.62", per="measure")
    assert cents(17 * price.unit_cost) == Decimal("1037.78")


def test_a_price_by_the_carton_needs_no_coverage() -> None:
    price = a_carton("61", covers=None)
    assert (price.unit_cost, price.by_measure) == (Decimal("61.00"), None)


def test_what_a_floor_takes_loose_costs_its_part_of_the_box() -> None:
    # 9.50 / 300 = 0.031666...
    assert a_box("9.50").unit_cost == Decimal("0.031667")


def test_what_is_sold_loose_needs_no_pack() -> None:
    assert a_box("0.05", per="measure", pack="", covers=None).unit_cost == Decimal("0.05")


def test_a_stick_is_priced_by_the_foot_of_it() -> None:
    # 8 ft at 1.75 a foot
    given: Given = {"code": "base_stock", "pack": "stick", "covers": Decimal(8)}
    assert PackPrice(amount=Decimal("1.75"), per="measure", **given).by_pack == Decimal("14.00")


@pytest.mark.parametrize("covers", ["0", "-1", "NaN", "100000"])
def test_a_coverage_out_of_bounds_is_refused(covers: str) -> None:
    with pytest.raises(BadValueError, match=r"covers is .*accepted: a number of more than 0"):
        a_carton("61", covers=Decimal(covers))


def test_a_price_by_the_square_foot_without_a_coverage_is_refused() -> None:
    with pytest.raises(BadValueError, match="how much a carton covers or holds, in ft2"):
        a_carton("2.62", per="measure", covers=None)


def test_a_box_that_holds_nobody_knows_how_many_is_refused() -> None:
    with pytest.raises(BadValueError, match="how much a box covers or holds, in each"):
        a_box("9.50", covers=None)


@pytest.mark.parametrize("pack", ["box", ""])
def test_what_a_floor_takes_by_the_carton_comes_in_cartons(pack: str) -> None:
    with pytest.raises(BadValueError, match="accepted: one of carton"):
        a_carton("61", pack=pack)


def test_a_price_below_zero_is_refused() -> None:
    with pytest.raises(BadValueError, match="amount is -1; accepted: a number of at least 0"):
        a_carton("-1")


def test_amounts_have_two_places_and_more_only_where_they_say_something() -> None:
    amounts = [tidy(Decimal(text)) for text in ("61.0000", "0.0950", "6E+1", "0")]
    assert [str(amount) for amount in amounts] == ["61.00", "0.095", "60.00", "0.00"]


def test_only_what_is_counted_in_its_measure_is_loose() -> None:
    loose = {code for code in GROUP_OF if is_loose(code)}
    assert {"primer", "disposal", "base_nails", "spacers"} < loose
    assert not {"cartons", "pad", "leveller", "caulk"} & loose
