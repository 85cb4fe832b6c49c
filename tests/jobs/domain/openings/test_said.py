"""Doorways and floors beyond by the places and words that people use."""

from __future__ import annotations

import pytest

from jobs.domain.openings.said import beyond_words, door_words, near_words, strip_words


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Bathroom", "the bathroom"),
        ("Bathroom, tile", "the bathroom"),
        ("Living room", "the living room"),
        ("Mia's room", "Mia's room"),
        ("Bedroom 2", "Bedroom 2"),
        ("what lies beyond", "what lies beyond"),
    ],
)
def test_a_plain_room_is_told_with_its_article(name: str, said: str) -> None:
    assert near_words(name) == said


def test_a_doorway_and_its_strip_are_named_by_where_they_lead() -> None:
    assert door_words("Hall", "door", "Bathroom") == "Hall, door to the bathroom"
    assert door_words("Hall", "cased", "Den") == "Hall, opening to the den"
    assert strip_words("reducer", "door", "Bathroom, tile") == "reducer, bathroom door"


def test_what_lies_beyond_stands_up_down_or_level() -> None:
    assert beyond_words("tile", '3/8"', up=True) == 'Tile stands 3/8" up'
    assert beyond_words("carpet", '1/4"', up=False) == 'Carpet stands 1/4" down'
    assert beyond_words("", "", up=False) == "The floor beyond lies level"
