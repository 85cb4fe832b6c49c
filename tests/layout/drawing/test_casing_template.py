"""Casing templates, measured in the file's own units.

   64          96        A cased opening in a wall 4 1/2 in deep: the casings, 2 1/4 wide, stand
    |  row 16  |         3/4 before the wall at both sides of the jambs (61 3/4 to 64, 96 to
+---+          +---+     98 1/4) and the floor runs under them to their backs, no gap there.
| 2 1/4      2 1/4 |     Piece 15-2 passes under the left casing, 15-3 under the right one.
"""

from __future__ import annotations

import json
import math
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from layout.__main__ import main
from layout.cutsheet.sheet import cut_sheet
from layout.drawing.casing_template import casing_pieces, draw_casing_template
from layout.drawing.true_size import tiles
from layout.planner.plan_floor import plan_floor
from layout.values.errors import InputError
from layout.values.plan import Plan
from layout.values.plan_form import plan_text
from layout.values.request import PlanRequest, read_request
from tests.rooms import request

SVG = "{http://www.w3.org/2000/svg}"
INCH = 25.4
CASED: list[list[float]] = [[0, 0], [160, 0], [160, 100], [98.25, 100], [98.25, 99.25]]
CASED += [
    [96, 99.25],
    [96, 104.5],
    [64, 104.5],
    [64, 99.25],
    [61.75, 99.25],
    [61.75, 100],
    [0, 100],
]
EDGES = {str(i): {"kind": "casing", "gap": 0} for i in (3, 4, 5, 7, 8, 9)}


def planned(scale: float = 1.0, **changes: Any) -> tuple[PlanRequest, Plan]:
    outline = [[x * scale, y * scale] for x, y in CASED]
    form = request(outline, zone={"edges": EDGES}, effort_iterations=10, **changes)
    plan_request = read_request(form)
    return plan_request, plan_floor(plan_request)


@pytest.fixture(scope="module")
def cased() -> tuple[PlanRequest, Plan]:
    return planned()


def mm_per_unit(svg: ElementTree.Element) -> tuple[float, float]:
    """Return the millimeters that one unit of the drawing is, along and down."""
    _, _, wide, tall = (float(n) for n in str(svg.get("viewBox")).split())
    width, height = str(svg.get("width")), str(svg.get("height"))
    assert (width[-2:], height[-2:]) == ("mm", "mm")
    return float(width[:-2]) / wide, float(height[:-2]) / tall


def lengths(svg: ElementTree.Element, name: str) -> list[float]:
    """Return the lengths in millimeters of every straight piece of lines of a class."""
    x_mm, y_mm = mm_per_unit(svg)
    edges = []
    for path in svg.iter(f"{SVG}path"):
        if path.get("class") == name:
            points = [p.split() for p in str(path.get("d"))[1:].split("L")]
            corners = [(float(x) * x_mm, float(y) * y_mm) for x, y in points]
            edges += [math.dist(a, b) for a, b in pairwise(corners)]
    return edges


def sheet(plan_request: PlanRequest, plan: Plan, piece: str) -> ElementTree.Element:
    (svg,) = draw_casing_template(plan_request, plan, cut_sheet(plan_request, plan), piece)
    return ElementTree.fromstring(svg)


def under_left_casing(plan: Plan) -> str:
    """Return the piece that lies under the left casing, at 63, 99."""
    return next(
        p.id
        for p in plan.pieces
        if (61.75, 99.25) in {(round(x, 2), round(y, 2)) for x, y in p.outline}
    )


def test_the_rulers_are_100_mm_and_4_in_long(cased: tuple[PlanRequest, Plan]) -> None:
    svg = sheet(*cased, under_left_casing(cased[1]))
    assert lengths(svg, "ruler-mm") == pytest.approx([100.0])
    assert lengths(svg, "ruler-in") == pytest.approx([4 * INCH])


def test_the_notch_is_as_long_on_paper_as_on_the_board(cased: tuple[PlanRequest, Plan]) -> None:
    # The casing is 2 1/4 wide and stands 3/4 before the wall, whose gap is 1/4: 1/2 is left.
    cut = lengths(sheet(*cased, under_left_casing(cased[1])), "cut")
    for by_hand in (2.25, 0.5):
        assert any(length == pytest.approx(by_hand * INCH, abs=0.01) for length in cut)


