"""Each caution that may reach a quote has words of its own for a homeowner, with this house's."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimates.domain.quotes.house_cautions import LOCAL_CODES, WORDS, House, house_cautions
from jobs.domain.openings.stairs import Flight
from jobs.domain.openings.transitions import TightDoor, TrappedAppliance
from jobs.domain.site.cautions import cautions_for
from jobs.domain.site.facts import Caution, LevelChange, MoistureReading, VisitFacts
from tests.estimates.a_price import Given
from tests.estimates.trade_words import trade_words

MODERN: Given = {"year_built": 1999, "existing_floor": "none"}
DOOR = TightDoor(where='Hall, wall 3, 5" along', left='0"', trim='⅛"')
STEP = LevelChange(
    where='Hall, wall 3, 5" along',
    rise_in=Decimal("0.375"),
    said='⅜" higher',
    beyond="the tile",
    strip="reducer",
)
STAIR = Flight(
    name="Main stair",
    risers_in=(Decimal("7.5"), Decimal("8")),
    tread_in=Decimal("9.5"),
)
WET = MoistureReading(
    method="RH %", value=Decimal(92), limit=Decimal(85), where="by the north wall"
)
CREW = ("wall 3", "along", "test-swing", "row one", "accessible", "flange", "riser", "RH", "ft2")

BY_HOUSE: dict[str, tuple[Given, str]] = {
    "asbestos": (
        {"existing_floor": "resilient", "floor_year": 1960, "tear_out": True},
        (
            "It may be from 1960, so it may hold asbestos. We don't touch it until a qualified "
            "inspector has cleared it in writing."
        ),
    ),
    "hidden-floor": (
        {"year_built": 1970, "existing_floor": "carpet", "tear_out": True},
        (
            "An older floor may lie there and hold asbestos. If one shows, we stop, tell you the "
            "same day, and go on once a qualified inspector has cleared it in writing."
        ),
    ),
    "old-adhesive": (
        {"year_built": 1970, "existing_floor": "carpet", "grinding": True},
        (
            "Black glue of an old floor may hold asbestos. We look first; if it is there, we stop, "
            "tell you the same day, and go on once a qualified inspector has cleared it in writing."
        ),
    ),
    "lead": (
        {"year_built": 1962, "painted_ft2_per_room": Decimal(20)},
        (
            "Built in 1962, so its paint may hold lead. You get the pamphlet first; then a "
            "certified firm takes the painted wood off with the rooms closed off, or a test shows "
            "that there is none."
        ),
    ),
    "moisture": (
        {"readings": (WET,)},
        (
            "What lies beneath is too wet for your new floor now (by the north wall). Nothing is "
            "laid until it has dried or is sealed as the floor's maker accepts, and has been "
            "measured again."
        ),
    ),
    "heated-floor": ({"heated_floor": True}, "We put no nail or screw into it."),
    "silica": ({"grinding": True}, "please stay out of the room meanwhile."),
    "fire-door": ({"fire_door": True}, "We don't trim it."),
    "gas": ({"gas_appliance": True}, "A licensed person, not we, takes the gas appliance off"),
    "toilet": ({"toilets": 1}, "It stands higher on the new floor"),
    "level-change": (
        {"level_changes": (STEP,)},
        (
            "Where the hall ends, the tile stands ⅜ in higher; a sloped strip joins the two. Mind "
            "the step."
        ),
    ),
    "door-clearance": (
        {"tight_doors": (DOOR,)},
        "⅛ in comes off the bottom of the door of the hall, so that it clears the new floor.",
    ),
    "appliance-trapped": (
        {"trapped_appliances": (TrappedAppliance(where="Kitchen", clear='¼"', gained='½"'),)},
        "The new floor of the kitchen would close in what stands under the counter",
    ),
    "risers": (
        {"stairs": (STAIR,)},
        (
            "With the new floor the highest step is higher than the lowest: Main stair, ½ in. ⅜ in "
            "is the most. It is put right before the stairs are covered."
        ),
    ),
    "riser-height": (
        {"stairs": (STAIR,)},
        "The highest step with the new floor: Main stair, 8 in. 7¾ in is the most.",
    ),
    "tread-depth": (
        {"stairs": (STAIR,)},
        "The depth of a step: Main stair, 9½ in. 10 in is the least.",
    ),
}
"""What makes each caution, and what the homeowner reads."""


def read_by_homeowner(**changes: object) -> dict[str, str]:
    """What the homeowner of a house of 1999 reads, by title."""
    facts = VisitFacts(**MODERN | changes)
    return said_of(facts, House(facts=facts))


def said_of(facts: VisitFacts, house: House) -> dict[str, str]:
    sections = house_cautions(cautions_for(facts), house)
    return {each.title: each.text.replace("\u00a0", " ") for each in sections}


def every_code() -> set[str]:
    """The codes of the cautions that any of the facts here brings onto a quote."""
    codes = set()
    for facts, _ in BY_HOUSE.values():
        shown = cautions_for(VisitFacts(**MODERN | facts))
        codes |= {caution.code for caution in shown if "quote" in caution.shown_on}
    return codes


@pytest.mark.parametrize("code", BY_HOUSE)
def test_each_caution_is_told_in_a_homeowner_s_words(code: str) -> None:
    facts, words = BY_HOUSE[code]
    title, _ = WORDS[code]
    said = read_by_homeowner(**facts)
    assert words in said[title]
    assert [word for word in CREW if word in said[title]] == []
    assert trade_words(said[title]) == []


def test_every_caution_that_reaches_a_quote_has_its_words() -> None:
    assert every_code() == set(WORDS) == set(BY_HOUSE)


def test_codes_and_licensed_people_go_before_all_of_them() -> None:
    assert list(read_by_homeowner(toilets=1)) == ["Toilet", "Local codes"]
    assert read_by_homeowner(toilets=1)["Local codes"] == LOCAL_CODES.text


def test_a_house_that_asks_for_nothing_is_told_nothing() -> None:
    assert read_by_homeowner() == {}


def test_an_old_floor_that_stays_is_left_alone() -> None:
    said = read_by_homeowner(existing_floor="resilient", floor_year=None, year_built=None)
    assert said["The old floor"].startswith("Nobody knows how old it is, so it may hold asbestos.")
    assert "It stays: we don't sand, scrape or break it." in said["The old floor"]


def test_doors_are_told_together_by_what_comes_off() -> None:
    bath = TightDoor(where='Bath, wall 1, 9" along', left='0"', trim='⅛"')
    said = read_by_homeowner(tight_doors=(DOOR, bath))["A door is trimmed"]
    assert said == (
        "⅛ in comes off the bottom of the doors of the hall and the bath, so that they clear the "
        "new floor."
    )


def test_a_door_that_the_homeowner_hangs_is_theirs_to_trim() -> None:
    facts = VisitFacts(**MODERN | {"tight_doors": (DOOR,)})
    said = said_of(facts, House(facts=facts, doors_by_homeowner=True))
    assert said["A door is trimmed"].startswith("You take ⅛ in off the bottom of the door")


def test_a_step_on_the_way_of_a_wheelchair_defers_to_local_codes() -> None:
    said = read_by_homeowner(level_changes=(STEP,), accessible_route=True)[
        "A step between two floors"
    ]
    assert said.endswith("local codes say how it slopes.")


def test_a_step_of_a_quarter_inch_is_no_caution() -> None:
    low = LevelChange(where="Hall, wall 1", rise_in=Decimal("0.25"), said='¼" higher')
    assert "A step between two floors" not in read_by_homeowner(level_changes=(low,))


def test_a_caution_without_words_of_its_own_is_put_plainly() -> None:
    new = Caution(code="new", title="Subfloor", text="A casing.", source="none", severity="note")
    (said, _) = house_cautions([new], House(facts=VisitFacts(**MODERN)))
    assert (said.title, said.text) == ("Floor beneath", "A door trim.")
