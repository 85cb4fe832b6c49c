"""How far a floor is lifted, on three rows worked out by hand.

row 3 |19.875 |     48     |   32.125   |   the wall of the last row
row 2 |     40     |     48      |  12  |
row 1 |   24    |     48     |    28    |   the wall of the first row
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.domain.passport.lifting import LAST, START, lift_of
from layout.values.plan import Plan
from tests.layout import three_rows


def without(*names: str) -> Plan:
    """The floor with gaps where these pieces lay: something stands there."""
    plan = three_rows.plan()
    return replace(plan, pieces=tuple(piece for piece in plan.pieces if piece.id not in names))


@pytest.mark.parametrize(
    ("name", "side", "rows", "planks"),
    [
        # At a wall nothing but its own row, from the nearer end.
        ("1-1", START, (), ("1-1",)),
        ("1-2", START, (), ("1-1", "1-2")),
        ("1-3", START, (), ("1-3",)),
        ("3-3", LAST, (), ("3-3",)),
        # In the middle both walls are one row away: as it was laid, the last row first.
        ("2-1", LAST, (3,), ("3-1", "3-2", "3-3", "2-1")),
        ("2-3", LAST, (3,), ("3-1", "3-2", "3-3", "2-3")),
    ],
)
def test_the_nearer_wall_by_hand(
    name: str, side: str, rows: tuple[int, ...], planks: tuple[str, ...]
) -> None:
    lift = lift_of(three_rows.plan(), name)
    assert (lift.side, lift.rows, lift.planks) == (side, rows, planks)
    assert lift.before == len(planks) - 1


def test_only_what_is_locked_to_it_comes_out() -> None:
    # Row 2 and row 3 are parted; above the first piece of row 2 lies the first of row 3 alone.
    lift = lift_of(without("2-2", "3-2"), "2-1")
    assert (lift.side, lift.rows, lift.planks) == (LAST, (3,), ("3-1", "2-1"))


def test_fewer_planks_decide_where_rows_are_as_many() -> None:
    # Without the last row's middle two planks lie above the second row, three below it.
    assert lift_of(without("3-2"), "2-1").planks == ("3-1", "3-3", "2-1")
    assert lift_of(without("1-2", "1-3"), "2-1").planks == ("1-1", "2-1")


def test_a_plank_that_is_not_there_is_refused() -> None:
    with pytest.raises(KeyError, match="9-9"):
        lift_of(three_rows.plan(), "9-9")
