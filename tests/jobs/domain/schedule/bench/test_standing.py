"""For how long people stand about at the site, from strokes written down here."""

from __future__ import annotations

from datetime import date
from typing import cast

import pytest

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.standing import stands_from, stood
from jobs.domain.schedule.bench.values import WorkSpell
from jobs.domain.schedule.bench.worked import WorkedDay

NINE = 36


def day(*strokes: tuple[int, int, int]) -> WorkedDay:
    """A day from nine on: who works from when to when, in quarters of an hour after nine."""
    spells = (
        WorkSpell(person=person, key="lay", begins=NINE + begins, ends=NINE + ends)
        for person, begins, ends in strokes
    )
    bench = cast("WorkBench", None)
    return WorkedDay(
        date=date(2027, 3, 1), opens=NINE, spells=tuple(spells), before=bench, after=bench
    )


@pytest.mark.parametrize(
    ("strokes", "halves"),
    [
        ([(0, 0, 8), (1, 0, 4)], 0),
        ([(0, 0, 4), (0, 6, 8)], 1),
        ([(0, 0, 4), (0, 6, 8), (1, 0, 2), (1, 8, 10)], 4),
        ([(0, 6, 8), (0, 0, 4)], 1),
    ],
    ids=["who goes home first does not stand", "between two strokes", "two people", "any order"],
)
def test_who_waits_between_two_strokes_stands_about(
    strokes: list[tuple[int, int, int]], halves: int
) -> None:
    assert stood(day(*strokes)) == halves


def test_a_crew_goes_home_sooner_than_it_waits_an_hour_for_an_hour() -> None:
    assert stands_from(day((0, 0, 4), (0, 8, 12))) == 2
    assert stands_from(day((0, 0, 4), (0, 7, 11))) is None
    assert stands_from(day((0, 0, 4), (0, 8, 13))) is None
