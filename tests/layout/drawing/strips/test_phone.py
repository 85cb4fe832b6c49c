"""A row's strip on a phone: all of it within the drawing, every cut with its figure."""

from __future__ import annotations

import re

from layout.cutsheet.strips.values import FloorStrips
from layout.drawing.strips.phone import WIDE, draw_on_phone
from tests.layout.cutsheet.strips.test_in_order import NINE, TEN

# Two rows of 184 in, told by hand beside their words.
FLOOR = FloorStrips(unit="in", rows=(NINE, TEN), reach=184.0, width=7.0, spares=3)
_MOST = 90.0  # millimeters: lettering of 9 points stays 12 pixels high, 342 pixels wide


def texts(drawing: str) -> list[str]:
    return re.findall(r">([^<>\n]+)</text>", drawing)


def test_every_cut_has_its_figure_and_the_far_edge_is_not_among_them() -> None:
    drawing = draw_on_phone(FLOOR, TEN, title="First cuts, row 10")
    assert [text for text in texts(drawing) if text in {"29¾", "10¼", "67¼"}] == ["29¾", "10¼"]
    assert "10-1" in texts(drawing)
    assert "3 whole" in texts(drawing)


def test_the_whole_row_lies_within_the_width_of_a_phone() -> None:
    drawing = draw_on_phone(FLOOR, NINE, title="First cuts, row 9")
    assert WIDE <= _MOST
    pieces = re.findall(r'class="piece" d="M([^"]+)"', drawing)
    places = [float(point.split()[0]) for piece in pieces for point in piece.split("L")]
    # From 2 mm to 2 mm off the other side: 84 mm are 184 in, three planks of 48 are 65.74 mm.
    assert (min(places), max(places)) == (2.0, WIDE - 2)
    assert round(2 + 144 * 84 / 184, 3) in places


def test_the_drawing_says_in_words_which_pieces_are_cut() -> None:
    drawing = draw_on_phone(FLOOR, TEN, title="First cuts, row 10")
    assert "<title>First cuts, row 10</title><desc>Row 10: 10-1, 10-5.</desc>" in drawing
