"""Drawings: legible without color, safe to put into a page, small and quick."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from shapely.geometry import Polygon

from layout.cutsheet.sheet import cut_sheet
from layout.drawing.lettering import Spot, lettering_box
from layout.drawing.notes import start_place
from layout.drawing.paper import DrawingPaper, Margins
from layout.drawing.piece import draw_piece
from layout.drawing.plan import draw_outline, draw_plan
from layout.planner.plan_floor import plan_floor
from layout.values.material import Lay, Side
from layout.values.outline import Edge, EdgeKind, Hole, HoleKind, Zone
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest, read_request
from layout.values.units import length_words
from tests.layout.three_rows import plan, request, totals, with_piece
from tests.rooms import ROOMS, Request
from tests.rooms import request as room_request

SVG = "{http://www.w3.org/2000/svg}"


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def words(svg: str) -> list[str]:
    return [text.text or "" for text in parsed(svg).iter(f"{SVG}text")]


def classes(svg: str) -> set[str]:
    return {name for part in parsed(svg).iter() for name in (part.get("class") or "").split()}


def test_the_title_comes_first_and_a_sentence_describes_the_plan() -> None:
    first, second, *_ = parsed(draw_plan(request(), plan(), title="Study"))
    assert (first.tag, first.text) == (f"{SVG}title", "Study")
    assert second.text is not None
    assert second.text.startswith('3 rows of boards 4\' 0" by 7", 8 planks, first row 7" wide')


def test_nothing_in_it_needs_more_than_a_strict_page_allows() -> None:
    svg = draw_plan(request(), plan(), title="Study")
    assert "style=" not in svg
    assert "<style" not in svg
    assert "<script" not in svg
    assert "href" not in svg


def test_what_was_typed_is_no_markup() -> None:
    svg = draw_plan(request(), plan(), title="<script>&\"'")
    assert "<script>" not in svg
    assert parsed(svg)[0].text == "<script>&\"'"


def test_ids_begin_with_the_name_of_the_drawing() -> None:
    svg = draw_plan(request(), plan(), ident="floor-7")
    ids = [part.get("id") for part in parsed(svg).iter() if part.get("id")]
    assert ids == ["floor-7-cut"]


def test_walls_are_thick_rows_thin_and_joints_thinner() -> None:
    weights = {
        part.get("class"): float(part.get("stroke-width") or 0)
        for part in parsed(draw_plan(request(), plan())).iter(f"{SVG}path")
    }
    assert weights["wall"] > weights["row"] > weights["joint"]


def test_every_row_has_its_number_and_the_first_and_last_their_width() -> None:
    written = words(draw_plan(request(), plan()))
    assert {"1", "2", "3"} <= set(written)
    assert 'first row 7", last row 7"' in written


def test_cut_pieces_are_dotted_and_whole_ones_are_not() -> None:
    svg = draw_plan(request(), plan())
    (cut,) = (p for p in parsed(svg).iter(f"{SVG}path") if p.get("class") == "cut-piece")
    assert cut.get("fill") == "url(#plan-cut)"
    assert (cut.get("d") or "").count("Z") == 6


def test_overall_size_scale_and_hands_are_written() -> None:
    written = words(draw_plan(request(), plan()))
    assert {"8' 4½\"", "1' 9½\"", "direction of lay", "start wall", "cut piece", "0"} <= set(
        written
    )


def test_a_small_picture_has_no_row_numbers() -> None:
    assert "row-number" not in classes(draw_plan(request(), plan(), numbers=False))


def test_trapped_pieces_are_marked_by_a_word() -> None:
    one = with_piece(plan(), replace(plan().pieces[0], trapped=True))
    two = with_piece(one, replace(plan().pieces[1], trapped=True))
    assert "trapped" in words(draw_plan(request(), one))
    assert "trapped, 2" in words(draw_plan(request(), two))


def cased() -> Request:
    """A cased opening with jambs and casings, a bay of casings, and a hearth of short sides."""
    outline: list[list[float]] = [
        [0, 0],
        [160, 0],
        [160, 100],
        [98.25, 100],
        [98.25, 99.25],
        [96, 99.25],
    ]
    outline += [[96, 104.5], [64, 104.5], [64, 99.25], [61.75, 99.25], [61.75, 100], [0, 100]]
    outline += [[0, 60], [-9, 52], [-9, 30], [0, 22]]
    cased = {str(i): {"kind": "casing"} for i in (3, 4, 5, 7, 8, 9, 12, 13, 14)}
    edges = {**cased, "6": {"kind": "transition"}, "0": {"kind": "toe kick"}}
    return room_request(outline, zone={"edges": edges})


def boxes(svg: str) -> list[tuple[str, Polygon]]:
    """Return every text with the box that it takes."""
    placed = []
    for text in parsed(svg).iter(f"{SVG}text"):
        size, said = float(text.get("font-size") or 0), text.text or ""
        turn, x, y = 0.0, float(text.get("x") or 0), float(text.get("y") or 0) - size * 0.36
        if turned := text.get("transform"):
            turn = float(turned.removeprefix("rotate(").split()[0])
        spot = Spot(at=(x, y), anchor=text.get("text-anchor") or "", turn=turn)
        placed.append((said, lettering_box(said, size, spot)))
    return placed


def overlaps(svg: str) -> list[tuple[str, str]]:
    return [
        (one, other)
        for (one, a), (other, b) in combinations(boxes(svg), 2)
        if a.intersection(b).area > 2
    ]


@pytest.mark.parametrize("name", ["cased", *ROOMS])
def test_no_lettering_covers_other_lettering(name: str) -> None:
    plan_request = read_request(cased() if name == "cased" else ROOMS[name]())
    laid = plan_floor(replace(plan_request, effort_iterations=2))
    last = max(piece.row for piece in laid.pieces)
    trapped = tuple(replace(p, trapped=p.row in {2, last}) for p in laid.pieces)
    svg = draw_plan(plan_request, replace(laid, pieces=trapped), title="Job 26-001, living room")
    assert overlaps(svg) == []


def test_every_trapped_stretch_keeps_its_word_where_casings_crowd() -> None:
    plan_request = read_request(cased())
    laid = plan_floor(replace(plan_request, effort_iterations=2))
    trapped = tuple(replace(p, trapped=p.place == 1 and p.row % 2 == 1) for p in laid.pieces)
    written = words(draw_plan(plan_request, replace(laid, pieces=trapped)))
    rows = {piece.row for piece in laid.pieces if piece.row % 2 == 1}
    assert written.count("trapped") == len(rows)


def test_trapped_pieces_that_lie_over_each_other_are_marked_together() -> None:
    plan_request = read_request(cased())
    laid = plan_floor(replace(plan_request, effort_iterations=2))
    trapped = tuple(replace(p, trapped=p.place == 1 and 3 <= p.row <= 7) for p in laid.pieces)
    svg = draw_plan(plan_request, replace(laid, pieces=trapped))
    assert "trapped, rows 3 to 7" in words(svg)
    dots = [p for p in parsed(svg).iter(f"{SVG}circle") if p.get("class") == "trapped-piece"]
    assert len(dots) == 5


def test_short_walls_of_a_room_keep_their_length_clear_of_others() -> None:
    svg = draw_outline(read_request(cased()).zone, unit="in")
    assert overlaps(svg) == []
    assert {'2¼"', '5¼"', '¾"'} <= set(words(svg))


def test_a_control_line_is_drawn_with_its_row_and_both_ways() -> None:
    from_row_two = Lay(control_row=2)
    plan_request = request(product={"length": 48, "width": 7, "per_carton": 10, "backward": True})
    svg = draw_plan(replace(plan_request, lay=from_row_two), replace(plan(), lay=from_row_two))
    assert "control line, row 2 first" in words(svg)
    assert "both ways from a control line at row 2" in str(parsed(svg)[1].text)
    lines = [p for p in parsed(svg).iter(f"{SVG}path") if p.get("class") == "control-line"]
    assert len(lines) == 5  # the line, and a shaft and a head each way


def test_every_piece_can_be_pointed_at() -> None:
    svg = draw_plan(request(), plan())
    shapes = [part for part in parsed(svg).iter() if part.get("data-piece")]
    assert {s.get("data-piece") for s in shapes} == {piece.id for piece in plan().pieces}
    assert {s.get("data-piece") for s in shapes if "cut" in (s.get("class") or "").split()} == {
        "1-1",
        "1-3",
        "2-1",
        "2-3",
        "3-1",
        "3-3",
    }


def test_nothing_that_is_laid_is_hatched() -> None:
    # Hatching says what is taken away; of a cut piece all that is drawn stays.
    (pattern,) = parsed(draw_plan(request(), plan())).iter(f"{SVG}pattern")
    assert [part.tag for part in pattern] == [f"{SVG}circle"]


def test_the_start_wall_is_the_longest_edge_the_first_row_lies_along() -> None:
    # The low side has a stretch of 30 at the left and one of 70 at the right of a jog.
    outline = [[0, 0], [30, 0], [30, 8], [50, 8], [50, 0], [120, 0], [120, 90], [0, 90]]
    plan_request = read_request(room_request(outline))
    assert start_place(plan_request, plan()) == pytest.approx((50 + 70 / 4, 0))
    from_above = replace(plan_request, lay=Lay(start=Side.HIGH))
    assert start_place(from_above, plan()) == pytest.approx((30, 90))


def test_edges_and_holes_differ_without_color() -> None:
    square = ((0.0, 0.0), (120.0, 0.0), (120.0, 100.0), (0.0, 100.0))
    holes = (
        Hole(ring=((20, 20), (30, 20), (30, 30), (20, 30)), kind=HoleKind.POST),
        Hole(ring=((50, 20), (62, 20), (62, 24), (50, 24)), kind=HoleKind.REGISTER),
        Hole(ring=((50, 50), (110, 50), (110, 80), (50, 80)), kind=HoleKind.CABINET),
    )
    kinds = dict(enumerate([EdgeKind.CASING, EdgeKind.TOE_KICK, EdgeKind.TRANSITION]))
    edges = {i: Edge(kind=kind) for i, kind in kinds.items()}
    svg = draw_outline(Zone(outline=square, holes=holes, edges=edges), unit="in")
    assert {"casing, undercut", "toe kick", "transition", "cabinet"} <= set(words(svg))
    assert {"post", "register", "cabinet", "casing", "toe-kick", "transition"} <= classes(svg)


def test_a_room_tells_every_wall() -> None:
    ell = ((0, 0), (218, 0), (218, 113), (134, 113), (134, 190), (0, 190))
    svg = draw_outline(Zone(outline=ell), unit="in", title="Living room")
    assert {"18' 2\"", "9' 5\"", "7' 0\"", "6' 5\"", "11' 2\"", "15' 10\""} <= set(words(svg))
    assert parsed(svg)[1].text is not None
    assert "wall 3 7' 0\"" in str(parsed(svg)[1].text)


@pytest.mark.parametrize("room", ROOMS.values(), ids=ROOMS)
def test_every_named_room_is_drawn_within_its_sheet(room: object, tmp_path: Path) -> None:
    form: Request = room()  # type: ignore[operator]
    zone = read_request(form).zone
    svg = draw_outline(zone, unit=form["unit"])
    (tmp_path / "room.svg").write_text(svg)
    _, _, wide, high = (float(n) for n in str(parsed(svg).get("viewBox")).split())
    for text in parsed(svg).iter(f"{SVG}text"):
        assert 0 < float(text.get("x") or 0) < wide
        assert 0 < float(text.get("y") or 0) < high


def test_a_piece_is_drawn_as_the_kneeling_person_sees_it() -> None:
    svg = draw_piece(request(), plan(), cut_sheet(request(), plan()), "1-1")
    assert {"left", "right", "next row", '24"'} <= set(words(svg))
    assert parsed(svg)[1].text == (
        'Cut square 24" from the right end; the left part goes: kept as a leftover.'
    )


def test_what_goes_is_hatched_and_the_board_dashed() -> None:
    svg = draw_piece(request(), plan(), cut_sheet(request(), plan()), "1-1")
    assert {"waste", "board", "piece"} <= classes(svg)


def test_a_piece_that_is_not_in_the_plan_is_no_drawing() -> None:
    with pytest.raises(KeyError):
        draw_piece(request(), plan(), cut_sheet(request(), plan()), "9-9")


def test_metric_figures_stand_in_millimeters_on_a_board_and_meters_in_a_room() -> None:
    assert length_words(3215.0, "mm") == "3.215 m"
    assert length_words(3215.0, "mm", on_tape=True) == "3215 mm"


def test_the_sheet_keeps_its_width_for_tall_and_wide_rooms() -> None:
    margins = Margins(left=50, right=50, top=50, bottom=50)
    for wide, tall in ((10.0, 1000.0), (1000.0, 10.0)):
        paper = DrawingPaper((0, 0, wide, tall), unit="in", margins=margins, ident="x")
        assert 50 <= paper.left < paper.right <= 950.01
        assert paper.bottom - paper.top <= 1000.01


def large_floor() -> tuple[PlanRequest, Plan]:
    """Return 2,500 square feet in 86 rows of whole boards and cut ends, made by rule."""
    rows, across = 86, 600.0
    outline: list[list[float]] = [
        [0, 0],
        [across + 0.5, 0],
        [across + 0.5, rows * 7 + 0.5],
        [0, rows * 7 + 0.5],
    ]
    pieces: list[Piece] = []
    blank = plan().pieces[0]
    for row in range(rows):
        stops = [0.0, *(x + 12.0 * (row % 3 + 1) for x in range(0, 560, 48)), across]
        for place, (a, b) in enumerate(pairwise(stops), start=1):
            low = 0.25 + row * 7
            corners = ((0.25 + a, low), (0.25 + b, low), (0.25 + b, low + 7), (0.25 + a, low + 7))
            piece = replace(
                blank, id=f"{row + 1}-{place}", row=row + 1, place=place, outline=corners
            )
            pieces.append(replace(piece, origin=(corners[0][0], low), cuts=()))
    plan_request = read_request(room_request(outline))
    return plan_request, plan(pieces=tuple(pieces), offcuts=(), totals=totals())


def test_a_large_floor_is_drawn_small() -> None:
    assert len(draw_plan(*large_floor()).encode()) < 1_500_000
