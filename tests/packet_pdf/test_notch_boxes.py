"""The boxes of a notch at the end of a row, as they are printed: along the row and across it."""

from __future__ import annotations

import re
from functools import cache

import pytest

from tests.packet_pdf.notched import NotchedReading, notched_of
from tests.packet_pdf.pages import ReadPage, read_pages
from tests.packet_pdf.printing import floor_pdf
from tests.packet_pdf.readings import PieceReading, WallReading
from tests.packet_pdf.strip_reader import length_of
from tests.packet_pdf.strips import MM, strips_of
from tests.rooms import request
from tests.sweeps.saw import planned

LOW, HIGH = 7.875, 37.875  # the jambs of the doorway, from the start wall
HEADING = 545.0  # points: the rows stand beneath
RING: list[list[float]] = [
    [0, 0],
    [254, 0],
    [254, LOW],
    [256.25, LOW],
    [256.25, HIGH],
    [254, HIGH],
    [254, 46],
    [0, 46],
]


@cache
def pages() -> list[ReadPage]:
    """The pages of a hall of 254 x 46 with a doorway in its end."""
    edges = {"2": {"kind": "casing"}, "3": {"kind": "transition"}, "4": {"kind": "casing"}}
    wanted, plan, _ = planned(request(RING, spares=4, zone={"edges": edges}, effort_iterations=400))
    return read_pages(floor_pdf(wanted, plan))


def notched_pieces() -> dict[str, PieceReading]:
    """The last pieces with a notch, by name."""
    return {piece.name: piece for row in strips_of(pages()) for piece in row if piece.notch_walls}


def far_edges() -> dict[int, float]:
    """The far edges of rows from the start wall, as they stand beside the rings."""
    edges: dict[int, float] = {}
    for page in pages():
        for row in strips_of([page]):
            left = min(piece.span[0] for piece in row)
            large = [w for w in page.words if w.size > 13 and w.x1 < left and w.y < HEADING]
            rings = [w for w in large if w.text == str(row[0].row)]
            ring = max(rings, key=lambda word: word.y)  # the story stick lies beneath
            (figure,) = (w for w in large if abs(w.y - ring.y) < 3 and w.x0 > ring.x1)
            edges[row[0].row] = length_of(figure.text)
    return edges


def across(piece: PieceReading) -> WallReading:
    """The box of a notch that is taped across the row."""
    (wall,) = (wall for wall in piece.notch_walls if wall.begin)
    return wall


def test_a_notch_is_taped_to_the_jamb_and_the_gap_comes_off() -> None:
    edges, pieces = far_edges(), notched_pieces()
    assert len(pieces) == 2
    jambs = []
    for piece in pieces.values():
        wall = across(piece)
        taped = length_of(wall.to_wall)
        if wall.base == "near edge":
            assert wall.begin == f"row {piece.row - 1}"
            jambs.append(edges[piece.row - 1] + taped)
        else:  # back from where the far edge will lie, by the stick
            assert (wall.begin, wall.base) == (f"mark {piece.row}", "far edge")
            jambs.append(edges[piece.row] - taped)
        assert wall.kind == "stays"
        assert length_of(wall.cut) == taped - length_of(wall.gap)
    assert {across(piece).base for piece in pieces.values()} == {"near edge", "far edge"}
    # The tape says where the jambs stand by the ring of the room, each from a row's edge.
    assert sorted(jambs) == pytest.approx([LOW, HIGH], abs=1 / 16)


def test_what_is_cut_by_the_box_is_what_the_drawing_shows() -> None:
    drawn: dict[str, NotchedReading] = notched_of(pages())
    for name, piece in notched_pieces().items():
        wall = across(piece)
        stays = {base: value for value, base in drawn[name].figures if base in ("near", "far")}
        assert stays == {wall.base.removesuffix(" edge"): length_of(wall.cut)}


def page_of_notches() -> ReadPage:
    """The page of the notched planks."""
    (page,) = (page for page in pages() if ": notched planks" in page.text)
    return page


def test_a_notched_whole_plank_says_when_it_is_cut_across_and_where() -> None:
    whole = [p for p in notched_pieces().values() if p.wall and p.wall.kind == "expect"]
    assert [piece.wall.cut for piece in whole if piece.wall] == ["48"]
    page = page_of_notches()
    text = " ".join(page.text.split())
    assert "Its end box under 48: cut it across at the right end first, by the box," in text
    assert "then the notch by its own boxes." in text
    assert re.search(r"Over 48(⅛|¼): \w+", text)
    (words,) = re.findall(r"cut across here first, if its box is under (\S+)", text)
    assert words == "48"
    # Its line stands on the plank, just within the right end: upright, as tall as the board.
    outlines = [line for line in page.lines if line.closed and abs(line.weight - 1.7) < 0.05]
    uprights = [
        line
        for line in page.lines
        if abs(line.bounds[0] - line.bounds[2]) < 0.1
        and any(
            3 < outline.bounds[2] - line.bounds[0] < 5
            and line.bounds[1] < outline.bounds[1]
            and line.bounds[3] > outline.bounds[3]
            for outline in outlines
        )
    ]
    assert len(uprights) == 1


def test_a_last_row_is_taped_at_three_places_and_ripped_to_three_widths() -> None:
    page = next(page for page in pages() if "rip" in page.text and "middle" in page.text)
    writes = [
        line.bounds
        for line in page.lines
        if line.closed and abs(line.weight - 0.5 * MM) < 0.05 and line.bounds[0] > page.size[0] / 2
    ]
    narrow = [bounds for bounds in writes if bounds[2] - bounds[0] < 12 * MM]
    assert len(narrow) == 6
    assert len({round(bounds[0]) for bounds in narrow}) == 3
    beside = {word.text for word in page.words if word.y > min(b[1] for b in narrow)}
    assert {"left", "middle", "right"} <= beside
