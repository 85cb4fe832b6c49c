"""Trim from stock lengths: the list equals a calculation by hand."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.trim.runs import TrimGap, runs_of
from jobs.domain.trim.stock import STOCK_IN, Cuts, TrimLength, cut_trim

# A room of 14 by 10 ft with a door of 32 in, 40 in along the first wall:
#
#   cope 40 butt [32] butt 96 square     first wall, 168 in
#   cope 120 square, cope 168 square, cope 120 square
ROOM = ((0.0, 0.0), (168.0, 0.0), (168.0, 120.0), (0.0, 120.0))


def of_room(stock: tuple[Decimal, ...] = STOCK_IN) -> Cuts:
    """The cuts of the room's base."""
    runs = runs_of(ROOM, [TrimGap(wall=0, offset=40, width=32)], unit="in")
    lengths = tuple(
        TrimLength(
            name=f"wall {run.wall + 1}, {run.place + 1}",
            length_in=Decimal(repr(run.length)),
            start_end=run.start_end,
            finish_end=run.finish_end,
        )
        for run in runs
    )
    return cut_trim("base", lengths, stock)


def in_numbers(cuts: Cuts) -> list[tuple[Decimal, list[tuple[str, Decimal]], Decimal]]:
    """Sticks as stock, cuts, left-over; in falling order."""
    sticks = [
        (stick.stock_in, sorted((cut.name, cut.length_in) for cut in stick.cuts), stick.left_in)
        for stick in cuts.sticks
    ]
    return sorted(sticks, reverse=True)


def test_the_cut_list_of_a_room_equals_a_calculation_by_hand() -> None:
    # By hand, from 8, 12 and 16 ft: 168 needs a 16 ft stick and leaves 192 - 168 - 1/8 = 23 7/8.
    # The two 120s share no stick (240 > 192) and neither goes with the 96 (216 > 192), so at least
    # 16 + 12 + 12 + 8 = 48 ft; those leave 23 7/8 three times and nothing, no room for the 40.
    # 52 ft do: one 12 becomes a 16 and holds 120 and 40, with 192 - 120 - 40 - 2/8 = 31 3/4 left.
    # (An 8 that becomes a 12 for 96 and 40 costs the same; its longest left-over is shorter.)
    d = Decimal
    assert in_numbers(of_room()) == [
        (d(192), [("wall 3, 1", d(168))], d("23.875")),
        (d(192), [("wall 1, 1", d(40)), ("wall 4, 1", d(120))], d("31.75")),
        (d(144), [("wall 2, 1", d(120))], d("23.875")),
        (d(96), [("wall 1, 2", d(96))], d(0)),
    ]
    assert of_room().proven


def test_an_outside_corner_adds_the_thickness_of_the_base() -> None:
    run = TrimLength(name="chase", length_in=Decimal(30), start_end="outside", finish_end="outside")
    assert cut_trim("base", (run,), STOCK_IN).sticks[0].cuts[0].length_in == Decimal("31.25")


def test_a_cope_and_a_butt_add_nothing() -> None:
    run = TrimLength(name="wall", length_in=Decimal(30), start_end="cope", finish_end="butt")
    assert cut_trim("base", (run,), STOCK_IN).sticks[0].cuts[0].length_in == 30


def test_a_long_wall_is_a_whole_stick_and_a_rest() -> None:
    cuts = cut_trim("base", (TrimLength(name="hall", length_in=Decimal(250)),), STOCK_IN)
    parts = sorted((c.part, c.parts, c.length_in) for s in cuts.sticks for c in s.cuts)
    assert parts == [(1, 2, Decimal(192)), (2, 2, Decimal(58))]


def test_no_part_of_a_joined_run_is_shorter_than_from_stud_to_stud() -> None:
    cuts = cut_trim("base", (TrimLength(name="hall", length_in=Decimal(196)),), STOCK_IN)
    assert sorted(c.length_in for s in cuts.sticks for c in s.cuts) == [16, 180]


def test_the_same_runs_give_the_same_sticks() -> None:
    first = of_room()
    cut_trim.cache_clear()
    assert of_room() == first


def test_what_is_bought_is_never_less_than_what_is_proven_to_be_needed() -> None:
    runs = tuple(
        TrimLength(name=f"wall {n}", length_in=Decimal(37 + 11 * n % 150)) for n in range(40)
    )
    cuts = cut_trim("shoe", runs, STOCK_IN)
    assert cuts.least_in <= cuts.bought_in
    assert sum(len(stick.cuts) for stick in cuts.sticks) == 40
