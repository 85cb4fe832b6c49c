"""The range of a ballpark, by hours and by the rate card, each sum worked by hand beside it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.ballpark.area import size_said
from estimates.domain.ballpark.counts import (
    CROSSCUTS,
    PIECES,
    RIPS,
    WASTE,
    RoughFloor,
    planks_ft2,
    rough_counts,
)
from estimates.domain.ballpark.price import HEADS, BallparkRange, ballpark_range
from estimates.domain.price_book import PriceBook, PricingTerms
from estimates.domain.terms.job_terms import TaxRates
from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG
from jobs.domain.scope.inputs import plan_counts
from jobs.domain.scope.rates import STARTING_RATES
from jobs.readers.stored_plan import stored_plan
from tests.builders import make_company, make_job, make_plan, make_room, make_zone
from tests.estimates.a_price import Given, a_material, an_adder, terms

SHARES = {"overhead": Decimal("0.10"), "margin": Decimal("0.20")}
"""A cost is sold at 1.10 / 0.80 = 1.375 of itself; an hour at 50 for 68.75."""


def a_floor(**changes: object) -> RoughFloor:
    """Ten by ten feet on a bare subfloor, base left alone, planks at 3.00 a square foot."""
    given: Given = {
        "size": size_said("10 x 10"),
        "old_floor": "none",
        "base": "keep",
        "flooring_ft2": Decimal(3),
    }
    return RoughFloor(**given | changes)


def a_card(*adders: object) -> PriceBook:
    materials = (a_material("disposal", "0.35"), a_material("base_stock", "14"))
    return PriceBook(prices=(*materials, *adders), burdened_rate=Decimal(50))  # type: ignore[arg-type]


def priced(
    floor: RoughFloor, book: PriceBook | None = None, how: PricingTerms | None = None
) -> BallparkRange:
    at = how or terms(**SHARES)
    return ballpark_range(floor, book or a_card(), at, STARTING_RATES, Decimal(1))


def ends(result: BallparkRange, label: str) -> tuple[Decimal, Decimal]:
    (line,) = [line for line in result.lines if line.label == label]
    return line.least, line.most


def test_by_the_hours_of_the_company() -> None:
    result = priced(a_floor())

    # Least: set up and clean 2.5 h 171.88; 100 ft2 x 0.0255 h 175.31; 49 pieces 0.49 h 33.69;
    # 10 crosscuts 0.3 h 20.63; 3 rips 0.24 h 16.50; 170 lb carried 0.425 h 29.22, loaded 0.17 h
    # 11.69: 458.92.
    # Most, a tenth more floor: 171.88; 110 x 0.0255 h 192.84; 66 pieces 45.38;
    # 30.8 crosscuts 63.53; 7.7 rips 42.35; 2.2 notches 30.25; 231 lb 39.70 and 15.88: 601.81.
    assert ends(result, "Set up, prepare, lay and clean") == (Decimal("458.92"), Decimal("601.81"))
    # 105 ft2 and 123.2 ft2 of plank at 3.00 x 1.375.
    assert ends(result, "Planks") == (Decimal("433.13"), Decimal("508.20"))
    assert ends(result, "Drive") == (Decimal("68.75"), Decimal("68.75"))
    # 960.80 and 1 178.76, to the nearest 10.
    assert (result.least, result.most) == (Decimal(960), Decimal(1180))
    assert not result.by_card


def test_hours_and_days_count_the_drive() -> None:
    result = priced(a_floor())

    # 2.5 + 2.55 + 0.49 + 0.3 + 0.24 + 0.425 + 0.17 = 6.675 h of work, and an hour's drive.
    assert result.hours[0] == Decimal("7.675")
    assert result.days == (1, 1)
    # 2 000 ft2: 2.5 + 51 + 9.8 + 6 + 4.8 + 8.5 + 3.4 = 86 h; 15 a day beside the drive: 6 days.
    assert priced(a_floor(size=size_said("40 x 50"))).days[0] == 6


def test_by_the_rate_card() -> None:
    card = a_card(
        an_adder("floor_area", "3.25"),
        an_adder("tear_out", "0.75"),
        an_adder("base_on", "2.50"),
        an_adder("casings", "20"),
    )
    floor = a_floor(old_floor="carpet", base="reinstall", doors=2, flooring_ft2=None)
    result = priced(floor, card)

    assert ends(result, "Set up, prepare, lay and clean") == (Decimal("325.00"), Decimal("357.50"))
    # Tear-out 75.00 by the card; disposal has no adder: 35.00 and half an hour, x 1.375: 82.50.
    # A tenth more: 82.50, and 38.50 with 0.55 h 90.75.
    assert ends(result, "Old floor out and hauled away") == (Decimal("157.50"), Decimal("173.25"))
    # 40 and 44 ft; what the card says for base on pays for base off too.
    assert ends(result, "Base") == (Decimal("100.00"), Decimal("110.00"))
    # Four casings 80.00; two doors off and on without an adder, 0.8 h: 55.00.
    assert ends(result, "Doors and casings") == (Decimal("135.00"), Decimal("135.00"))
    # 786.25 and 844.50, to the nearest 10.
    assert (result.least, result.most) == (Decimal(790), Decimal(840))
    assert result.by_card
    assert "the planks, which the client has" in result.left_out


def test_what_nobody_knows_yet_counts_at_the_upper_end_alone() -> None:
    result = priced(a_floor(old_floor="unknown", base="unknown"))

    # Any old floor: 110 ft2 x 1.5 h a hundred 1.65 h 113.44; 38.50 and 0.55 h 90.75.
    assert ends(result, "Old floor out and hauled away") == (Decimal(0), Decimal("204.19"))
    # 44 ft off 0.66 h 45.38, on 2.2 h 151.25.
    assert ends(result, "Base") == (Decimal(0), Decimal("196.63"))


def test_new_base_is_bought_by_the_stick() -> None:
    counts = {count.code: count for count in rough_counts(a_floor(base="replace"))}
    # 40 ft and a tenth are 44 ft, 4 sticks of 12; 44 ft and a tenth 48.4 ft, 5 sticks.
    assert (counts["base_stock"].least, counts["base_stock"].most) == (Decimal(4), Decimal(5))


def test_steps_take_planks_and_nosing() -> None:
    floor = a_floor(steps=4)
    counts = {count.code: count for count in rough_counts(floor)}
    # Four of 36 in from sticks of 72 in; 100 + 4 x 4.375 = 117.5 ft2, and 5 %.
    assert counts["nosing_stock"].most == 2
    assert planks_ft2(floor)[0] == Decimal("123.375")


def test_the_minimum_charge_lifts_both_ends() -> None:
    result = priced(a_floor(), how=terms(minimum=Decimal(1200), **SHARES))
    assert ends(result, "Minimum charge, made up") == (Decimal("239.20"), Decimal("21.24"))
    assert (result.least, result.most) == (Decimal(1200), Decimal(1200))


def test_tax_that_we_pay_is_in_the_range_and_tax_on_the_bill_is_left_out() -> None:
    rates = TaxRates(state=Decimal("0.06"))
    paid = priced(a_floor(), how=terms(tax_mode="consumer", tax_rates=rates, **SHARES))
    # 105 ft2 x 3.00 x 1.06 x 1.375.
    assert ends(paid, "Planks")[0] == Decimal("459.11")
    billed = priced(a_floor(), how=terms(tax_mode="seller", tax_rates=rates, **SHARES))
    assert ends(billed, "Planks")[0] == Decimal("433.13")
    assert "sales tax on the bill" in billed.left_out


def test_what_has_no_price_is_named_and_never_nought() -> None:
    bare = PriceBook(prices=(), burdened_rate=Decimal(50))
    result = priced(a_floor(old_floor="carpet", pad=True), bare)
    assert result.left_out[:2] == (
        "disposal of the old floor: no price in the book",
        "pad: no price in the book",
    )


def test_every_count_stands_under_one_head() -> None:
    counted = ("doors", "strips", "steps", "furniture", "toilets", "appliances")
    changes: Given = {"old_floor": "tile", "base": "replace", "pad": True}
    everything = a_floor(**changes | dict.fromkeys(counted, 2))
    codes = [code for under in HEADS.values() for code in under]
    assert len(codes) == len(set(codes))
    assert {count.code for count in rough_counts(everything)} <= set(codes) <= set(CATALOG)


@pytest.mark.parametrize(
    "changes",
    [{"doors": -1}, {"steps": 201}, {"base": "gone"}, {"flooring_ft2": Decimal(-1)}],
)
def test_what_no_floor_has_is_refused(changes: dict[str, object]) -> None:
    with pytest.raises(BadValueError):
        a_floor(**changes)


@pytest.mark.django_db
@pytest.mark.parametrize(("feet", "end"), [((30, 20), 0), ((10, 10), 1)])
def test_shares_are_those_of_a_large_and_of_a_small_room_as_planned(
    feet: tuple[int, int], end: int
) -> None:
    room = make_room(make_job(make_company()), size=(feet[0] * 12, feet[1] * 12))
    counts = plan_counts(stored_plan(make_plan(make_zone(room))).plan_form)
    area = counts.area_in2 / 144
    hundredth = Decimal("0.015")
    assert abs(counts.pieces / area - PIECES[end]) < hundredth
    assert abs(counts.crosscuts / area - CROSSCUTS[end]) < hundredth
    assert abs(counts.rips / area - RIPS[end]) < hundredth
    # The planks of the plan, 7 by 48 in, lie within what is taken for waste.
    assert counts.planks * Decimal(7 * 48) / 144 / area < 1 + WASTE[1]
