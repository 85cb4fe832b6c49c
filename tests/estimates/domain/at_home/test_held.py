"""A homeowner reads what is not settled, and which day of theirs it may move."""

from __future__ import annotations

from datetime import date

from estimates.domain.at_home.held import OTHERS, WORDS, held_words
from jobs.domain.site.clearing import CLEARED_BY
from jobs.domain.site.facts import Caution

TODAY = date(2026, 10, 21)
DAYS = {date(2026, 10, 20): ["lay"], date(2026, 10, 22): ["lay"], date(2026, 10, 23): ["base"]}


def hold(code: str, *blocks: str) -> Caution:
    return Caution(code=code, title="t", text="x", source="s", severity="hold", blocks=blocks)


def test_the_first_day_that_is_still_to_come_may_move() -> None:
    (said,) = held_words([hold("moisture", "lay")], DAYS, TODAY)
    assert said == f"{WORDS['moisture']}. If it takes longer, Thu, Oct 22 may move."


def test_a_hold_of_nothing_to_come_is_not_mentioned() -> None:
    assert held_words([hold("lead", "tear_out")], DAYS, TODAY) == ()


def test_a_hold_without_words_is_said_all_the_same() -> None:
    (said,) = held_words([hold("new-kind", "base")], DAYS, TODAY)
    assert said.startswith(OTHERS)


def test_every_hold_has_words_for_the_homeowner_and_somebody_who_clears_it() -> None:
    assert set(WORDS) == set(CLEARED_BY)
