"""What is cleared, done and changed, in words: nothing of the trade in them."""

from __future__ import annotations

from datetime import date

import pytest

from estimates.domain.at_home.changed import Promised, moved_dates, since_agreed
from estimates.domain.at_home.clearing import (
    YOURS,
    SiteWords,
    clearing_words,
    pet_words,
    your_work,
)
from estimates.domain.at_home.closed import ShutRoom
from estimates.domain.quotes.days import NOT_MOVED
from jobs.domain.days.homeowner import HomeownersTask
from tests.estimates.domain.quotes.a_sale import ROOMS, two_rooms
from tests.estimates.trade_words import trade_words

MONDAY, TUESDAY, THURSDAY = date(2027, 3, 1), date(2027, 3, 2), date(2027, 3, 4)


def test_what_was_noted_is_called_by_its_name() -> None:
    site = SiteWords(aquarium="60 gal, den", piano="upright, hall.", electronics="TV on the wall")
    said = clearing_words(two_rooms(), ROOMS, site)
    assert "The aquarium (60 gal, den): you empty it and move it before day 1; we don't." in said
    assert "The piano (upright, hall): you have it moved before day 1; we don't." in said
    assert "Electronics (TV on the wall): you unplug and move them before day 1; we don't." in said
    assert NOT_MOVED not in said


def test_where_nothing_was_noted_all_three_are_named() -> None:
    assert NOT_MOVED in clearing_words(two_rooms(), ROOMS, SiteWords())


def test_pets_of_the_house_come_first() -> None:
    assert pet_words(SiteWords(pets="Two cats, in the kitchen"))[0] == "Two cats, in the kitchen."
    assert len(pet_words(SiteWords())) == 1


@pytest.mark.parametrize(
    ("after", "before", "said"),
    [
        (1, 3, "You paint (Den) before day 3."),
        (2, 2, "You paint (Den) on day 2, between our work."),
        (4, None, "You paint (Den) after day 4."),
        (None, None, "You paint (Den)."),
    ],
)
def test_the_homeowners_own_work(after: int | None, before: int | None, said: str) -> None:
    task = HomeownersTask(name="Paint (Den)", after=after, before=before, code="paint", zone="Den")
    assert your_work([task]) == (said,)


def test_no_word_of_the_trade_is_said() -> None:
    assert trade_words(" ".join(YOURS.values())) == []


def test_what_became_other_than_agreed() -> None:
    shut = (ShutRoom(name="Bedroom", use="bedroom", first=MONDAY, last=THURSDAY),)
    promised = Promised(days=2, nights={"Bedroom": 1}, earliest=TUESDAY, latest=THURSDAY)
    assert list(since_agreed(promised, (MONDAY, TUESDAY, THURSDAY), shut)) == [
        "Your quote said 2 days of work; now it takes 3 days.",
        "Your quote said the week of Tue, Mar 2; we begin on Mon, Mar 1.",
        "Your bedroom can't be used for 3 nights; your quote said 1 night.",
    ]


def test_what_is_as_agreed_is_not_said() -> None:
    shut = (ShutRoom(name="Bedroom", use="bedroom", first=MONDAY, last=TUESDAY),)
    promised = Promised(days=2, nights={"Bedroom": 1}, earliest=MONDAY, latest=THURSDAY)
    assert list(since_agreed(promised, (MONDAY, TUESDAY), shut)) == []


def test_days_that_lie_elsewhere_now() -> None:
    was = {1: MONDAY, 2: TUESDAY, 4: THURSDAY}
    assert list(moved_dates(was, {1: MONDAY, 2: THURSDAY, 3: THURSDAY})) == [
        "Day 2 was Tue, Mar 2; it is Thu, Mar 4 now.",
        "Day 3, Thu, Mar 4, is new.",
        "Day 4 was Thu, Mar 4 and is no longer needed.",
    ]