def test_a_metric_template_is_true_as_well() -> None:
    rules = {"expansion_gap": 6, "saw_kerf": 3, "min_end_piece": 200, "min_joint_offset": 200}
    product = {"length": 1220, "width": 178, "per_carton": 10}
    plan_request, plan = planned(
        25.0, unit="mm", rules={**rules, "min_row_width": 50}, product=product
    )
    sheet = cut_sheet(plan_request, plan)
    named = casing_pieces(plan_request, plan, sheet)
    sheets = [svg for one in named for svg in draw_casing_template(plan_request, plan, sheet, one)]
    cut = [n for svg in sheets for n in lengths(ElementTree.fromstring(svg), "cut")]
    assert any(length == pytest.approx(2.25 * 25, abs=0.01) for length in cut)


def test_the_pieces_under_casings_are_named(cased: tuple[PlanRequest, Plan]) -> None:
    named = casing_pieces(*cased, cut_sheet(*cased))
    assert under_left_casing(cased[1]) in named
    assert {int(name.split("-")[0]) for name in named} <= {15, 16}


def test_the_sheet_says_which_side_is_up_and_how_to_print(cased: tuple[PlanRequest, Plan]) -> None:
    piece = under_left_casing(cased[1])
    written = " ".join(text.text or "" for text in sheet(*cased, piece).iter(f"{SVG}text"))
    for words in (f"Piece {piece}", "100 %", "This side up", "stays", "near edge", "next row"):
        assert words in written


def test_the_sheet_fits_letter_and_a4(cased: tuple[PlanRequest, Plan]) -> None:
    svg = sheet(*cased, under_left_casing(cased[1]))
    wide, tall = float(str(svg.get("width"))[:-2]), float(str(svg.get("height"))[:-2])
    assert wide <= 210 - 20
    assert tall <= 11 * INCH - 25


def test_a_long_slant_is_spread_over_sheets_that_share_a_join() -> None:
    # A wall that leans by 10 in over 60: the slanted cut is longer than a sheet is wide.
    outline = [[0, 0], [60, 10], [60, 60], [0, 60]]
    plan_request = read_request(request(outline, effort_iterations=5))
    plan = plan_floor(plan_request)
    slanted = [p for p in plan.pieces if any(cut.kind == "angle" for cut in p.cuts)]
    piece = max(slanted, key=lambda p: max(x for x, _ in p.outline) - min(x for x, _ in p.outline))
    drawn = draw_casing_template(plan_request, plan, cut_sheet(plan_request, plan), piece.id)
    sheets = [ElementTree.fromstring(one) for one in drawn]
    assert len(sheets) > 1
    assert all(lengths(one, "join") for one in sheets)


def test_sheets_between_two_casings_of_one_piece_are_left_out() -> None:
    # One board spans the opening of 32 in: the sheets show both casings, not what lies between.
    plan_request, plan = planned(product={"length": 72, "width": 7, "per_carton": 10})
    cuts = cut_sheet(plan_request, plan)
    most = max(
        len(draw_casing_template(plan_request, plan, cuts, one))
        for one in casing_pieces(plan_request, plan, cuts)
    )
    assert most <= 2


def test_tiles_cover_a_stretch_and_share_so_much() -> None:
    parts = list(tiles(0, 400, 180, 12))
    assert (parts[0][0], parts[-1][1]) == (0, 400)
    assert all(b[0] == pytest.approx(a[1] - 12) for a, b in pairwise(parts))


@pytest.mark.parametrize("piece", ["1-2", "99-9", ""])
def test_a_piece_without_a_shaped_cut_is_refused_with_those_that_have(
    piece: str, cased: tuple[PlanRequest, Plan]
) -> None:
    with pytest.raises(InputError, match=r"casing.*cut to a shape at a casing: 15-"):
        draw_casing_template(*cased, cut_sheet(*cased), piece)


def test_the_shell_writes_a_template(cased: tuple[PlanRequest, Plan], tmp_path: Path) -> None:
    form = request(CASED, zone={"edges": EDGES}, effort_iterations=10)
    (tmp_path / "request.json").write_text(json.dumps(form))
    (tmp_path / "plan.json").write_text(plan_text(cased[1]))
    names = [str(tmp_path / name) for name in ("request.json", "plan.json", "casing.svg")]
    piece = under_left_casing(cased[1])
    assert main(["draw", *names[:2], "--casing", piece, "-o", names[2]]) == 0
    assert lengths(ElementTree.parse(names[2]).getroot(), "ruler-mm") == pytest.approx([100])


def test_the_shell_names_the_pieces_where_one_has_no_template(
    cased: tuple[PlanRequest, Plan], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    form = request(CASED, zone={"edges": EDGES}, effort_iterations=10)
    (tmp_path / "request.json").write_text(json.dumps(form))
    (tmp_path / "plan.json").write_text(plan_text(cased[1]))
    names = [str(tmp_path / name) for name in ("request.json", "plan.json")]
    assert main(["draw", *names, "--casing", "1-2"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
