"""Walls by number, doorways and rooms on the drawing of a floor; rings of rows hide no joint."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from layout.drawing.floor.landmarks import Landmark
from layout.drawing.floor.sheets import draw_floor_sheets
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.rooms import request as room_request

SVG = "{http://www.w3.org/2000/svg}"
CORNERS = [(0.0, 0.0), (150.0, 0.0), (150.0, 130.0), (0.0, 130.0)]
WALLS = tuple(
    Landmark(words=f"wall {n + 1}", ends=(CORNERS[n], CORNERS[(n + 1) % 4])) for n in range(4)
)
DOOR = Landmark(words="door to the bath", ends=((150.0, 40.0), (150.0, 70.0)), doorway=True)
ROOM = Landmark(words="Den", ends=((75.0, 65.0),))


def drawn(*, turn: float = 0.0) -> ElementTree.Element:
    """The drawing of a room of 150 by 130 in with its walls, a door and its name."""
    room = room_request([list(corner) for corner in CORNERS], rules={"direction_deg": turn})
    value = read_request(room)
    marks = (*WALLS, DOOR, ROOM)
    (sheet,) = draw_floor_sheets(
        value, plan_floor(value), title="Den", ident="floor-1", landmarks=marks
    ).sheets
    return ElementTree.fromstring(sheet)


def texts(sheet: ElementTree.Element, name: str) -> dict[str, tuple[float, float]]:
    """The words of a class, each with its place."""
    return {
        text.text or "": (float(text.attrib["x"]), float(text.attrib["y"]))
        for text in sheet.iter(f"{SVG}text")
        if text.get("class") == name
    }


def walls_box(sheet: ElementTree.Element) -> tuple[float, float, float, float]:
    """Where the walls are drawn: least x and y, most x and y."""
    (wall,) = (path for path in sheet.iter(f"{SVG}path") if path.get("class") == "wall")
    pairs = [pair.split() for pair in wall.attrib["d"].strip("MZ").split("L")]
    xs, ys = [float(x) for x, _ in pairs], [float(y) for _, y in pairs]
    return min(xs), min(ys), max(xs), max(ys)


def test_every_wall_has_its_number_beside_it() -> None:
    sheet = drawn()
    x0, y0, x1, y1 = walls_box(sheet)
    numbers = texts(sheet, "wall-number")
    assert set(numbers) == {"wall 1", "wall 2", "wall 3", "wall 4"}
    assert numbers["wall 1"][1] > y1
    assert numbers["wall 2"][0] > x1
    assert numbers["wall 3"][1] < y0
    assert numbers["wall 4"][0] < x0


def test_a_doorway_and_a_room_are_named_where_they_are() -> None:
    sheet = drawn()
    x0, _, x1, _ = walls_box(sheet)
    assert texts(sheet, "doorway")["door to the bath"][0] > x1 - 80
    assert x0 < texts(sheet, "room-name")["Den"][0] < x1
    assert sum(path.get("class") == "jamb" for path in sheet.iter(f"{SVG}path")) == 2


@pytest.mark.parametrize("turn", [0.0, 90.0])
def test_no_ring_of_a_row_lies_on_the_floor(turn: float) -> None:
    sheet = drawn(turn=turn)
    x0, y0, x1, y1 = walls_box(sheet)
    rings = [c for c in sheet.iter(f"{SVG}circle") if "ring" in c.attrib["class"]]
    assert len(rings) >= 3
    for ring in rings:
        x, y, r = (float(ring.attrib[name]) for name in ("cx", "cy", "r"))
        assert x + r <= x0 or x - r >= x1 or y + r <= y0 or y - r >= y1


def test_first_and_last_row_always_have_their_number() -> None:
    rows = texts(drawn(), "row-number")
    # 130 in less two gaps of 1/4 in, planks of 7 in: nineteen rows.
    assert {"1", "19"} <= set(rows)
