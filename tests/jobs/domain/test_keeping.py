"""Months back from a moment, and how long things are kept in words."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from jobs.domain.keeping import months_before, months_words


@pytest.mark.parametrize(
    ("moment", "months", "earlier"),
    [
        ((2027, 3, 31), 1, (2027, 2, 28)),
        ((2028, 3, 31), 1, (2028, 2, 29)),
        ((2027, 1, 15), 1, (2026, 12, 15)),
        ((2027, 1, 15), 12, (2026, 1, 15)),
        ((2027, 1, 15), 36, (2024, 1, 15)),
        ((2027, 12, 1), 6, (2027, 6, 1)),
    ],
)
def test_months_back_are_those_of_the_calendar(
    moment: tuple[int, int, int], months: int, earlier: tuple[int, int, int]
) -> None:
    assert months_before(datetime(*moment, tzinfo=UTC), months) == datetime(*earlier, tzinfo=UTC)


def test_how_long_is_said_in_years_where_it_is_years() -> None:
    said = [months_words(months) for months in (None, 6, 12, 36)]
    assert said == ["For good", "6 months", "1 year", "3 years"]
