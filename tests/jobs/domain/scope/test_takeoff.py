"""The takeoff counts what a careful installer would, and says how."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.domain.checks import BadValueError
from jobs.domain.quantities import CATALOG, quantity
from jobs.domain.scope.inputs import plan_counts
from jobs.domain.scope.rules import (
    cartons_by_ten_percent,
    cartons_for,
    stair_planks,
    sticks_for,
)
from jobs.domain.scope.takeoff import take_off
from tests.jobs.floors import (
    a_doorway,
    a_job,
    a_pad,
    a_plan,
    a_product,
    a_room,
    a_stair,
    a_zone,
    codes,
    the,
)


@pytest.mark.parametrize(
    ("planks", "attic", "cartons"), [(59, 0, 6), (60, 0, 6), (61, 0, 7), (60, 1, 7), (0, 1, 1)]
)
def test_planks_fill_whole_cartons(planks: int, attic: int, cartons: int) -> None:
    assert cartons_for(planks, 10, attic) == cartons


def test_cartons_hold_the_plan_its_spares_and_one_for_the_attic() -> None:
    cartons = the(take_off(a_job(zones=(a_zone(spares=7, attic_carton=True),))), "cartons")

    assert cartons.amount == 8
    assert cartons.basis == (
        "54 planks in the plan, 7 spares; 10 in a carton, rounded up, and one for the attic; "
        "all of one lot"
    )


def test_spares_that_fit_the_last_carton_cost_no_carton() -> None:
    assert the(take_off(a_job(zones=(a_zone(spares=6),))), "cartons").amount == 6


def test_cartons_of_mixed_widths_are_those_of_the_plan() -> None:
    # Ten boards of three widths in a carton: one width may run out sooner than the count says.
    zone = a_zone(plan=a_plan(planks=54, cartons=8))

    assert the(take_off(a_job(zones=(zone,))), "cartons").amount == 8


def test_the_carton_for_the_attic_comes_on_top_of_mixed_widths_too() -> None:
    zone = a_zone(plan=a_plan(planks=54, cartons=8), attic_carton=True)

    assert the(take_off(a_job(zones=(zone,))), "cartons").amount == 9


def test_the_ten_percent_rule_stands_beside_as_a_fact() -> None:
    customary = the(take_off(a_job()), "cartons_by_ten_percent")

    # 17 280 in2 x 1.10 = 19 008 in2; a carton covers 48 x 7 x 10 = 3 360 in2; 5.66 cartons.
    assert customary.amount == 6
    assert customary.kind == "fact"


def test_ten_percent_runs_short_where_the_plan_needs_more() -> None:
    assert cartons_by_ten_percent(Decimal(16800), Decimal(3360)) == 6
    assert cartons_by_ten_percent(Decimal(18328), Decimal(3360)) == 7


def test_a_pad_under_an_attached_pad_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"product.pad is 'foam pad'; accepted: no pad"):
        a_product(attached_pad=True, pad=a_pad())


def test_an_attached_pad_needs_no_roll() -> None:
    zone = a_zone(product=a_product(attached_pad=True))

    assert not {"pad", "pad_area"} & codes(take_off(a_job(zones=(zone,))))


def test_a_barrier_without_a_roll_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"zone upstairs.barrier is missing"):
        a_zone(barrier_wanted=True)


def test_pieces_and_cuts_come_from_the_plan() -> None:
    quantities = take_off(a_job())

    counted = {
        code: int(the(quantities, code).amount)
        for code in ("pieces", "crosscuts", "rips", "notches", "rows")
    }
    assert counted == {"pieces": 63, "crosscuts": 20, "rips": 4, "notches": 2, "rows": 18}


def test_two_thirty_inch_doorways_share_a_stick() -> None:
    doors = [a_doorway(name=name, width_in=Decimal(30)) for name in ("bath", "bed")]

    assert the(take_off(a_job(doorways=tuple(doors))), "transition_profile").amount == 1


def test_the_saw_kerf_can_cost_a_stick() -> None:
    assert sticks_for([Decimal(36), Decimal(36)], Decimal(72)) == 1
    assert sticks_for([Decimal(36), Decimal(36)], Decimal(72), Decimal("0.125")) == 2


def test_two_strips_of_three_feet_need_a_stick_each_for_the_saw_between_them() -> None:
    # 36 + 36 = 72 in of a 72 in stick, and 1/8 in for the cut: two sticks, of profile and of track.
    doors = [a_doorway(name=name, width_in=Decimal(36), fixing="track") for name in ("a", "b")]

    quantities = take_off(a_job(doorways=tuple(doors)))

    assert the(quantities, "transition_profile").amount == 2
    assert the(quantities, "transition_track").amount == 2


def test_a_strip_longer_than_the_stick_is_joined() -> None:
    assert sticks_for([Decimal(150)], Decimal(72)) == 3


@given(
    lengths=st.lists(st.integers(1, 200).map(Decimal), max_size=20),
    stick=st.integers(20, 150).map(Decimal),
)
def test_sticks_hold_the_lengths_and_waste_less_than_half(
    lengths: list[Decimal], stick: Decimal
) -> None:
    sticks = sticks_for(lengths, stick)

    # Any two bins of first fit together hold more than one bin, so twice the material and one.
    assert sum(lengths) <= sticks * stick
    assert sticks <= 2 * sum(lengths) / stick + 1


def test_each_profile_has_sticks_of_its_own() -> None:
    doors = (a_doorway(), a_doorway(name="hall", treatment="reducer", profile="reducer 3/8"))

    quantities = take_off(a_job(doorways=doors))

    assert the(quantities, "transition_profile", item="T-molding").amount == 1
    assert the(quantities, "transition_profile", item="reducer 3/8").amount == 1


def test_a_floor_carried_through_needs_no_strip() -> None:
    quantities = take_off(a_job(doorways=(a_doorway(treatment="carry through", casings=2),)))

    assert the(quantities, "casings").amount == 2
    assert not {"transitions", "transition_profile", "transition_track"} & codes(quantities)


def test_a_glued_strip_has_adhesive_and_no_screws() -> None:
    quantities = take_off(a_job(doorways=(a_doorway(fixing="adhesive"),)))

    assert the(quantities, "adhesive").amount == 1
    assert not {"transition_screws", "transition_track"} & codes(quantities)


def test_a_track_is_screwed_every_eight_inches() -> None:
    # 32 in: screws at 0, 8, 16, 24 and 32.
    quantities = take_off(a_job(doorways=(a_doorway(),)))

    assert the(quantities, "transition_screws").amount == 5


def test_the_old_floor_is_taken_out_and_disposed_of() -> None:
    quantities = take_off(a_job(rooms=(a_room(old_floor="carpet"),)))

    assert the(quantities, "tear_out", item="carpet").amount == 120
    assert the(quantities, "disposal", item="carpet").amount == 120


def test_stairs_take_planks_by_the_strip() -> None:
    # A 10 in tread and a 7.5 in riser take two strips of a 7 in plank each, one strip a plank.
    assert stair_planks(a_stair(), a_product()) == 12 * 2 + 13 * 2
    assert stair_planks(a_stair(width_in=Decimal(24)), a_product()) == 25


def test_a_tread_wider_than_a_plank_is_joined() -> None:
    one = a_stair(treads=1, risers=0, width_in=Decimal(60), tread_depth_in=Decimal(7))

    assert stair_planks(one, a_product()) == 2


def test_planks_for_the_stairs_are_in_the_cartons() -> None:
    quantities = take_off(a_job(stairs=(a_stair(),)))

    # 54 + 50 planks.
    assert the(quantities, "cartons").amount == 11
    assert "50 on the stairs" in the(quantities, "cartons").basis


def test_what_is_carried_weighs_cartons_and_bags() -> None:
    quantities = take_off(a_job(rooms=(a_room(leveler_bags=2),)))

    assert the(quantities, "carry").amount == 6 * 36 + 2 * 50


def test_nothing_of_nought_and_nothing_twice_is_listed() -> None:
    quantities = take_off(
        a_job(rooms=(a_room(), a_room(name="hall")), doorways=(a_doorway(),), stairs=(a_stair(),))
    )

    assert all(entry.amount > 0 for entry in quantities)
    assert len({entry.key for entry in quantities}) == len(quantities)


def test_a_zone_with_a_room_that_is_not_there_is_refused() -> None:
    with pytest.raises(
        BadValueError, match=r"zone upstairs.rooms is 'attic'; accepted: one of bed"
    ):
        a_job(zones=(a_zone(rooms=("attic",)),))


def test_base_longer_than_the_walls_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"base_run_in is 529; accepted: .* at most 528"):
        a_room(base_run_in=Decimal(529))


def test_a_quantity_is_never_negative_nor_half_a_carton() -> None:
    with pytest.raises(BadValueError, match=r"quantity cartons.amount is 1.5"):
        quantity("cartons", Decimal("1.5"), "by guess")
    with pytest.raises(BadValueError, match=r"quantity floor_area.amount is -1.00"):
        quantity("floor_area", -1, "by guess")


def test_every_code_has_a_label_and_a_unit() -> None:
    assert all(entry.label and entry.unit for entry in CATALOG.values())


def test_counts_are_read_from_a_metric_plan() -> None:
    plan = {
        "format": 1,
        "unit": "mm",
        "pieces": [{"row": 1}, {"row": 2, "trapped": True}, {"row": 2, "trapped": False}],
        "totals": {"planks": 2, "cartons": 1, "laid_area": 645160, "crosscuts": 1},
    }

    counts = plan_counts(plan)

    assert (counts.rows, counts.pieces, counts.trapped, counts.crosscuts) == (2, 3, 1, 1)
    assert counts.area_in2 == 1000  # 1 in2 = 645.16 mm2 exactly (NIST SP 811, appendix B.8)


def test_a_plan_without_totals_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"plan is missing; accepted: a plan with totals"):
        plan_counts({"pieces": [{"row": 1}]})
