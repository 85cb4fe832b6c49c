"""Parts of many floors share sheets: a stick lies where there is room for it, its own first."""

from __future__ import annotations

from typing import Any

import pytest

from jobs.domain.formats import Fields
from jobs.domain.packet.packing import Packing, packed


def svg(tall: float) -> str:
    return f'<svg width="251mm" height="{tall}mm"></svg>'


def floor(name: str, rows: float, stick: float, *, drawn: float = 0.0, **more: Any) -> Fields:
    """A floor whose last sheet of rows is so tall, with a stick of one placing so tall."""
    slide = {"by": ["plan"], "lines": [{"who": "row 1"}], "far": None, "fixed": []}
    placings = [{"drawing": svg(stick)}]
    return {
        "name": name,
        "beside": not drawn,
        "drawings": [svg(drawn)],
        "strips": {"sheets": [{"drawing": svg(170)}, {"drawing": svg(rows)}]},
        "stick": {"placings": placings, "scribe": [], "slide": slide, "strips": [], "by_hand": ""},
        "older": {},
        **more,
    }


def sticks(packing: Packing) -> dict[str, list[str]]:
    """The floors whose sticks lie behind the strips of each."""
    return {
        one.floor["name"]: [other.floor["name"] for other in one.sticks] for one in packing.strips
    }


def test_each_of_few_floors_has_its_own_sheets_in_order() -> None:
    packing = packed([floor("Den", 170, 60, drawn=120), floor("Hall", 60, 60)])
    assert sticks(packing) == {"Den": ["Den"], "Hall": ["Hall"]}
    assert not packing.many
    assert packing.slid == ()


def test_a_stick_without_room_under_its_own_rows_lies_under_an_earlier_floors() -> None:
    # 174 less 60 of rows and 73 of the own stick leave 41: Den's 33 fit, Loft's 73 do not.
    floors = [floor("Hall", 60, 60), floor("Den", 170, 20), floor("Loft", 170, 60)]
    packing = packed(floors)
    assert sticks(packing) == {"Hall": ["Hall", "Den"], "Den": [], "Loft": []}
    assert [one.floor["name"] for one in packing.behind] == ["Loft"]
    assert [one.stick_at for one in packing.strips] == [1, 1, 0]


def test_floors_drawn_beside_their_offcuts_come_before_those_above_them() -> None:
    floors = [floor(name, 60, 20, drawn=tall) for name, tall in (("A", 124), ("B", 0), ("C", 62))]
    packing = packed([*floors, floor("D", 60, 20)])
    assert [one.part for one in packing.drawn] == ["floor 2", "floor 4", "floor 3", "floor 1"]


def test_changed_sheets_alone_stay_with_their_floors() -> None:
    floors = [floor(name, 170, 60) for name in "ABC"]
    assert sticks(packed(floors, apart=True)) == {"A": ["A"], "B": ["B"], "C": ["C"]}


@pytest.mark.parametrize("columns", [["plan"], ["plan", "+ 5"]])
def test_slides_stand_in_one_table_where_they_have_the_same_columns(columns: list[str]) -> None:
    floors = [floor(name, 60, 20) for name in "ABC"]
    floors[2]["stick"]["slide"] = {**floors[2]["stick"]["slide"], "by": columns}
    assert len(packed(floors).slid) == (3 if columns == ["plan"] else 0)


def test_a_floor_by_older_rules_has_no_stick_and_lends_no_room() -> None:
    old: Fields = {"name": "Old", "older": {"rows": []}, "drawings": []}
    packing = packed([old, floor("Den", 170, 60), floor("Hall", 60, 60)])
    assert sticks(packing) == {"Old": ["Old"], "Den": [], "Hall": ["Hall"]}
