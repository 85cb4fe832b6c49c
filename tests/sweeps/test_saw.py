"""Ten floors sawn as their sheets tell; ``python -m tests.sweeps.saw`` saws any number of them."""

from __future__ import annotations

from random import Random

import pytest

from tests.sweeps.rooms import random_floor
from tests.sweeps.saw import room_sawn

# Between them: every shape, inches and millimeters, both starts and ends, boards turned and of
# several widths, shades, sawn and scored, posts, registers, casings, walls that stand off, a
# control row, the best direction, floors gone on with.
TEN = (120_001, 120_002, 120_003, 120_005, 120_007, 120_010, 120_017, 120_018, 120_019, 120_030)


@pytest.mark.parametrize("number", TEN)
def test_every_plank_of_a_floor_is_sawn_as_its_sheet_tells(number: int) -> None:
    room = room_sawn(number)
    assert (room.refused, room.faults) == ("", [])
    assert room.count("cuts") > 0


def test_a_number_gives_the_same_floor_every_time() -> None:
    assert random_floor(Random(TEN[0])) == random_floor(Random(TEN[0]))
