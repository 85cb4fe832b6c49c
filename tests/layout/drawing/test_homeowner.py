"""The homeowner's drawing: rooms, planks and measures along the outside, nothing of the crew's."""

from __future__ import annotations

from functools import cache
from xml.etree import ElementTree

from layout.drawing.homeowner import ShownRoom, draw_for_homeowner
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

SVG = "{http://www.w3.org/2000/svg}"
# A bedroom of 18 ft 8 by 15 ft 4 1/2, and east of it a hall of 4 ft by 21 ft 2, joined by a door.
BEDROOM = ((0.0, 0.0), (224.0, 0.0), (224.0, 184.5), (0.0, 184.5))
HALL = ((229.0, -180.0), (277.0, -180.0), (277.0, 74.0), (229.0, 74.0))
OUTLINE = [
    *([0, 0], [224, 0], [224, 20], [229, 20], [229, -180], [277, -180], [277, 74], [229, 74]),
    *([229, 52], [224, 52], [224, 184.5], [0, 184.5]),
]


@cache
def planned() -> tuple[PlanRequest, Plan]:
    request = read_request(rooms.request(OUTLINE, effort_iterations=5))
    return request, plan_floor(request)


def drawn(*shown: ShownRoom) -> ElementTree.Element:
    both = (ShownRoom(name="Bedroom", ring=BEDROOM), ShownRoom(name="Hall", ring=HALL))
    svg = draw_for_homeowner(*planned(), shown or both, title="Bedroom and hall")
    return ElementTree.fromstring(svg)


def texts(drawing: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in drawing.iter(f"{SVG}text")]


def test_it_says_names_and_outside_measures_and_nothing_else() -> None:
    assert sorted(texts(drawn())) == ["15' 4½\"", "18' 8\"", "21' 2\"", "Bedroom", "Hall"]


def test_it_has_walls_rows_and_joints_and_no_hatch() -> None:
    names = {part.get("class") for part in drawn().iter()}
    assert {"wall", "row", "joint"} <= names
    assert {"cut-piece", "row-number", "trapped", "piece"} & names == set()


def test_a_hall_is_named_along_its_length() -> None:
    turned = {text.text: "rotate" in (text.get("transform") or "") for text in _rooms(drawn())}
    assert turned == {"Bedroom": False, "Hall": True}


def _rooms(drawing: ElementTree.Element) -> list[ElementTree.Element]:
    return [text for text in drawing.iter(f"{SVG}text") if text.get("class") == "room"]


def test_a_tall_floor_is_no_taller_than_it_may_stand_beside_a_text() -> None:
    _, _, wide, tall = (float(number) for number in (drawn().get("viewBox") or "").split())
    assert tall / wide < 0.9


def test_what_was_typed_is_no_markup() -> None:
    room = ShownRoom(name="<script>", ring=BEDROOM)
    assert texts(drawn(room))[0] == "<script>"
