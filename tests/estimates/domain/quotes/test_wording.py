"""What is done in each room, in plain words."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from estimates.domain.quotes.plain_words import plain_words
from estimates.domain.quotes.sold import SoldFloor
from estimates.domain.quotes.wording import floor_words, room_texts
from jobs.domain.quantities import Quantity
from tests.estimates.a_price import a_quantity
from tests.estimates.domain.quotes.a_sale import ROOMS, a_sale, two_rooms
from tests.estimates.trade_words import trade_words


def more(*entries: Quantity, **changes: object) -> tuple[str, ...]:
    scope = two_rooms()
    return room_texts(two_rooms(quantities=(*scope.quantities, *entries), **changes), ROOMS)


def in_bedroom(code: str, amount: int | str, basis: str = "counted", item: str = "") -> Quantity:
    entry = a_quantity(code, amount, zone="up", room="Bedroom", item=item)
    return Quantity(
        code=entry.code,
        label=entry.label,
        unit=entry.unit,
        kind=entry.kind,
        amount=entry.amount,
        basis=basis,
        source=entry.source,
        zone="up",
        room="Bedroom",
        item=item,
    )


def test_the_work_of_two_rooms() -> None:
    torn = "take up the carpet and its pad and haul them away"
    under = "make the floor beneath ready and lay the new floor."
    assert room_texts(two_rooms(), ROOMS) == (
        f"We move the furniture, {torn}, {under}",
        "The same work as in the bedroom, without furniture.",
    )


def test_a_room_with_the_same_work_says_so() -> None:
    alike = tuple(entry for entry in two_rooms().quantities if entry.code != "furniture")
    texts = room_texts(two_rooms(quantities=alike), ROOMS)
    assert texts[1] == "The same work as in the bedroom."


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        (in_bedroom("toilets", 1), "lift the toilet and set it again"),
        (in_bedroom("toilets", 2), "lift 2 toilets and set them again"),
        (in_bedroom("appliances", 1), "move the appliances and put them back"),
        (in_bedroom("base_off", 40), "take the baseboard off"),
        (in_bedroom("base_on", 40, "base: reinstall"), "put your baseboard back on"),
        (in_bedroom("base_on", 40, "base: replace"), "put on new baseboard"),
        (in_bedroom("shoe_on", 40), "set a trim strip along its foot"),
        (in_bedroom("leveller", 2), "fill the low spots with 2 bags of leveling compound"),
        (in_bedroom("subfloor_screws", 40), "screw down loose spots"),
        (in_bedroom("paint_area", 40), "paint the walls"),
    ],
)
def test_each_work_has_its_plain_words(entry: Quantity, words: str) -> None:
    assert words in more(entry)[0]
    assert words not in more(entry)[1]


def test_a_doorway_belongs_to_its_room() -> None:
    door = a_quantity("doors_off", 1, zone="up", room="Bedroom, wall 3, 12")
    assert "take the door off and hang it again" in more(door)[0]
    assert "door" not in more(door)[1]


def test_a_strip_at_a_doorway_is_told_by_what_it_is() -> None:
    strip = Quantity(
        code="transitions",
        label="Transitions set",
        unit="each",
        kind="work",
        amount=Decimal(1),
        basis="reducer, 32 in",
        source="measured",
        zone="up",
        room="Hall, wall 1, 7",
    )
    assert more(strip)[1].endswith("A sloped strip joins it to the floor beyond.")


def test_what_the_homeowner_does_is_told_as_theirs() -> None:
    bedroom, hall = more(left_to_homeowner=("furniture", "tear_out"))
    assert bedroom.endswith("You move the furniture and take up the carpet and its pad.")
    assert "haul them away" in bedroom
    assert hall.endswith("You take up the carpet and its pad.")


def test_hauling_goes_with_the_old_floor_where_one_person_does_both() -> None:
    assert more(left_to_homeowner=("tear_out", "dispose"))[1].endswith(
        "You take up the carpet and its pad and haul them away."
    )


def test_no_small_goods_by_name() -> None:
    shown = " ".join(more(in_bedroom("base_nails", 40), in_bedroom("shoe_nails", 20)))
    assert "nail" not in shown


def test_what_the_floor_is() -> None:
    words = floor_words(
        a_sale().floors, color="Demo Sand", sample_on=date(2026, 11, 24), system="imperial"
    )
    (shown,) = (text.replace("\u00a0", " ") for text in words)
    sizes = "¼ in thick with its pad, planks 7 in wide and 4 ft long"
    sample = "color Demo Sand, sample seen on November 24, 2026"
    assert shown == f"Rigid vinyl plank, oak print, {sizes}, {sample}."


def test_two_floors_of_one_product_are_one_sentence() -> None:
    floor: SoldFloor = a_sale().floors[0]
    words = floor_words((floor, floor), color="", sample_on=None, system="imperial")
    assert len(words) == 1


@pytest.mark.parametrize(
    ("trade", "plain"),
    [
        ("Take base off", "Take baseboard off"),
        ("the baseboard stays", "the baseboard stays"),
        ("A reducer and a T-molding", "A sloped strip and a joining strip"),
        ("Undercut casings", "Trimmed at the bottom door trim"),
        ("trapped by the rip", "closed in by the cut lengthwise"),
        ("The subfloor is wet", "The floor beneath is wet"),
        ("based on ripples", "based on ripples"),
    ],
)
def test_trade_words_have_plain_twins(trade: str, plain: str) -> None:
    assert plain_words(trade) == plain
    assert trade_words(plain) == []
