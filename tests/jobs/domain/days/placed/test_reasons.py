"""Why pieces of the worked 580 ft2 job stand where they stand, and their slack, by hand.

Two people, 7.5 h on site a day, 8:15 to 3:45; its office is a bedroom. Hours that could be worked
are counted from Monday 8:15: Monday ends at 7.5, Tuesday at 15, Thursday at 30.

    base     of office, living room and hall and the clean-up after it end the job on Thursday at
             3:45, one after another since the last row went down at 9:45: no slack.
    lay      from Tuesday 2:15 on goes on without a gap until then: no slack.
    level    Monday 1:15 to 2:15; its 24 h are over on Tuesday 2:15, when row 1 begins: none either.
    carry    Tuesday 10:15 to 10:45, when the truck is back; row 1 begins 3.5 h later.
"""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.days.days import plan_days
from jobs.domain.days.placed.network import Placed, waits_of
from jobs.domain.days.placed.pieces import SiteClock, pieces_of, quarter_of, spells_of
from jobs.domain.days.placed.reasons import PieceStanding, standings
from tests.jobs.agreed import a_task
from tests.jobs.domain.days.planned import WEEKDAYS
from tests.jobs.domain.schedule.worked_job import the_job

MONDAY = date(2027, 3, 1)
TUESDAY, WEDNESDAY, THURSDAY = date(2027, 3, 2), date(2027, 3, 3), date(2027, 3, 4)


@pytest.fixture(scope="module")
def stand() -> tuple[PieceStanding, ...]:
    """Every piece of the job of two people."""
    work, crew = the_job(2, {"office": "bedroom"})
    days = plan_days(work.tasks, crew, MONDAY, WEEKDAYS, today=MONDAY)
    spells = [
        spell
        for day in days
        for spell in spells_of(day.date, [lane.as_stored() for lane in day.lanes])
    ]
    tasks, pieces = {task.key: task for task in work.tasks}, pieces_of(spells)
    placed = Placed(tasks=tasks, spells=spells, pieces=pieces, waits=waits_of(tasks, pieces))
    dates = tuple(MONDAY + timedelta(days=number) for number in range(5))
    return standings(placed, SiteClock(dates=dates, opens=33, closes=63))


def piece(stand: tuple[PieceStanding, ...], task: str, day: date) -> PieceStanding:
    return next(one for one in stand if one.piece.task == task and one.piece.day == day)


def test_what_dries_may_slip_as_the_row_that_waits_for_it(
    stand: tuple[PieceStanding, ...],
) -> None:
    assert piece(stand, "level:down", MONDAY).slack == 0
    assert piece(stand, "lay:down", WEDNESDAY).slack == 0


def test_what_stands_before_a_wait_may_slip_by_it_too(stand: tuple[PieceStanding, ...]) -> None:
    assert piece(stand, "carry", TUESDAY).slack == Decimal("3.5")


def test_what_is_followed_without_a_gap_is_critical(stand: tuple[PieceStanding, ...]) -> None:
    assert piece(stand, "base:down", THURSDAY).critical
    assert piece(stand, "clean", THURSDAY).critical


def test_a_reason_names_what_came_right_before(stand: tuple[PieceStanding, ...]) -> None:
    assert piece(stand, "pick_up", MONDAY).why == "Nothing comes before it."
    assert piece(stand, "load", MONDAY).why == "After “Pick up the material”."
    assert piece(stand, "lay:down", WEDNESDAY).why == "Goes on from Tue, Mar 2."
    begun = piece(stand, "base:down", THURSDAY).why
    assert begun == "After “Lay the floor”."


def test_no_piece_has_less_than_no_slack(stand: tuple[PieceStanding, ...]) -> None:
    assert min(one.slack for one in stand) == 0


def test_half_hours_of_two_rooms_name_both_and_come_before_the_work_in_each() -> None:
    """A door off in the hall and one in the den by 9:00; the den's old floor comes out then."""
    doors = a_task("doors_off", "0.50", zone="down")
    torn = a_task("tear_out", "2.00", zone="down", after=("doors_off:down",))
    tasks = {task.key: task for task in (doors, torn)}
    lanes: list[dict[str, Any]] = [
        {"person": "Lead", "task": "doors_off:down", "room": "hall", "also": ["den"], "part": "",
         "begins": "8:15", "ends": "8:45"},
        {"person": "Lead", "task": "tear_out:down", "room": "den", "part": "",
         "begins": "8:45", "ends": "10:45"},
    ]  # fmt: skip
    spells = spells_of(MONDAY, lanes)
    placed = Placed(tasks=tasks, spells=spells, pieces=pieces_of(spells), waits=[])
    first, second = standings(placed, SiteClock(dates=(MONDAY,), opens=33, closes=63))
    assert first.piece.rooms == ("hall", "den")
    assert second.why == f"After “{doors.label}” in hall and den."


def test_a_clock_that_is_none_is_refused() -> None:
    with pytest.raises(BadValueError, match="clock is 'soon'; accepted: a time of day as 8:15"):
        quarter_of("soon")
