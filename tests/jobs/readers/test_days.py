"""The tasks of a day in words: half hours, and a part that is counted with its task's rest."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.readers.days import TaskLine, laid_hours


def a_line(hours: str, booked: str | None) -> TaskLine:
    """A task of a day with so many exact hours and half hours."""
    return TaskLine(
        key="doors_off:Hall",
        task="doors_off",
        zone="Hall",
        label="Take doors off",
        hours=Decimal(hours),
        rows=None,
        helper=False,
        finishes=True,
        open_holds=(),
        booked=None if booked is None else Decimal(booked),
    )


@pytest.mark.parametrize(
    ("hours", "booked", "said"),
    [
        ("0.15", "0.5", "1/2 h"),
        ("0.15", "0", "with the rest of it"),
        ("0.15", "0.0", "with the rest of it"),
        ("0", "0", "0 h"),
        ("3.28", "3.0", "3 h"),
        ("0.15", None, "0.15 h"),
    ],
)
def test_no_work_takes_nothing_on_the_clock(hours: str, booked: str | None, said: str) -> None:
    assert a_line(hours, booked).clock_words == said


def test_two_short_parts_of_a_task_are_one_half_hour_of_the_day() -> None:
    # 0.15 h in the hall and 0.15 h in the bedroom are 0.30 h: one half hour, not two.
    assert laid_hours([a_line("0.15", "0.5"), a_line("0.15", "0")]) == Decimal("0.5")
