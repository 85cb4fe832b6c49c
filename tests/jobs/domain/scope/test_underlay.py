"""Pad and barrier across the real floor: strips, laps, turn-up, rolls by job, tape. By hand.

The floor of `tests.jobs.floors` is 144 by 120 in; strips run along its 144.
"""

from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.scope.inputs import JobTake, ProductTake, Roll
from jobs.domain.scope.rules import TakeoffRules
from jobs.domain.scope.takeoff import take_off
from jobs.domain.scope.underlay import (
    Layer,
    layers_of,
    rolls_counted,
    rolls_for,
    strips_over,
    with_rolls_bought,
)
from tests.jobs.floors import a_barrier, a_job, a_pad, a_product, a_room, a_zone, codes, the

PADDED = a_product(pad=a_pad())  # 48 x 300, butted
OVER_FILM = a_product(barrier=a_barrier())  # 120 x 1 200, lapped 8


def one_floor(product: ProductTake, **more: Any) -> JobTake:
    return a_job(zones=(a_zone(product=product, **more),))


def test_pad_is_cut_in_whole_strips_along_the_room() -> None:
    # 120 across: 2.5 widths of 48, so 3 strips of 144 = 432 in; 432 / 300 = 1.44 rolls.
    pad = the(take_off(one_floor(PADDED)), "pad")

    assert pad.amount == 2
    assert (pad.zone, pad.item) == ("", "foam pad")
    assert pad.basis == (
        "upstairs: 3 strips of 12.0 ft; 36.0 ft of roll 48 in wide, butted, 25.0 ft to a roll, "
        "rounded up once for the job"
    )


def test_a_strip_less_is_cut_where_the_gap_at_the_wall_hides_what_it_lacks() -> None:
    def strips(across: float) -> int:
        ring = ((0, 0), (200, 0), (200, across), (0, across))
        zone = a_zone(product=PADDED, outline=ring)
        return len(strips_over(zone, Layer(code="pad", roll=a_pad())).lengths_in)

    assert strips(96.25) == 2  # the gap of 1/4 in at the wall
    assert strips(96.3) == 3


def test_the_barrier_turns_up_at_both_ends_and_both_sides() -> None:
    # Across 120 + 2 x 2 = 124: 124 - 8 = 116 of lapped width over 112, so 2 strips of 148 in.
    # 296 in of strip: one roll of 1 200.
    barrier = the(take_off(one_floor(OVER_FILM, barrier_wanted=True)), "vapour_barrier")

    assert barrier.amount == 1
    assert "upstairs: 2 strips of 12.3 ft; 24.7 ft of roll 120 in wide" in barrier.basis
    assert "lapped 8 in, turned up 2 in at the walls" in barrier.basis


def test_without_turn_up_one_strip_of_the_barrier_is_enough() -> None:
    rules = TakeoffRules(barrier_turn_up_in=Decimal(0))
    barrier = the(take_off(one_floor(OVER_FILM, barrier_wanted=True), rules), "vapour_barrier")

    assert "1 strip of 12.0 ft" in barrier.basis


@pytest.mark.parametrize(
    ("length", "lap", "rolls"),
    [(300, 0, 1), (301, 0, 2), (600, 0, 2), (592, 8, 2), (593, 8, 3), (100, 8, 1)],
)
def test_a_roll_goes_on_from_the_one_before_with_the_lap(length: int, lap: int, rolls: int) -> None:
    # Two rolls of 300 lapped 8 give 600 - 8 = 592 in.
    roll = Roll(name="film", width_in=Decimal(120), length_in=Decimal(300), lap_in=Decimal(lap))

    assert rolls_for(Decimal(length), roll) == rolls


def test_rolls_are_rounded_up_once_for_the_job() -> None:
    # Each floor takes 432 in, 1.44 rolls: by floor 2 + 2 + 2 = 6; together 1 296 in, 4.32: 5.
    names = ("den", "hall", "bath")
    zones = tuple(a_zone(name=name, rooms=(name,), product=PADDED) for name in names)
    job = a_job(rooms=tuple(a_room(name=name) for name in names), zones=zones)

    assert the(take_off(job), "pad").amount == 5
    assert {e.zone for e in take_off(job) if e.code == "pad_area"} == set(names)


