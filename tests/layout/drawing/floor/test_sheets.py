"""A floor for those who lay it: by its offcuts where it is small, on several sheets if large."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree

from layout.drawing.floor.sheets import draw_floor_sheets
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request
from layout.values.units import MM_PER_INCH
from tests.rooms import request as room_request

SVG = "{http://www.w3.org/2000/svg}"


def sheets_of(wide: float, tall: float) -> tuple[list[ElementTree.Element], bool]:
    """The drawings of a room of these inches, and whether they stand beside other things."""
    value = read_request(room_request([[0, 0], [wide, 0], [wide, tall], [0, tall]]))
    drawn = draw_floor_sheets(value, plan_floor(value), title="Den", ident="floor-1")
    return [ElementTree.fromstring(sheet) for sheet in drawn.sheets], drawn.beside


def windows(sheets: list[ElementTree.Element]) -> list[tuple[float, ...]]:
    """What each sheet shows of the drawing: x, y, width, height."""
    return [tuple(map(float, sheet.attrib["viewBox"].split())) for sheet in sheets]


def letters(sheet: ElementTree.Element) -> set[str]:
    """The letters of the lines on which sheets meet."""
    return {t.text or "" for t in sheet.iter(f"{SVG}text") if t.get("class") == "overlap"}


def test_a_small_floor_leaves_half_its_sheet_to_others() -> None:
    sheets, beside = sheets_of(120, 120)
    assert len(sheets) == 1
    assert beside
    assert float(sheets[0].attrib["width"].removesuffix("mm")) <= 88


def test_a_large_floor_is_tiled_with_overlaps_that_carry_the_same_letters() -> None:
    sheets, beside = sheets_of(600, 900)
    assert not beside
    side = round(len(sheets) ** 0.5)
    assert side >= 2
    assert side * side == len(sheets)
    for row in range(side):
        shown = windows(sheets)[row * side : (row + 1) * side]
        for near, far in pairwise(shown):
            assert near[0] + near[2] > far[0] + 100  # units of the drawing that both show
        for left, right in pairwise(sheets[row * side : (row + 1) * side]):
            assert letters(left) & letters(right)
    for column in range(side):
        shown = windows(sheets)[column::side]
        for near, far in pairwise(shown):
            assert near[1] + near[3] > far[1] + 100
        for left, right in pairwise(sheets[column::side]):
            assert letters(left) & letters(right)


def test_no_letter_of_a_tile_is_smaller_than_nine_points_on_paper() -> None:
    sheets, _ = sheets_of(600, 900)
    for sheet, (_, _, wide, tall) in zip(sheets, windows(sheets), strict=True):
        unit = min(172 / wide, 196 / tall)  # millimeters of paper
        sizes = [float(text.attrib["font-size"]) for text in sheet.iter(f"{SVG}text")]
        assert min(sizes) * unit * 72 / float(MM_PER_INCH) >= 8.99
        assert all(re.fullmatch(r"[A-Z]", letter) for letter in letters(sheet))
