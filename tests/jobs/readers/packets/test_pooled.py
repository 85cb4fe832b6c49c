"""What the floors of a packet have together: a stick, a table of slides."""

from __future__ import annotations

from typing import Any

from jobs.domain.formats import Fields
from jobs.readers.packets.pooled import read_as_one


def floor(name: str, *, marks: str = "7 1/4", by: str = "1/4") -> Fields:
    """A floor with a stick of these marks and slides of this table."""
    stick: dict[str, Any] = {
        "make": f"Straight batten, 8 ft. First mark {marks}.",
        "lines": [{"row": 1, "far": marks}],
        "scribe": [],
        "placings": [
            {"drawing": f"<svg><title>Stick of {name}</title>{marks}</svg>"},
            {"drawing": f"<svg><text>{name}. Carry on</text>{marks}</svg>"},
        ],
        "slide": {"by": [by], "lines": [], "fixed": []},
        "strips": [],
        "by_hand": "",
    }
    return {"name": name, "product": "Oak", "stick": stick, "strips": {"how": []}}


def test_floors_with_the_same_marks_have_one_stick() -> None:
    floors = [floor("Hall"), floor("Den"), floor("Nook", marks="5 3/8")]
    read_as_one(floors, {})
    assert [one["stick"].get("as") for one in floors] == [None, "Hall", None]


def rows(name: str, *far: str, stays: str = "4", who: str = "") -> Fields:
    """A floor whose rows lie at these figures, the last one ripped, or ``who`` is notched."""
    one = floor(name)
    stick = one["stick"]
    stick["lines"] = [{"row": row, "far": at} for row, at in enumerate(far, start=1)]
    stick["placings"] = [{"drawing": f"<svg>{name} {mark}</svg>"} for mark in far]
    line = {"who": who or f"row {len(far)}", "values": ["3", stays, "5"]}
    stick["slide"] = {"by": ["- 1", "plan", "+ 1"], "lines": [line], "fixed": []}
    return one


def test_a_floor_with_fewer_of_the_same_rows_has_the_longer_stick_and_its_own_end() -> None:
    floors = [rows("Den", "7", "14", "18"), rows("Hall", "7", "14", "21", "23")]
    read_as_one(floors, {})
    assert floors[0]["stick"]["as"] == "Hall"
    assert floors[0]["stick"]["ends"] == "Row 2 lies at 14, row 3 stops at 18: 4 stays."
    assert "as" not in floors[1]["stick"]


def test_a_floor_that_more_than_its_walls_stop_has_its_own_stick() -> None:
    floors = [rows("Den", "7", "14", "18", who="2-6"), rows("Hall", "7", "14", "21", "23")]
    read_as_one(floors, {})
    assert not any("as" in one["stick"] for one in floors)


def test_floors_with_one_table_of_slides_are_named_at_the_first() -> None:
    floors = [floor("Hall"), floor("Den", by="1/2"), floor("Nook")]
    read_as_one(floors, {})
    assert [one["stick"].get("slide_for") for one in floors] == [["Hall", "Nook"], None, []]


def test_new_planks_of_a_last_row_come_off_the_spares_of_all_floors() -> None:
    # Six spares for both floors: three new planks leave three, eight are two too many.
    floors = [floor("Hall"), floor("Den"), floor("Nook")]
    for one, need in zip(floors, (3, 8), strict=False):
        one["stick"]["slide"]["far"] = {"new": {"need": need, "left": 99}}
    for one in floors:
        one["offcuts"] = {}
    read_as_one(floors, {"Oak": 6})
    assert [one["stick"]["slide"]["far"]["new"]["left"] for one in floors[:2]] == [3, -2]


def said(name: str) -> Fields:
    """A floor whose strips are read in general and by an example of its own."""
    how = [{"key": "hatch", "text": "Hatched is cut off."}, {"key": "plank", "text": f"Of {name}."}]
    return {**floor(name), "strips": {"how": how}}


def test_each_of_two_floors_has_its_own_examples() -> None:
    floors = [said("Hall"), said("Den")]
    read_as_one(floors, {})
    assert [one["text"] for one in floors[0]["strips"]["how"]] == ["Hatched is cut off."]
    assert [one["strips"]["here"][0]["text"] for one in floors] == ["Of Hall.", "Of Den."]


def test_examples_of_many_floors_read_together_name_their_floor() -> None:
    floors = [said(name) for name in ("Hall", "Den", "Nook")]
    read_as_one(floors, {})
    general, example = floors[0]["strips"]["how"]
    assert "floor" not in general
    assert (example["text"], example["floor"]) == ("Of Hall.", "Hall")
