"""The hours of a day on the board and in calendars."""

from __future__ import annotations

from decimal import Decimal

from jobs.models import WorkDay
from jobs.readers.board.laid import man_hours_of


def test_half_hours_count_where_a_day_knows_them() -> None:
    # 1 1/2 and 4 half-hourly, beside exact hours of 1.3 and 3.72.
    entries = [{"hours": "1.30", "booked": "1.5"}, {"hours": "3.72", "booked": "4"}]
    assert man_hours_of(WorkDay(entries=entries, hours=Decimal("5.02"))) == Decimal("5.5")


def test_a_day_of_before_has_its_exact_hours() -> None:
    assert man_hours_of(WorkDay(entries=[{"hours": "1.30"}], hours=Decimal("1.30"))) == Decimal(
        "1.30"
    )
