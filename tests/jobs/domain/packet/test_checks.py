"""Checks of a day: each with its figure, and where the figure comes from."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.packet.checks import (
    BEFORE_TOUCHING,
    FLAT,
    FloorChecks,
    as_you_go,
    going_home,
    photographs,
)
from jobs.domain.quantities import PRACTICE

DEN = FloorChecks(
    name="Den",
    rows=(1, 12),
    finishes=False,
    gap='1/4"',
    gap_source="Maker's sheet",
    offset='8"',
    offset_source="Maker's sheet",
    marks={5: "2' 11\"", 10: "5' 10\"", 12: "7'"},
)


def test_flatness_is_common_practice_where_the_maker_says_nothing() -> None:
    (flat,) = as_you_go(["prep"], [DEN])
    assert FLAT == "3/16 in under a 10 ft straightedge, 1/8 in under 6 ft"
    assert FLAT in flat.text
    assert flat.source == PRACTICE


def test_flatness_of_the_maker_goes_first() -> None:
    floor = replace(DEN, flat="1/8 in under 10 ft", flat_source="Maker's sheet, 3")
    (flat,) = as_you_go(["prep"], [floor])
    assert "1/8 in under 10 ft" in flat.text
    assert flat.source == "Maker's sheet, 3"


def test_gap_offset_and_every_fifth_row_have_their_figures() -> None:
    said = {check.text: check.source for check in as_you_go(["lay"], [DEN])}
    assert said['Gap of 1/4" at every wall and post'] == "Maker's sheet"
    assert said['End joints 8" or more from those of the row before'] == "Maker's sheet"
    stick = next(text for text in said if "story stick" in text)
    assert stick.endswith("row 5 at 2' 11\"; row 10 at 5' 10\"")
    last = [check.text for check in as_you_go(["lay"], [replace(DEN, finishes=True)])]
    assert any(text.endswith("row 10 at 5' 10\"; row 12 at 7'") for text in last)


def test_photos_of_an_open_edge_only_where_one_is_left() -> None:
    def words(*, finishes: bool) -> list[str]:
        return [check.text for check in going_home(["lay"], [replace(DEN, finishes=finishes)])]

    assert "Photos of the open edge" in words(finishes=False)
    assert "Photos of the open edge" not in words(finishes=True)


def test_rows_one_and_two_are_checked_on_the_day_they_are_laid() -> None:
    first = {check.text for check in as_you_go(["lay"], [DEN])}
    later = {check.text for check in as_you_go(["lay"], [replace(DEN, rows=(6, 12))])}
    assert "Rows 1 and 2 joined off the wall, straight, then slid back" in first - later


def test_the_evening_says_where_the_floor_was_stopped() -> None:
    stopped = going_home(["lay"], [DEN])[0].text
    assert (
        stopped
        == "Den: stopped at row 12, its far edge 7' from the start wall; edge ramped and taped"
    )
    assert not any(
        "stopped" in check.text for check in going_home(["lay"], [replace(DEN, finishes=True)])
    )


def test_no_check_stands_twice() -> None:
    checks = as_you_go(["prep", "lay", "prep"], [DEN, replace(DEN, name="Hall")])
    assert len(checks) == len(set(checks))


def test_the_truck_goes_home_empty_on_a_day_with_a_run_to_the_dump() -> None:
    texts = [check.text for check in going_home(["tear_out", "dispose", "dump_run"], [])]
    assert texts[0] == "Old floor at the dump, truck empty, none of it left behind"
    left = [check.text for check in going_home(["tear_out", "dispose"], [])]
    assert left[0] == "Old floor in the truck, none of it left behind"


def test_lines_of_row_one_are_snapped_of_all_floors_of_a_day_together() -> None:
    floors = [replace(DEN, line='7 1/4"'), replace(DEN, name="Hall", line='5 3/8"')]
    (snapped,) = (c.text for c in as_you_go(["lay"], floors) if "snapped" in c.text)
    assert snapped == 'Line of row 1 snapped off the start wall: Den 7 1/4", Hall 5 3/8"'
    later = as_you_go(["lay"], [replace(DEN, rows=(6, 12), line='7 1/4"')])
    assert not any("snapped" in check.text for check in later)


def test_a_photograph_of_what_no_task_moves_says_so() -> None:
    assert [*photographs({"furniture", "tear_out"})] == [*BEFORE_TOUCHING]
    said = [*photographs({"lay"})]
    assert said[1].endswith("no task takes it out: ask before it is covered")
    assert said[4].endswith("no task moves them: call if any stand there")
