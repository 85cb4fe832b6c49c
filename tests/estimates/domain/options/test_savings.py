"""An option saves labor by the hour, and money only where a half day or a trip falls away."""

from dataclasses import replace
from decimal import Decimal

import pytest

from estimates.domain.options.savings import Labor, Option, Saving, labor_saved, option_of
from estimates.domain.price_book import PriceBook
from estimates.domain.pricing import price_scope
from jobs.domain.checks import BadValueError
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import Given, a_book, a_material, a_quantity, a_scope, a_task, terms

# A crew of two for eight hours at 50: a half day of eight man-hours costs 400; a drive two hours.
CREW = Labor(burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16), trip_hours=Decimal(2))


def an_option(name: str, hours: str, material: str = "450", **changes: object) -> Option:
    given: Given = {"area_ft2": Decimal(200), "days": Decimal(1), "trips": 1}
    return Option(
        name=name, hours=Decimal(hours), material_cost=Decimal(material), **given | changes
    )


def test_hours_saved_are_worth_the_burdened_rate() -> None:
    saving = labor_saved(an_option("loose pad", "20"), an_option("attached pad", "16"), CREW)

    # 4 h at 50 are 200, on 200 ft2 1.00 a square foot.
    assert saving.worth_by_the_hour == 200
    assert saving.by_ft2(saving.worth_by_the_hour) == 1


def test_hours_saved_inside_a_half_day_earn_nothing() -> None:
    saving = labor_saved(an_option("saw", "15.5"), an_option("score", "13"), CREW)

    assert saving.worth_by_the_hour == 125
    assert saving.half_days_saved == 0
    assert saving.worth_in_half_days == 0


def test_a_half_day_that_falls_away_is_worth_a_half_day() -> None:
    wide = an_option("wide", "8", days=Decimal("0.5"))
    saving = labor_saved(an_option("narrow", "15"), wide, CREW)

    assert saving.half_days_saved == 1
    assert saving.days_saved == Decimal("0.5")
    assert saving.worth_in_half_days == 400


def test_a_trip_that_goes_with_its_half_day_is_counted_once() -> None:
    torn = an_option("tear out", "18", days=Decimal("1.5"), trips=2)
    saving = labor_saved(torn, an_option("lay over", "16"), CREW)

    # The drive lies in the half day of eight hours that is booked: 8 x 50.
    assert saving.trips_saved == 1
    assert saving.worth_in_half_days == 400


def test_a_trip_that_goes_alone_is_worth_its_drive() -> None:
    three_mornings = an_option("three mornings", "20", days=Decimal("1.5"), trips=3)
    saving = labor_saved(three_mornings, an_option("two", "18", days=Decimal("1.5"), trips=2), CREW)

    assert (saving.half_days_saved, saving.trips_saved) == (0, 1)
    assert saving.worth_in_half_days == 100


def test_a_trip_gained_for_a_half_day_lost_is_set_against_it() -> None:
    mornings = an_option("mornings", "20", days=Decimal("1.5"), trips=3)
    saving = labor_saved(mornings, an_option("whole days", "20", days=Decimal(2), trips=2), CREW)

    # A half day more costs 400, a drive of two hours less saves 100.
    assert saving.worth_in_half_days == -300


def test_dearer_material_is_set_against_both() -> None:
    thin = an_option("thin core", "20", days=Decimal("1.5"))
    saving = labor_saved(thin, an_option("thick core", "15", "600"), CREW)

    # 5 h x 50 = 250; a half day of 400; both less 150.
    assert saving.dearer_material == 150
    assert saving.gain_by_the_hour == 100
    assert saving.gain_in_half_days == 250


def test_an_option_that_takes_longer_saves_less_than_nothing() -> None:
    diagonal = an_option("diagonal", "12", days=Decimal("1.5"))
    saving = labor_saved(an_option("plain", "8"), diagonal, CREW)

    assert saving.worth_by_the_hour == -200
    assert saving.worth_in_half_days == -400


def test_days_that_nobody_could_lay_out_are_those_that_the_hours_fill() -> None:
    saving = labor_saved(
        an_option("narrow", "17", days=None), an_option("wide", "16", days=None), CREW
    )

    # 17 h are begun half days number three, 16 h fill two.
    assert saving.half_days_saved == 1


def test_options_of_two_floors_are_refused() -> None:
    with pytest.raises(BadValueError, match=r"option b.area_ft2 is 203; accepted: the same floor"):
        labor_saved(an_option("a", "8"), an_option("b", "8", area_ft2=Decimal(203)), CREW)