def test_rolls_are_as_long_as_what_the_book_says_they_cover() -> None:
    # 432 in of strip 48 wide. A roll of 36 ft2 is 36 x 144 / 48 = 108 in: 4 rolls.
    bought = with_rolls_bought(one_floor(PADDED), {"pad": Decimal(36)})
    pad = the(take_off(bought), "pad")

    assert pad.amount == 4
    assert "9.0 ft to a roll (36 ft2 a roll, as the price book has it)" in pad.basis
    assert rolls_counted([pad]) == {"pad": Decimal(36)}
    assert rolls_counted(take_off(one_floor(PADDED))) == {"pad": None}


def test_a_roll_that_ends_within_its_lap_is_no_roll() -> None:
    # 120 wide: 6 ft2 are 7.2 in, less than the lap of 8.
    job = one_floor(OVER_FILM, barrier_wanted=True)

    assert with_rolls_bought(job, {"vapour_barrier": Decimal(6)}) == job


L_SHAPE = ((0, 0), (240, 0), (240, 96), (96, 96), (96, 144), (0, 144))
"""240 by 96 with an arm of 96 by 48 on top of it."""


def test_strips_follow_the_real_floor_and_not_its_box() -> None:
    strips = strips_over(a_zone(outline=L_SHAPE), Layer(code="pad", roll=a_pad()))

    assert strips.lengths_in == (Decimal(240), Decimal(240), Decimal(96))
    # Seams: 240 at 48 in, and 96 at 96 in where only the arm goes on; the rest is the wall there.
    assert strips.seams_in == 240 + 96


def test_strips_run_along_the_longer_way_however_the_floor_lies() -> None:
    upright = ((0, 0), (96, 0), (96, 240), (0, 240))
    turned = ((0, 0), (192, 144), (134.4, 220.8), (-57.6, 76.8))  # 240 x 96, at 36.87 degrees

    for ring in (upright, turned):
        strips = strips_over(a_zone(outline=ring), Layer(code="pad", roll=a_pad()))
        assert [round(length) for length in strips.lengths_in] == [240, 240]


def test_a_floor_parted_by_a_wall_takes_two_strips_in_one_band() -> None:
    # A U: two arms of 60 with 48 between them, the web 24 deep; bands of 48 along 168.
    ring = ((0, 0), (168, 0), (168, 96), (108, 96), (108, 24), (60, 24), (60, 96), (0, 96))
    strips = strips_over(a_zone(outline=ring), Layer(code="pad", roll=a_pad()))

    assert strips.lengths_in == (Decimal(168), Decimal(60), Decimal(60))


def test_a_hearth_in_the_floor_takes_no_strip_away() -> None:
    hearth = ((50, 50), (90, 50), (90, 70), (50, 70))
    zone = a_zone(outline=((0, 0), (144, 0), (144, 96), (0, 96)), holes=(hearth,))

    assert len(strips_over(zone, Layer(code="pad", roll=a_pad())).lengths_in) == 2


def test_seams_of_pad_and_barrier_are_taped_together() -> None:
    # Pad: two seams of 144 and one roll end of 48 = 336. Barrier: one seam of 148 = 148. 484 in.
    product = a_product(pad=a_pad(), barrier=a_barrier())
    tape = the(take_off(one_floor(product, barrier_wanted=True)), "seam_tape")

    assert tape.amount == 1
    assert tape.basis == (
        "40.3 ft of seams between strips and where a roll ends, 180.0 ft to a roll"
    )


def test_tape_is_bought_by_the_roll_of_the_job() -> None:
    rules = TakeoffRules(tape_roll_in=Decimal(300))

    assert the(take_off(one_floor(PADDED), rules), "seam_tape").amount == 2  # 336 in


def test_one_strip_without_a_seam_needs_no_tape() -> None:
    narrow = a_zone(product=PADDED, outline=((0, 0), (144, 0), (144, 48), (0, 48)))

    assert "seam_tape" not in codes(take_off(a_job(zones=(narrow,))))


def test_a_floor_without_pad_or_barrier_takes_no_roll() -> None:
    taken = codes(take_off(a_job()))

    assert not {"pad", "vapour_barrier", "seam_tape", "pad_area"} & taken


def test_layers_stand_pad_first() -> None:
    zone = a_zone(product=a_product(pad=a_pad(), barrier=a_barrier()), barrier_wanted=True)

    assert [layer.code for layer in layers_of(zone, TakeoffRules())] == ["pad", "vapour_barrier"]
