"""Days of a crew that is only penciled in stand on the board, and what they would be at odds with.

The job is that of `test_penciled`: five days of one person from a Monday on.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client as Visitor
from django.urls import reverse

from jobs.domain.board.booked import day_words
from jobs.models import Crew, Job
from tests.builders import make_day
from tests.estimates.views.penciled.test_penciled import (  # noqa: F401  fixtures
    alone,
    pencil,
    plain_monday,
    two_and_a_half,
)
from tests.jobs.agreed import agreed_job
from tests.reading import words

pytestmark = pytest.mark.django_db


def board(visitor: Visitor, monday: date) -> Any:
    return visitor.get(reverse("board"), {"from": monday.isoformat()})


def visits(answer: Any) -> list[tuple[date, bool, bool]]:
    """Return date, whether penciled and whether in conflict of the visits of the first crew."""
    [lane] = answer.context["board"].crews
    return [
        (square.date, visit.day.penciled, visit.clashes)
        for square in lane.squares
        for visit in square.visits
    ]


def test_penciled_days_are_drawn_as_penciled(
    visitor: Visitor,
    two_and_a_half: Job,  # noqa: F811
    alone: Crew,  # noqa: F811
) -> None:
    monday = plain_monday(two_and_a_half)
    pencil(visitor, two_and_a_half, alone, monday)
    answer = board(visitor, monday)
    week = [monday + timedelta(days=number) for number in range(5)]
    assert visits(answer) == [(day, True, False) for day in week]
    said = words(answer)
    named = "; ".join(map(day_words, week))
    assert f"penciled in, not agreed yet: {named}" in said
    # Nobody agreed on it: the days are still free, and there is nothing to keep or mend.
    assert f"free from {day_words(monday)}" in said or f"free on {day_words(monday)}" in said
    assert answer.context["open"] == []


def test_what_a_penciled_crew_would_be_at_odds_with_is_named_beneath(
    visitor: Visitor,
    two_and_a_half: Job,  # noqa: F811
    alone: Crew,  # noqa: F811
) -> None:
    monday = plain_monday(two_and_a_half)
    pencil(visitor, two_and_a_half, alone, monday)
    other = agreed_job(two_and_a_half.company)
    make_day(other, alone, scope=other.agreed_scope, date=monday, hours=4)
    answer = board(visitor, monday)
    assert (monday, True, True) in visits(answer)
    assert (monday, False, False) in visits(answer)
    [line] = [one for one in answer.context["waiting"] if one.job == two_and_a_half]
    [clash] = line.clashes
    assert f"job {other.number} (4 h)" in clash
    assert f"job {two_and_a_half.number} (8 h)" in clash
    assert clash in words(answer)
    assert answer.context["open"] == []
