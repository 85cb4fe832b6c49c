"""Another plank in words: named by what is different about it, with what follows."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimates.domain.quotes.boards import LONGEST_NAME, board_words, plank_words, step_words
from estimates.domain.quotes.sold import SoldFloor
from jobs.domain.figures import NO_BREAK
from jobs.domain.site.facts import LevelChange

OAK = SoldFloor(
    product="Slate Oak",
    core="rigid",
    thickness_in=Decimal("0.25"),
    width_in=Decimal(7),
    length_in=Decimal(48),
    attached_pad=False,
    pad=False,
)


def words(then: SoldFloor, rise: str = "0", *floors: str) -> tuple[str, str, str]:
    said = board_words(OAK, then, rise_in=Decimal(rise), floors=floors, system="imperial")
    return said.name, said.against, said.text.replace(NO_BREAK, " ")


def test_a_thicker_plank_is_named_by_that_and_tells_what_it_lifts() -> None:
    thick = replace(OAK, product="Harbor Oak", thickness_in=Decimal("0.375"), width_in=Decimal(9))
    text = "The plank is ⅜ in thick in place of ¼ in. The floor stands ⅛ in higher."
    assert words(thick, "0.125") == ("Thicker plank", "Thinner plank", text)
    name, against, said = words(replace(OAK, thickness_in=Decimal("0.1875")), "-0.0625")
    assert (name, against) == ("Thinner plank", "Thicker plank")
    assert said.endswith("in lower.")


@pytest.mark.parametrize(
    ("then", "name", "against"),
    [
        (replace(OAK, width_in=Decimal(9)), "Wider plank", "Narrower plank"),
        (replace(OAK, length_in=Decimal(36)), "Shorter plank", "Longer plank"),
        (replace(OAK, core="laminate"), "Laminate plank", "Rigid vinyl plank"),
        (replace(OAK, product="Harbor Oak"), "Harbor Oak", "Slate Oak"),
    ],
)
def test_without_another_thickness_the_next_difference_names_it(
    then: SoldFloor, name: str, against: str
) -> None:
    assert words(then)[:2] == (name, against)


def test_a_plank_in_some_rooms_says_where_while_there_is_room_for_it() -> None:
    wide = replace(OAK, width_in=Decimal(9))
    assert words(wide, "0", "Bedroom", "Hall")[0] == "Wider plank in the bedroom and the hall"
    many = [f"Upstairs bedroom {number}" for number in range(1, 6)]
    assert words(wide, "0", *many)[0] == "Wider plank"
    assert len(words(replace(OAK, product="Oak " * 40))[0]) <= LONGEST_NAME


def test_planks_and_steps_are_consequences_in_a_homeowners_words() -> None:
    floors = (OAK, OAK, replace(OAK, core="laminate"))
    assert plank_words(floors, "imperial").replace(NO_BREAK, " ") == (
        "rigid vinyl plank, ¼ in thick, 7 in wide; laminate plank, ¼ in thick, 7 in wide"
    )
    up = LevelChange(
        where="Den", rise_in=Decimal("0.5"), said='1/2" higher', beyond="the tile", strip="reducer"
    )
    assert step_words([up, up]).replace(NO_BREAK, " ") == (
        "the tile stands 1/2 in higher, a sloped strip"
    )
    assert step_words([]) == "level"