def test_an_option_is_read_off_a_priced_scope() -> None:
    scope = a_scope()
    priced = price_scope(scope, a_book(), terms(tax_mode="consumer", tax_rate=Decimal("0.08")))

    option = option_of("as planned", scope, priced)
    assert (option.hours, option.days) == (Decimal(16), Decimal(1))
    assert option.material_cost == 486
    # 486 on 120 ft2; 16 h at 50 are 800, on 120 ft2 6.67.
    assert option.material_per_ft2 == Decimal("4.05")
    assert CREW.cost_per_ft2(option) == Decimal("6.67")


def saved(hours: str, dearer: str) -> Saving:
    base = an_option("base", "20", "500")
    other = an_option("other", str(20 - Decimal(hours)), str(500 + Decimal(dearer)))
    return labor_saved(base, other, CREW)


@pytest.mark.parametrize(
    ("hours", "dearer", "rate", "pays"),
    [
        ("4", "150", "37.50", "above"),
        ("-4", "-150", "37.50", "below"),
        ("4", "-150", None, "always"),
        ("0", "-1", None, "always"),
        ("4", "0", None, "always"),
        ("-4", "150", None, "never"),
        ("0", "1", None, "never"),
        ("0", "0", None, "same"),
    ],
)
def test_the_break_even_rate_is_dearer_material_by_hours_saved(
    hours: str, dearer: str, rate: str | None, pays: str
) -> None:
    saving = saved(hours, dearer)

    assert saving.break_even_rate == (None if rate is None else Decimal(rate))
    assert saving.pays == pays


# The same floor in boards at 85 a carton that need no pad: 9.35 h of laying in place of 12. Nothing
# here is shared with the division above: at each rate both are priced as whole jobs.
def thick_core() -> FrozenScope:
    quantities = (a_quantity("floor_area", 120), a_quantity("cartons", 6, item="thick"))
    tasks = (
        a_task("lay", "9.35", zone="up", rows=(1, 18)),
        a_task("base", "4.00", zone="up"),
    )
    return a_scope(quantities=quantities, tasks=tasks)


def total_at(rate: Decimal, scope: FrozenScope) -> Decimal:
    prices = (a_material("cartons", "60"), a_material("pad", "10"))
    book = PriceBook(
        prices=(*prices, a_material("cartons", "85", item="thick")), burdened_rate=rate
    )
    return price_scope(scope, book, terms(overhead=Decimal("0.1"), margin=Decimal("0.2"))).total


def break_even_by_halving() -> Decimal:
    """The rate at which both jobs are priced alike, to a tenth of a cent."""
    low, high = Decimal(1), Decimal(1000)
    while high - low > Decimal("0.001"):
        rate = (low + high) / 2
        if total_at(rate, thick_core()) > total_at(rate, a_scope()):
            low = rate
        else:
            high = rate
    return (low + high) / 2


def test_the_break_even_rate_is_the_one_at_which_both_are_priced_alike() -> None:
    scope, other = a_scope(), thick_core()
    book = a_book(
        a_material("cartons", "60"),
        a_material("cartons", "85", item="thick"),
        a_material("pad", "10"),
    )
    base = option_of("thin", scope, price_scope(scope, book, terms()))
    option = option_of("thick", other, price_scope(other, book, terms()))
    saving = labor_saved(base, option, CREW)

    # Six cartons at 25 more, two pads of 10 less: 130 for 2.65 h, 49.06 an hour.
    assert saving.break_even_rate == Decimal("49.06")
    assert abs(break_even_by_halving() - Decimal("49.06")) <= Decimal("0.01")
    assert total_at(Decimal(45), other) > total_at(Decimal(45), scope)
    assert total_at(Decimal(55), other) < total_at(Decimal(55), scope)


def test_a_half_day_more_or_less_is_read_off_the_booked_days() -> None:
    scope = a_scope()
    shorter = replace(scope, tasks=(a_task("lay", "7.50", zone="up", rows=(1, 18)),))
    base = option_of("as planned", scope, price_scope(scope, a_book(), terms()))
    option = option_of("shorter", shorter, price_scope(shorter, a_book(), terms()))

    assert (base.days, option.days) == (Decimal(1), Decimal("0.5"))
    assert labor_saved(base, option, CREW).half_days_saved == 1
