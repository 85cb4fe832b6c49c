"""The order of cuts of one plank, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Polygon, box

from layout.saw.order import order_of
from tests.layout.saw.board import BENCH, in_short, sawn, want

SLANTED = [(0, 0), (20, 0), (24, 7), (0, 7)]


def test_a_whole_plank_takes_no_cut() -> None:
    assert in_short(sawn((0, 0, 48, 7))) == []


def test_a_starter_fits_to_the_kerf_behind_an_ender() -> None:
    """| a  20 |k| b  27.875 |"""
    order = sawn((0, 0, 20, 7), (20.125, 0, 48, 7))
    assert in_short(order) == ["crosscut 20 from left end: a | b"]


def test_a_looser_starter_takes_a_cut_of_its_length() -> None:
    """| a  20 |k| left over |k| b  21 |"""
    order = sawn((0, 0, 20, 7), (27, 0, 48, 7))
    assert in_short(order) == ["crosscut 20 from left end: a | b", "crosscut 21 from right end: b"]


def test_pieces_nearer_than_the_kerf_have_no_order() -> None:
    assert sawn((0, 0, 20, 7), (20.05, 0, 48, 7)) is None


def test_scored_planks_lose_nothing() -> None:
    order = sawn((0, 0, 20, 7), (20, 0, 48, 7), bench=replace(BENCH, kerf=0, rip=0))
    assert in_short(order) == ["crosscut 20 from left end: a | b"]


def test_a_rip_takes_what_a_rip_takes() -> None:
    strips = ((0, 0, 48, 3), (0, 3.2, 48, 7))
    assert sawn(*strips, bench=replace(BENCH, kerf=0, rip=0.25)) is None
    assert sawn(*strips, bench=replace(BENCH, kerf=0, rip=0.125)) is not None


def test_a_strip_as_long_as_the_plank_is_ripped_off_before_anything_is_cut_across() -> None:
    """
    +------------------------------+
    |              b  3.875        |
    +----------+-------------------+
    | a  20    |        | c  8     |
    +----------+--------+----------+
    """
    order = sawn((0, 0, 20, 3), (0, 3.125, 48, 7), (40, 0, 48, 3))
    assert in_short(order) == [
        "rip 3 from low side: a | b",
        "crosscut 20 from left end: a | c",
        "crosscut 8 from right end: c",
    ]


def test_a_piece_in_the_middle_is_measured_before_the_last_end_is_gone() -> None:
    """| a  15 |k| c  17 |k|  | b  15 |"""
    order = sawn((0, 0, 15, 7), (33, 0, 48, 7), (15.125, 0, 32.125, 7))
    assert in_short(order) == [
        "crosscut 15 from left end: a | b c",
        "crosscut 15.75 from right end: b | c",
        "crosscut 15 from right end: b",
    ]


def test_a_piece_alone_in_the_middle_is_cut_from_one_end() -> None:
    cuts = in_short(sawn((5, 0, 30, 7)))
    assert cuts == ["crosscut 30 from left end: a", "crosscut 5 from left end: a"]


def test_a_middle_that_keeps_no_end_has_no_order() -> None:
    """Of a leftover without ends nothing can be measured along."""
    middle = box(10, 0, 40, 7)
    assert sawn((12, 0, 30, 7), in_hand=middle) is None
    assert sawn((10, 0, 40, 3), in_hand=middle) is not None


def test_four_pieces_round_a_middle_have_no_order() -> None:
    """Each cut from edge to edge would run through one of them.

    +--------+-----------------+
    |  d     |       c         |
    |--------+--+--------------|
    |     a     |      b       |
    +-----------+--------------+
    """
    pieces = ((0, 0, 30, 3), (30.2, 0, 48, 4), (18, 4.2, 48, 7), (0, 3.2, 17, 7))
    assert sawn(*pieces) is None
    assert sawn(*pieces[:3]) is not None


def test_the_kerf_of_a_slanted_cut_is_slanted() -> None:
    """Along the plank it takes 0.144: 0.125 over the cosine of the slant."""
    order = sawn(SLANTED, [(20.2, 0), (48, 0), (48, 7), (24.2, 7)])
    assert order is not None
    away = order.sawings[0].away
    assert away is not None
    assert away.bounds[0] == pytest.approx(20 + 0.125 * (1 + (4 / 7) ** 2) ** 0.5)


def test_a_slanted_cut_whose_kerf_runs_past_the_corner_is_refused() -> None:
    """The boxes lie a kerf apart, the band along the slant takes the corner of the other piece.

    A piece ends in a point at 24; cut square at 24 first, both are safe.
    """
    order = sawn(SLANTED, (24.125, 0, 48, 7))
    assert in_short(order)[0] == "crosscut 24 from left end: a | b"
    assert sawn(SLANTED, [(20.1, 0), (48, 0), (48, 7), (24.1, 7)]) is None


def test_both_ends_slanted_are_measured_from_the_end_that_is_left() -> None:
    cuts = in_short(sawn([(6, 0), (30, 0), (34, 7), (10, 7)]))
    assert cuts == ["angle 30 from left end: a", "angle 6 from left end: a"]


def test_a_slant_all_along_is_marked_on_both_ends() -> None:
    order = sawn([(0, 0), (48, 0), (48, 3), (0, 5)])
    assert order is not None
    assert list(order.sawings[0].path) == [(0, 5), (48, 3)]
    assert order.sawings[0].goes == "high"


def test_a_notch_is_sawn_along_its_path_alone() -> None:
    """
    +-----------+
    |           +----+
    |                |
    +----------------+
    """
    order = sawn([(0, 0), (20, 0), (20, 5), (15, 5), (15, 7), (0, 7)])
    assert order is not None
    crosscut, notch = order.sawings
    assert (crosscut.kind, notch.kind) == ("crosscut", "notch")
    assert set(notch.path) == {(20, 5), (15, 5), (15, 7)}
    assert (notch.measure_from, notch.at) == ("left end", 15)


def test_a_notch_comes_before_the_cut_that_takes_its_last_end() -> None:
    order = sawn([(5, 0), (20, 0), (20, 5), (15, 5), (15, 7), (5, 7)])
    assert [cut.split(" from")[0] for cut in in_short(order)] == [
        "crosscut 20",
        "notch 15",
        "crosscut 5",
    ]


def test_a_hole_for_a_register_is_sawn_all_round() -> None:
    shape = Polygon(box(0, 0, 48, 7).exterior, [[(10, 2), (14, 2), (14, 5), (10, 5)]])
    order = sawn(shape)
    assert order is not None
    assert order.sawings[0].kind == "hole"
    assert order.sawings[0].path[0] == order.sawings[0].path[-1]
    assert order.sawings[0].at == 10


def test_a_piece_in_the_notch_of_another_has_no_order() -> None:
    notched = [(0, 0), (20, 0), (20, 5), (15, 5), (15, 7), (0, 7)]
    assert sawn(notched, (15.2, 5.2, 20, 7)) is None


def test_what_may_come_out_longer_keeps_clear_of_what_shares_its_plank() -> None:
    other = want(1, (27, 0, 48, 7))
    assert order_of(BENCH, [want(0, (0, 0, 20, 7), longer=6.8), other]) is not None
    assert order_of(BENCH, [want(0, (0, 0, 20, 7), longer=7), other]) is None


def test_a_leftover_is_in_hand_as_it_is() -> None:
    """One slanted end, one factory end: the piece is measured from the latter."""
    leftover = Polygon([(20, 0), (48, 0), (48, 7), (24, 7)])
    order = sawn((30, 0, 48, 7), in_hand=leftover)
    assert in_short(order) == ["crosscut 18 from right end: a"]
    assert sawn((21, 0, 48, 7), in_hand=leftover) is None


SLIVER = 1e-7


def test_slivers_all_round_a_piece_hide_none_of_its_notches() -> None:
    """The plank's rim lies a sliver off the piece's all round; the notch is cut all the same."""
    low, high, end = SLIVER, 7 - SLIVER, 48 - SLIVER
    order = sawn([(low, low), (10, low), (12, 2), (16, low), (end, low), (end, high), (low, high)])
    assert order is not None
    assert [cut.kind for cut in order.sawings] == ["notch"]
    assert [(round(x, 5), round(y, 5)) for x, y in order.sawings[0].path] == [
        (10, 0),
        (12, 2),
        (16, 0),
    ]


def test_slivers_along_an_edge_leave_two_notches_each_its_own_cut() -> None:
    shape = [(0, 7), (0, 0), (10, SLIVER), (12, 2), (16, SLIVER), (30, SLIVER), (33, 3), (36, 0)]
    order = sawn([*shape, (48, 0), (48, 7)])
    assert [cut.split(" from")[0] for cut in in_short(order)] == ["notch 10", "notch 12"]
    assert order is not None
    assert order.sawings[0].stays.area == pytest.approx(48 * 7 - 6, abs=1e-4)


SLANTED_AND_NOTCHED = [
    (40.9999992523782, 7.000000044822329),
    (12.755190220160763, 7.000000044822329),
    (5.755190175338434, 0),
    (26.61484022034159, 7.1e-15),
    (30.413128642202224, 3.798288421860633),
    (34.21141706406284, 7.1e-15),
    (47.99999929720052, 7.1e-15),
]


def test_a_sliver_along_a_slant_that_comes_later_is_no_part_of_a_notch() -> None:
    """The notch comes first, since the slants take both ends; a sliver would part the plank."""
    order = sawn(SLANTED_AND_NOTCHED)
    assert order is not None
    assert [len(cut.path) for cut in order.sawings if cut.kind == "notch"] == [3]
    assert order.sawings[-1].stays.area == pytest.approx(Polygon(SLANTED_AND_NOTCHED).area)


def test_cuts_that_leave_another_shape_than_the_piece_are_no_order() -> None:
    """A piece looked at too coarsely asks for no notch: its cuts would lack one."""
    notched = want(0, [(0, 0), (20, 0), (20, 6.5), (15, 6.5), (15, 7), (0, 7)])
    assert order_of(BENCH, [notched]) is not None
    assert order_of(BENCH, [replace(notched, thin=1.0)]) is None


@pytest.mark.parametrize(("deep", "kinds"), [(1 / 64, []), (1 / 33, []), (1 / 31, ["notch"])])
def test_a_notch_no_thicker_than_a_thirty_second_is_none(deep: float, kinds: list[str]) -> None:
    order = sawn(
        [(0, 0), (48, 0), (48, 7), (30, 7), (30, 7 - deep), (20, 7 - deep), (20, 7), (0, 7)]
    )
    assert order is not None
    assert [cut.kind for cut in order.sawings] == kinds
