"""What runs of one width share, counted by hand: boxes first, then ends that nest."""

from __future__ import annotations

import numpy as np

from layout.joints.choices import AtHand, Choices, Terms
from layout.joints.pools import Pools
from layout.joints.slants import Slants

TERMS = Terms(length=48, kerf=0, least_end=8, least_offset=6)
LEANING = Slants(left=((0, 0.0), (1, 0.0)), right=((0, 0.0), (1, 7.0)))  # 7 in over


def one(starter: float, ender: float) -> Choices:
    """A run that may only be laid one way."""
    return Choices(
        starter=np.array([starter]),
        ender=np.array([ender]),
        pieces=np.array([2.0]),
        phase=np.array([starter]),
        faults=np.array([0.0]),
    )


def pools(*ends: tuple[float, float], slants: Slants, at_hand: AtHand | None = None) -> Pools:
    """Runs of which all count by their boxes to begin with."""
    made = Pools([one(*pair) for pair in ends], [slants] * len(ends), at_hand or AtHand(), TERMS)
    for run in range(len(ends)):
        made.count(run, 0, pair=(0, 0))
    return made


def test_square_ends_share_a_plank_where_their_lengths_do() -> None:
    # 20 + 28 fill a board, 30 + 28 don't.
    assert pools((20, 28), (30, 28), slants=Slants()).reuses() == 1


def test_slanted_ends_share_a_plank_by_their_lines() -> None:
    # 20 + 35 and 25 + 30 are 55 by their boxes: the 48 of a board and the 7 by which they nest.
    leaning = pools((20, 35), (25, 30), slants=LEANING)
    assert leaning.reuses() == 0
    leaning.sort_out()
    assert leaning.reuses() == 2


def test_ends_too_long_even_for_their_lines_stay_apart() -> None:
    leaning = pools((21, 35), slants=LEANING)
    leaning.sort_out()
    assert leaning.reuses() == 0


def test_as_many_nest_as_find_a_mate() -> None:
    # 30 goes with 19 and 20 with 35 (50 and 55 of 55 in); 29 and 30 stay apart. By boxes: 29 + 19.
    mixed = pools((30, 30), (20, 35), (29, 19), slants=LEANING)
    assert mixed.reuses() == 1
    mixed.sort_out()
    assert mixed.reuses() == 2


def test_what_is_at_hand_counts_by_its_box() -> None:
    assert pools((20, 40), slants=LEANING, at_hand=AtHand(rooms=(22.0,))).reuses() == 1


def test_what_is_dropped_counts_no_more() -> None:
    made = pools((20, 28), slants=Slants())
    made.drop(0)
    assert (made.reuses(), made.pair_of(0)) == (0, None)
