"""Strips at the walls: stopping lines and the balance rule. Figures worked out by hand."""

from __future__ import annotations

from shapely.geometry import Polygon, box

from layout.rows.strips import allowed_first_rips, narrowest_strip, stopping_lines

WIDTH, LEAST_RUN = 7.0, 2.0


def rips(
    region: Polygon, *, balance: bool = True, min_width: float = 2.0
) -> list[tuple[float, float]]:
    spans = allowed_first_rips(region, WIDTH, LEAST_RUN, balance=balance, min_width=min_width)
    return [(round(low, 4), round(high, 4)) for low, high in spans]


def test_half_a_board_or_more_left_across_gives_a_full_first_row() -> None:
    assert rips(box(0, 0, 100, 7 * 5 + 3.5)) == [(7, 7)]


def test_less_than_half_a_board_is_shared_with_the_first_row() -> None:
    assert rips(box(0, 0, 100, 7 * 5 + 3)) == [(5, 5)]


def test_a_floor_of_whole_boards_is_not_ripped() -> None:
    assert rips(box(0, 0, 100, 35)) == [(7, 7)]


def test_the_start_wall_may_lie_anywhere() -> None:
    assert rips(box(0, 3.3, 100, 3.3 + 38)) == [(5, 5)]


def test_a_third_stopping_line_leaves_every_rip_with_half_boards_at_all_three() -> None:
    # First row a, upper wall (38 - a) mod 7, step (20 - a) mod 7: 3.5 or more from 6 to 6.5.
    step = Polygon([(0, 0), (100, 0), (100, 20), (60, 20), (60, 38), (0, 38)])
    assert rips(step) == [(6, 6.5)]


def test_where_no_rip_keeps_half_boards_the_narrowest_strip_is_as_wide_as_can_be() -> None:
    # First row a, upper wall (37.5 - a) mod 7, step (16 - a) mod 7.
    step = Polygon([(0, 0), (100, 0), (100, 16), (60, 16), (60, 37.5), (0, 37.5)])
    ((low, high),) = rips(step)
    others = [narrowest_strip(step, WIDTH, LEAST_RUN, 0.05 * k) for k in range(1, 140)]
    assert narrowest_strip(step, WIDTH, LEAST_RUN, (low + high) / 2) >= max(others) - 1e-6


def test_without_balance_only_the_least_row_width_counts() -> None:
    # First row a, last row (38 - a) mod 7: 2 or more from 3 (where it is a whole board) on.
    assert rips(box(0, 0, 100, 38), balance=False) == [(3, 7)]


def test_a_short_ledge_stops_no_row() -> None:
    ledge = Polygon(
        [(0, 0), (100, 0), (100, 35), (60, 35), (60, 36), (58.5, 36), (58.5, 35), (0, 35)]
    )
    assert [line.low for line in stopping_lines(ledge, WIDTH, LEAST_RUN)] == [0, 35]


def test_a_wall_at_forty_five_degrees_stops_no_row() -> None:
    corner = Polygon([(0, 0), (100, 0), (100, 30), (90, 40), (0, 40)])
    assert len(stopping_lines(corner, WIDTH, LEAST_RUN)) == 2


def test_a_slanted_wall_is_one_line_with_a_height_range() -> None:
    slanted = Polygon([(0, 0), (100, 0), (100, 41), (0, 40)])
    assert [(line.low, line.high) for line in stopping_lines(slanted, WIDTH, LEAST_RUN)] == [
        (0, 0),
        (40, 41),
    ]


def test_row_lines_keep_clear_of_a_slanted_wall() -> None:
    slanted = Polygon([(0, 0), (100, 0), (100, 41), (0, 40)])
    for low, high in rips(slanted):
        assert narrowest_strip(slanted, WIDTH, LEAST_RUN, low) >= 3.5 - 1e-6
        assert narrowest_strip(slanted, WIDTH, LEAST_RUN, high) >= 3.5 - 1e-6
