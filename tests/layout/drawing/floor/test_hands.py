"""Under a floor: the way rows advance, left and right of it as a kneeling person sees them."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import pytest

from layout.drawing.floor.sheets import draw_floor_sheets
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from tests.rooms import request as room_request

SVG = "{http://www.w3.org/2000/svg}"

# Facing up the sheet, left is on its left; facing left, left is toward its foot; and so on round.
CASES = {
    (0, "low"): ((0, -1), (-1, 0)),
    (0, "high"): ((0, 1), (1, 0)),
    (90, "low"): ((-1, 0), (0, 1)),
    (90, "high"): ((1, 0), (0, -1)),
}


@cache
def drawn(direction: int, start: str) -> ElementTree.Element:
    ring: list[list[float]] = [[0, 0], [120, 0], [120, 100], [0, 100]]
    data = room_request(
        ring, rules={"direction_deg": direction}, lay={"start": start}, effort_iterations=2
    )
    value = read_request(data)
    (sheet,) = draw_floor_sheets(value, plan_floor(value), title="Den", ident="f").sheets
    return ElementTree.fromstring(sheet)


def texts(sheet: ElementTree.Element) -> dict[str, tuple[float, float, float]]:
    return {
        text.text or "": (float(text.attrib["x"]), float(text.attrib["y"]), size)
        for text in sheet.iter(f"{SVG}text")
        if (size := float(text.attrib["font-size"]))
    }


@pytest.mark.parametrize(("lay", "ways"), CASES.items())
def test_left_and_right_are_those_of_a_person_who_faces_the_next_row(
    lay: tuple[int, str], ways: tuple[tuple[int, int], tuple[int, int]]
) -> None:
    sheet = drawn(*lay)
    arrow = next(p for p in sheet.iter(f"{SVG}path") if p.get("class") == "advance")
    ax, ay, bx, by = map(float, re.findall(r"-?[\d.]+", arrow.attrib["d"]))
    facing, to_left = ways
    assert (bx - ax, by - ay) == pytest.approx((40 * facing[0], 40 * facing[1]), abs=0.2)
    middle = ((ax + bx) / 2, (ay + by) / 2)
    for word, sign in (("left", 1), ("right", -1)):
        x, y, size = texts(sheet)[word]
        off = (x - middle[0], y - 0.36 * size - middle[1])
        assert sign * (off[0] * to_left[0] + off[1] * to_left[1]) > 15
        assert abs(off[0] * facing[0] + off[1] * facing[1]) < 0.5


@pytest.mark.parametrize("lay", CASES)
def test_the_arrow_is_named_and_all_of_it_stays_on_the_drawing(lay: tuple[int, str]) -> None:
    sheet = drawn(*lay)
    written = texts(sheet)
    assert "rows advance" in written
    assert "direction of lay" not in written
    tall = float(sheet.attrib["viewBox"].split()[3])
    for word in ("left", "right", "rows advance"):
        assert written[word][1] + 0.3 * written[word][2] < tall
