"""Choices of a run and the search for joints, checked by brute force on small floors."""

from __future__ import annotations

from itertools import count, pairwise, product
from random import Random

import pytest
from shapely.geometry import Polygon, box

from layout.joints.choices import Choices, Site, Terms, choices_of, clashes, joints_at
from layout.joints.search import Search
from layout.rows.rows import Floor, floor_of
from layout.values.material import Board

TERMS = Terms(length=48, kerf=0.125, least_end=8, least_offset=8)


def floor(region: Polygon) -> Floor:
    return floor_of(region, Board(length=48, width=7, per_carton=10), 7)


def sites(of: Floor) -> list[Site]:
    return [Site(run=run, posts=run.posts) for run in of.runs]


def choices(region: Polygon, barred: tuple[tuple[float, float], ...] = ()) -> Choices:
    run = floor(region).runs[0]
    return choices_of(Site(run=run, posts=run.posts, barred=barred), TERMS, range(48))


def test_every_choice_makes_up_the_run() -> None:
    options = choices(box(0, 0, 118, 7))
    made = options.starter + options.ender + 48 * (options.pieces - 2)
    assert made == pytest.approx([118] * len(options))


def test_end_pieces_keep_their_least_length() -> None:
    options = choices(box(0, 0, 118, 7))
    assert min(options.starter.min(), options.ender.min()) == pytest.approx(8)


def test_a_run_shorter_than_a_board_may_be_one_piece() -> None:
    assert 1 in choices(box(0, 0, 40, 7)).pieces


def test_a_run_too_short_for_two_end_pieces_must_be_one() -> None:
    assert set(choices(box(0, 0, 15, 7)).pieces) == {1}


def test_a_joint_passes_through_a_post() -> None:
    options = choices(box(0, 0, 118, 7).difference(box(60, 2, 64, 5)))
    run = floor(box(0, 0, 118, 7)).runs[0]
    for starter in options.starter:
        assert any(60 <= x <= 64 for x in joints_at(run, float(starter), 48))


def test_no_joint_falls_in_a_doorway() -> None:
    options = choices(box(0, 0, 118, 7), barred=((30, 66),))
    run = floor(box(0, 0, 118, 7)).runs[0]
    for starter in options.starter:
        assert not any(30.01 < x < 65.99 for x in joints_at(run, float(starter), 48))


def test_where_every_choice_breaks_a_rule_the_least_bad_are_kept() -> None:
    options = choices(box(0, 0, 118, 7), barred=((0, 118),))
    assert len(options) > 0
    assert options.faults.min() > 0


def test_clashes_are_joints_of_touching_rows_too_close() -> None:
    two = floor(box(0, 0, 118, 14))
    low, high = (choices_of(site, TERMS, [0, 20, 27, 28]) for site in sites(two))
    table = clashes(low, high, two.contacts[0], TERMS)
    for i, j in product(range(len(low)), range(len(high))):
        first = joints_at(two.runs[0], float(low.starter[i]), 48)
        second = joints_at(two.runs[1], float(high.starter[j]), 48)
        close = any(abs(a - b) < 8 - 1e-6 for a in first for b in second)
        assert bool(table[i, j]) == close


def test_joints_beyond_the_stretch_where_rows_touch_do_not_clash() -> None:
    # Row 2 is only the left 30 of row 1: joints of row 1 beyond it are free.
    two = floor(Polygon([(0, 0), (118, 0), (118, 7), (30, 7), (30, 14), (0, 14)]))
    low, high = (choices_of(site, TERMS, range(48)) for site in sites(two))
    table = clashes(low, high, two.contacts[0], TERMS)
    i = next(i for i in range(len(low)) if low.starter[i] == 40)
    assert not table[i].any()


def fewest_by_brute_force(across: float, rows: int, length: float, step: float) -> int:
    """Return the fewest planks over all starters on a grid, rows offset by the rule of 2."""
    starters = [k * step for k in range(1, round(length / step) + 1)]
    best = 10**9
    for picks in product(starters, repeat=rows):
        enders = [(across - s) % length or length for s in picks]
        if any(e < 2 for e in enders) or any(s < 2 for s in picks):
            continue
        turns = ((a - b) % length for a, b in pairwise(picks))
        steps = [min(turn, length - turn) for turn in turns]
        if any(apart < 2 for apart in steps):
            continue
        pieces = sum(
            2 + round((across - s - e) / length) for s, e in zip(picks, enders, strict=True)
        )
        rooms, reused = sorted(length - e for e in enders), 0
        for s in sorted(picks, reverse=True):
            room = next((r for r in reversed(rooms) if r >= s), None)
            if room is not None:
                rooms.remove(room)
                reused += 1
        best = min(best, pieces - reused)
    return best


@pytest.mark.parametrize("across", [13, 15, 17, 19, 22])
@pytest.mark.parametrize("rows", [2, 3, 4])
def test_brute_force_over_all_joints_finds_nothing_better(across: float, rows: int) -> None:
    terms = Terms(length=10, kerf=0, least_end=2, least_offset=2)
    region = floor_of(box(0, 0, across, rows), Board(length=10, width=1, per_carton=1), 1)
    search = Search(region, sites(region), terms, Random(1))
    for _ in range(6):
        search.improve(10, lambda: False)
    assert search.score.clashes == 0
    assert search.score.planks <= fewest_by_brute_force(across, rows, 10, 1)


def test_leftovers_of_a_row_just_over_two_boards_start_the_next_ones() -> None:
    # Row by row a board is wasted in two; in chains the floor takes little more than its area.
    den = floor(box(0, 0, 98, 7 * 12))
    search = Search(den, sites(den), TERMS, Random(1))
    for _ in range(10):
        search.improve(10, lambda: False)
    assert search.score.planks <= 26


def test_the_same_seed_finds_the_same_picks() -> None:
    den = floor(box(0, 0, 131, 56))
    picks = []
    for _ in range(2):
        search = Search(den, sites(den), TERMS, Random(7))
        search.improve(10, lambda: False)
        picks.append(search.picks)
    assert picks[0] == picks[1]


def test_a_stop_is_heard_between_sweeps() -> None:
    den = floor(box(0, 0, 131, 56))
    search = Search(den, sites(den), TERMS, Random(7))
    calls = count()
    search.improve(50, lambda: next(calls) >= 3)
    assert next(calls) == 4
