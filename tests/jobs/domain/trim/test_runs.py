"""Where trim runs along the walls of a room."""

from __future__ import annotations

from jobs.domain.trim.runs import TrimGap, WallRun, runs_of, spans_of

ROOM = ((0.0, 0.0), (144.0, 0.0), (144.0, 120.0), (0.0, 120.0))
ELL = ((0.0, 0.0), (120.0, 0.0), (120.0, 48.0), (72.0, 48.0), (72.0, 96.0), (0.0, 96.0))


def lengths(runs: list[WallRun]) -> list[float]:
    """Return the lengths of runs."""
    return [run.length for run in runs]


def test_a_room_without_openings_has_a_run_a_wall() -> None:
    assert lengths(runs_of(ROOM, [], unit="in")) == [144, 120, 144, 120]


def test_an_opening_parts_a_wall() -> None:
    runs = runs_of(ROOM, [TrimGap(wall=0, offset=40, width=32)], unit="in")
    assert lengths(runs[:2]) == [40, 72]


def test_runs_begin_and_end_where_openings_leave_the_wall() -> None:
    spans = spans_of(ROOM, [TrimGap(wall=0, offset=40, width=32)], unit="in", bare=frozenset({3}))
    assert spans == {(0, 0): (0, 40), (0, 1): (72, 144), (1, 0): (0, 120), (2, 0): (0, 144)}


def test_ends_at_an_opening_are_butted() -> None:
    runs = runs_of(ROOM, [TrimGap(wall=0, offset=40, width=32)], unit="in")
    assert [(run.start_end, run.finish_end) for run in runs[:2]] == [
        ("cope", "butt"),
        ("butt", "inside"),
    ]


def test_an_opening_from_the_corner_leaves_one_run() -> None:
    runs = runs_of(ROOM, [TrimGap(wall=1, offset=0, width=30)], unit="in")
    assert [(run.length, run.start_end) for run in runs if run.wall == 1] == [(90, "butt")]


def test_a_wall_that_is_all_opening_has_no_run() -> None:
    runs = runs_of(ROOM, [TrimGap(wall=2, offset=0, width=144)], unit="in")
    assert 2 not in {run.wall for run in runs}


def test_overlapping_openings_are_taken_off_once() -> None:
    gaps = [TrimGap(wall=0, offset=20, width=40), TrimGap(wall=0, offset=50, width=30)]
    assert lengths([run for run in runs_of(ROOM, gaps, unit="in") if run.wall == 0]) == [20, 64]


def test_the_corner_that_juts_into_the_room_is_an_outside_one() -> None:
    runs = runs_of(ELL, [], unit="in")
    assert (runs[2].start_end, runs[2].finish_end) == ("cope", "outside")


def test_corners_are_the_same_whichever_way_the_room_was_walked() -> None:
    mirrored = tuple((x, -y) for x, y in ELL)
    there, back = (runs_of(ring, [], unit="in") for ring in (ELL, mirrored))
    assert [run.finish_end for run in there] == [run.finish_end for run in back]


def test_inside_corners_are_one_square_and_one_cope_in_walking_order() -> None:
    ends = {(run.start_end, run.finish_end) for run in runs_of(ROOM, [], unit="in")}
    assert ends == {("cope", "inside")}


def test_nothing_is_coped_where_no_trim_reaches_the_corner() -> None:
    runs = runs_of(ROOM, [TrimGap(wall=0, offset=112, width=32)], unit="in")
    assert next(run for run in runs if run.wall == 1).start_end == "inside"


def test_a_wall_that_hardly_turns_is_butted() -> None:
    bowed = ((0.0, 0.0), (72.0, -2.0), (144.0, 0.0), (144.0, 120.0), (0.0, 120.0))
    runs = runs_of(bowed, [], unit="in")
    assert (runs[0].finish_end, runs[1].start_end) == ("butt", "butt")


def test_a_bare_side_has_no_run_and_its_neighbors_end_at_it() -> None:
    runs = runs_of(ROOM, [], unit="in", bare=frozenset({1}))
    assert [(run.wall, run.start_end, run.finish_end) for run in runs] == [
        (0, "cope", "butt"),
        (2, "butt", "inside"),
        (3, "cope", "inside"),
    ]


def test_runs_of_one_wall_are_counted_from_its_first_corner() -> None:
    runs = runs_of(ROOM, [TrimGap(wall=0, offset=40, width=32)], unit="in")
    assert [(run.wall, run.place) for run in runs[:3]] == [(0, 0), (0, 1), (1, 0)]
