"""Why pieces of the worked 580 ft2 job stand where they stand, and their slack, by hand.

Two people, 7.5 h on site a day, 8:15 to 3:45; its office is a bedroom. Hours that could be worked
are counted from Monday 8:15: Monday ends at 7.5, Tuesday at 15, Thursday at 30.

    base     of the hall, Friday 8:15 to 9:15, and the clean-up after it end the job: no slack.
    lay      of Wednesday is followed by rows, strips and base without a gap until Thursday 2:15;
             the hall's base waits for Friday, so that this is worth the drive: 3:45 - 2:15 = 1.5 h.
    level    Monday 1:15 to 1:45; its 24 h are over on Tuesday 1:45, when row 1 begins, which may
             slip by 1.5 h: so may the leveler.
    carry    Tuesday 8:15 to 9:45; row 1 begins 4 h later, and may slip by 1.5 h: 5.5 h.
"""

from dataclasses import asdict
from datetime import date, timedelta
from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.days.days import plan_days
from jobs.domain.days.placed.network import Placed, waits_of
from jobs.domain.days.placed.pieces import SiteClock, pieces_of, quarter_of, spells_of
from jobs.domain.days.placed.reasons import PieceStanding, standings
from tests.jobs.domain.days.planned import WEEKDAYS
from tests.jobs.domain.schedule.worked_job import the_job

MONDAY = date(2027, 3, 1)
TUESDAY, WEDNESDAY, FRIDAY = date(2027, 3, 2), date(2027, 3, 3), date(2027, 3, 5)


@pytest.fixture(scope="module")
def stand() -> tuple[PieceStanding, ...]:
    """Every piece of the job of two people."""
    work, crew = the_job(2, {"office": "bedroom"})
    days = plan_days(work.tasks, crew, MONDAY, WEEKDAYS, today=MONDAY)
    spells = [
        spell for day in days for spell in spells_of(day.date, [asdict(lane) for lane in day.lanes])
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
    assert piece(stand, "level:down", MONDAY).slack == Decimal("1.5")
    assert piece(stand, "lay:down", WEDNESDAY).slack == Decimal("1.5")


def test_what_stands_before_a_wait_may_slip_by_it_too(stand: tuple[PieceStanding, ...]) -> None:
    assert piece(stand, "carry", TUESDAY).slack == Decimal("5.5")


def test_what_is_followed_without_a_gap_is_critical(stand: tuple[PieceStanding, ...]) -> None:
    assert piece(stand, "base:down", FRIDAY).critical
    assert piece(stand, "clean", FRIDAY).critical


def test_a_reason_names_what_came_right_before(stand: tuple[PieceStanding, ...]) -> None:
    assert piece(stand, "pick_up", MONDAY).why == "Nothing comes before it."
    assert piece(stand, "load", MONDAY).why == "After “Pick up the material”."
    assert piece(stand, "lay:down", WEDNESDAY).why == "Goes on from Tue, Mar 2."
    begun = piece(stand, "base:down", FRIDAY).why
    assert begun == "After “Set transitions” in hall; it begins with the day."


def test_no_piece_has_less_than_no_slack(stand: tuple[PieceStanding, ...]) -> None:
    assert min(one.slack for one in stand) == 0


def test_a_clock_that_is_none_is_refused() -> None:
    with pytest.raises(BadValueError, match="clock is 'soon'; accepted: a time of day as 8:15"):
        quarter_of("soon")
