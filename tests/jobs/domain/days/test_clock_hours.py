"""Man-hours on the clock."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.days.clock_hours import clock_hours


@pytest.mark.parametrize(
    ("man_hours", "people", "clock"),
    [
        # Worked by hand: 15 h for two are 7 1/2; 14.2 for two are 7.1, so 7 1/2; 8 for one are 8.
        ("15", 2, "7.5"),
        ("14.2", 2, "7.5"),
        ("8", 1, "8"),
        ("10", 3, "3.5"),
        ("0", 2, "0.5"),
        ("60", 1, "24"),
        ("4", 0, "4"),
    ],
)
def test_people_share_the_hours_in_half_hours(man_hours: str, people: int, clock: str) -> None:
    assert clock_hours(Decimal(man_hours), people) == Decimal(clock)


def test_no_number_is_refused() -> None:
    with pytest.raises(BadValueError):
        clock_hours(Decimal("nan"), 2)
