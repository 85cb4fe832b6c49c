"""The rolls that pad and barrier are counted in where nobody says others: a size is a size.

Common practice, no source: pad of 36 in by 33 ft 4 in, 100 ft2; film of 10 ft by 25 ft, 250 ft2,
lapped 8 in.
"""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.scope.takeoff import take_off
from jobs.readers.scope import BARRIER, PAD
from tests.jobs.floors import a_job, a_product, a_zone, the


def test_a_common_roll_of_pad_covers_100_square_feet() -> None:
    # 120 by 144 in: 120 / 36 = 3.3, so 4 strips of 144 = 576 in; 576 / 400 = 1.44: two rolls.
    assert PAD.width_in * PAD.length_in == 100 * 144
    assert the(take_off(a_job(zones=(a_zone(product=a_product(pad=PAD)),))), "pad").amount == 2


def test_a_common_roll_of_barrier_covers_250_square_feet_and_laps_8_inches() -> None:
    # 120 + 2 x 2 of turn-up is more than one width of 120; a lap of 8 takes no third: 2 strips.
    assert BARRIER.width_in * BARRIER.length_in == 250 * 144
    film = a_zone(product=a_product(barrier=BARRIER), barrier_wanted=True)
    # 2 strips of 144 + 4 = 148 in are 296 of 300 in.
    assert the(take_off(a_job(zones=(film,))), "vapour_barrier").amount == 1
    # Two lapped strips are 120 + 112 = 232 in across, 228 in of floor with the turn-up: beyond it
    # the lap makes three, where 240 in butted would still be two.
    assert _strips(228) == 2
    assert _strips(230) == 3


def _strips(across: int) -> int:
    ring = ((0, 0), (300, 0), (300, across), (0, across))
    film = a_zone(
        product=a_product(barrier=BARRIER),
        barrier_wanted=True,
        outline=ring,
        area_in2=Decimal(300 * across),
    )
    basis = the(take_off(a_job(zones=(film,))), "vapour_barrier").basis
    return int(basis.split(": ")[1].split(" ")[0])
