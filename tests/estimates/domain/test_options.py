"""An option saves labor by the hour, and money only where a half day or a trip falls away."""

from decimal import Decimal

import pytest

from estimates.domain.options import Labor, Option, client_shares, labor_saved, option_of
from estimates.domain.pricing import price_scope
from jobs.domain.checks import BadValueError
from jobs.domain.scope.scope import FrozenScope
from tests.estimates.a_price import Given, a_book, a_quantity, a_scope, a_task, terms

# A crew of two for eight hours at 50: a half day of eight man-hours costs 400; a trip 30.
CREW = Labor(burdened_rate=Decimal(50), crew_hours_per_day=Decimal(16), trip_cost=Decimal(30))


def an_option(name: str, hours: str, material: str = "450", **changes: object) -> Option:
    given: Given = {"area_ft2": Decimal(200)}
    return Option(
        name=name, hours=Decimal(hours), material_cost=Decimal(material), **given | changes
    )


def test_hours_saved_are_worth_the_burdened_rate() -> None:
    saving = labor_saved(an_option("loose pad", "20"), an_option("attached pad", "16"), CREW)

    # 4 h at 50 are 200, on 200 ft2 1.00 a square foot.
    assert saving.worth_by_the_hour == 200
    assert saving.worth_by_the_hour_per_ft2 == 1


def test_hours_saved_inside_a_half_day_earn_nothing() -> None:
    saving = labor_saved(an_option("saw", "15.5"), an_option("score", "13"), CREW)

    assert saving.worth_by_the_hour == 125
    assert saving.half_days_saved == 0
    assert saving.worth_in_half_days == 0


def test_a_half_day_that_falls_away_is_worth_a_half_day() -> None:
    saving = labor_saved(an_option("narrow", "15"), an_option("wide", "8"), CREW)

    assert saving.half_days_saved == 1
    assert saving.worth_in_half_days == 400


def test_a_trip_that_falls_away_is_worth_a_trip_too() -> None:
    saving = labor_saved(an_option("tear out", "16.01"), an_option("lay over", "16"), CREW)

    # A hundredth of an hour, and yet one half day and one trip sooner.
    assert saving.worth_by_the_hour == Decimal("0.50")
    assert saving.worth_in_half_days == 430


def test_dearer_material_is_set_against_both() -> None:
    saving = labor_saved(
        an_option("thin core", "20", "450"), an_option("thick core", "15", "600"), CREW
    )

    # 5 h x 50 = 250; from three half days to two and from two trips to one: 430.
    assert saving.dearer_material == 150
    assert saving.gain_by_the_hour == 100
    assert saving.gain_in_half_days == 280


def test_an_option_that_takes_longer_saves_less_than_nothing() -> None:
    saving = labor_saved(an_option("plain", "8"), an_option("diagonal", "12"), CREW)

    assert saving.worth_by_the_hour == -200
    assert saving.worth_in_half_days == -400


def test_options_of_two_floors_are_refused() -> None:
    with pytest.raises(BadValueError, match=r"option b.area_ft2 is 203; accepted: the same floor"):
        labor_saved(an_option("a", "8"), an_option("b", "8", area_ft2=Decimal(203)), CREW)


def test_an_option_is_read_off_a_priced_scope() -> None:
    scope = a_scope()
    priced = price_scope(scope, a_book(), terms(tax_mode="consumer", tax_rate=Decimal("0.08")))

    option = option_of("as planned", scope, priced)
    assert option.hours == 16
    assert option.material_cost == 486


def held_scope() -> FrozenScope:
    return a_scope(
        quantities=(a_quantity("tear_out", 120),),
        tasks=(
            a_task("tear_out", "6.00", hold_points=("asbestos", "dust")),
            a_task("base", "4.00"),
            a_task("lay", "12.00"),
        ),
    )


def test_the_client_saves_what_the_price_falls_by() -> None:
    shares = client_shares(a_scope(), a_book(), terms(margin=Decimal("0.20")))

    # Base: 4 h x 50 / 0.80 = 250. Laying is not for the client.
    assert [(share.code, share.hours, share.saves) for share in shares] == [
        ("base", Decimal(4), Decimal(250))
    ]


def test_nothing_is_left_to_the_client_while_asbestos_is_open() -> None:
    shares = client_shares(held_scope(), a_book(), terms())

    assert shares[0].code == "tear_out"
    assert shares[0].saves == 0
    assert shares[0].refused == "not while this is open: asbestos"
    assert shares[1].refused == ""


def test_once_it_is_cleared_the_client_may() -> None:
    shares = client_shares(held_scope(), a_book(), terms(), cleared={"asbestos"})

    assert shares[0].saves == 300
    assert shares[0].refused == ""
