"""What days once did that nobody does: each is looked for in a whole house, one person and two."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from jobs.domain.days.crew import CrewDay, Lane, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.scope.hours import Work
from tests.jobs.domain.days.planned import WEEKDAYS
from tests.jobs.domain.schedule.full_house import ROOMS, full_house

MONDAY = date(2027, 3, 1)
Laid = tuple[Work, CrewDay, tuple[PlannedDay, ...]]


@pytest.fixture(scope="module", params=[1, 2], ids=["one person", "two people"])
def laid(request: pytest.FixtureRequest) -> Laid:
    """The work, the crew and the days from a Monday on."""
    work, crew = full_house(request.param)
    return work, crew, plan_days(work.tasks, crew, MONDAY, WEEKDAYS, today=MONDAY)


def lanes(laid: Laid, code: str, room: str = "", part: str = "") -> list[tuple[date, Lane]]:
    return [
        (day.date, lane)
        for day in laid[2]
        for lane in day.lanes
        if lane.task.split(":")[0] == code and room in ("", lane.room) and part in ("", lane.part)
    ]


def minutes(clock: str) -> int:
    hour, minute = clock.split(":")
    return int(hour) * 60 + int(minute)


def first(laid: Laid, code: str, room: str = "", part: str = "") -> tuple[date, int]:
    return min((day, minutes(lane.begins)) for day, lane in lanes(laid, code, room, part))


def last(laid: Laid, code: str, room: str = "", part: str = "") -> tuple[date, int]:
    return max((day, minutes(lane.ends)) for day, lane in lanes(laid, code, room, part))


def row_day(laid: Laid, row: int) -> date:
    return next(
        day.date
        for day in laid[2]
        for entry in day.entries
        if entry.rows and entry.rows[0] <= row <= entry.rows[1]
    )


def test_no_day_is_under_two_hours_unless_something_dries(laid: Laid) -> None:
    for day, following in zip(laid[2], (*laid[2][1:], None), strict=True):
        on_site = max(minutes(ln.ends) for ln in day.lanes) - min(
            minutes(ln.begins) for ln in day.lanes
        )
        waits = any("wait until" in note for note in day.notes)
        assert on_site >= 120 or waits or following is None


def test_nothing_is_split_finer_than_half_an_hour(laid: Laid) -> None:
    for day in laid[2]:
        for lane in day.lanes:
            assert (minutes(lane.ends) - minutes(lane.begins)) % 30 == 0
        assert all(entry.booked * 2 % 1 == 0 for entry in day.entries)


def test_half_hours_are_the_exact_ones_rounded_up_each_by_less_than_half(laid: Laid) -> None:
    for task in laid[0].tasks:
        booked = sum(
            e.booked for day in laid[2] for e in day.entries
            if (e.task_code, e.zone) == (task.code, task.zone)
        )  # fmt: skip
        assert 0 <= booked - task.hours < Decimal("0.5") or task.per_day


def test_leveler_is_poured_the_day_or_two_before_its_rows_and_the_pad_goes_with_them(
    laid: Laid,
) -> None:
    assert (row_day(laid, 1) - last(laid, "level")[0]).days <= 2
    for day in laid[2]:
        codes = {entry.task_code for entry in day.entries}
        assert ("underlay" in codes) == ("lay" in codes)


def test_the_old_floor_leaves_on_the_day_it_comes_out(laid: Laid) -> None:
    for day in laid[2]:
        codes = {entry.task_code for entry in day.entries}
        assert ("tear_out" in codes) == ("dispose" in codes)


def test_what_comes_out_is_driven_to_the_dump_the_same_day(laid: Laid) -> None:
    runs = [(day, minutes(lane.begins)) for day, lane in lanes(laid, "dump_run")]
    torn = [(day, minutes(lane.ends)) for day, lane in lanes(laid, "tear_out")]
    for date_ in {day for day, _ in torn}:
        out = max(ends for day, ends in torn if day == date_)
        assert [begins >= out for day, begins in runs if day == date_] == [True]


@pytest.mark.parametrize("room", ["living", "bedroom"])
def test_furniture_goes_out_first_and_back_last(laid: Laid, room: str) -> None:
    out, back = last(laid, "furniture", room, "out"), first(laid, "furniture", room, "back")
    assert out <= first(laid, "tear_out", room)
    assert back >= last(laid, "base", room)
    assert back[0] >= row_day(laid, ROOMS[room][2][1])


def test_two_people_carry_furniture_where_there_are_two(laid: Laid) -> None:
    spans = [(day, lane.begins, lane.room) for day, lane in lanes(laid, "furniture")]
    assert {spans.count(span) for span in spans} == {min(2, laid[1].people)}


def test_the_toilet_is_off_from_the_day_that_lays_the_bath_on(laid: Laid) -> None:
    assert first(laid, "fixtures_off", "bath")[0] == row_day(laid, ROOMS["bath"][2][0])
    nights = [night.nights for day in laid[2] for night in day.nights if night.room == "bath"]
    assert sum(nights) <= 1


@pytest.mark.parametrize("room", list(ROOMS))
def test_casings_are_undercut_on_the_bare_subfloor(laid: Laid, room: str) -> None:
    assert first(laid, "undercut", room) >= last(laid, "tear_out", room)
    assert last(laid, "undercut", room)[0] <= row_day(laid, ROOMS[room][2][0])


def test_a_row_takes_its_hours_by_its_length_and_cuts(laid: Laid) -> None:
    lay = next(task for task in laid[0].tasks if task.code == "lay")
    assert sum(lay.row_hours) == lay.hours
    hall, living = lay.row_hours[16:24], lay.row_hours[:16]
    # By hand, starting rates: a long row 12 x 0.02 + 4 x 0.01 + 0.03 = 0.31 h, a short one
    # 3 x 0.02 + 0.01 + 0.03 = 0.10 h; their part of the floor's hours stays as 31 to 10.
    each = [sum(rows, Decimal(0)) / len(rows) for rows in (living, hall)]
    assert abs(each[0] / each[1] - Decimal("3.1")) < Decimal("0.1")


def test_the_drive_home_is_the_crews(laid: Laid) -> None:
    """An hour a person and day: half out, half home; on site from 8:30 to 15:30."""
    for day in laid[2]:
        assert min(minutes(lane.begins) for lane in day.lanes) >= 8 * 60 + 30
        assert max(minutes(lane.ends) for lane in day.lanes) <= 15 * 60 + 30
        assert [e.hours for e in day.entries if e.task_code == "travel"] == [laid[1].people]


def test_hours_of_a_day_are_one_persons(laid: Laid) -> None:
    for day in laid[2]:
        assert day.booked <= 8 * laid[1].people
