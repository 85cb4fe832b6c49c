"""Ten floors sawn as their sheets tell; ``python -m tests.sweeps.saw`` saws any number of them."""

from __future__ import annotations

from random import Random

import pytest

from tests.sweeps.rooms import random_floor
from tests.sweeps.saw import room_sawn

# Between them: every shape, inches and millimeters, both starts and ends, boards turned and of
# several widths, shades, sawn and scored, posts, registers, casings, a control row, gone on with.
TEN = (120_000, 120_003, 120_004, 120_005, 120_006, 120_007, 120_011, 120_013, 120_030, 120_036)


@pytest.mark.parametrize("number", TEN)
def test_every_plank_of_a_floor_is_sawn_as_its_sheet_tells(number: int) -> None:
    room = room_sawn(number)
    assert (room.refused, room.faults) == ("", [])
    assert room.count("cuts") > 0


def test_a_number_gives_the_same_floor_every_time() -> None:
    assert random_floor(Random(TEN[0])) == random_floor(Random(TEN[0]))
