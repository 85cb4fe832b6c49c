"""The cut sheet: notches worked by hand, and two hundred pieces made again from its words."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

import pytest
from shapely.affinity import affine_transform, rotate, translate
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from layout.cutsheet.sheet import PieceSheet, RowSheet, cut_sheet, rack_list
from layout.values.laid_pieces import laid_pieces
from layout.values.outline import from_frame, polygons_of, to_frame
from layout.values.plan import Offcut, Piece, Plan
from layout.values.request import PlanRequest
from tests.layout import three_rows
from tests.layout.sheet_reader import follow
from tests.layout.three_rows import plan, request

LENGTH, WIDTH = 48.0, 7.0


def test_a_row_of_plain_cuts_is_one_line() -> None:
    row = cut_sheet(request(), plan())[0]
    assert (row.row, row.begin, row.whole) == (1, "left", 1)
    assert row.line == '24" of plank 1, 1 whole, 28" of plank 3'


def test_a_starter_is_measured_from_the_end_it_keeps() -> None:
    first = cut_sheet(request(), plan())[0].pieces[0]
    assert first.take == 'Take a new board, plank 1: 48" by 7".'
    assert [step.text for step in first.steps] == [
        'Cut square 24" from the right end; the left part goes.'
    ]


def test_an_offcut_that_fits_needs_no_cut() -> None:
    third = cut_sheet(request(), plan())[2].pieces[0]
    assert (third.offcut, third.take) == ("F1", 'Take offcut F1: 19⅞" by 7".')
    assert third.steps == ()


def test_what_a_cut_leaves_for_the_rack_is_named_with_the_cut() -> None:
    ender = cut_sheet(request(), plan())[0].pieces[1]
    assert (ender.id, ender.leaves) == ("1-3", ("F1",))


def test_the_rack_list_says_where_an_offcut_comes_from_and_goes() -> None:
    (entry,) = rack_list(request(), plan())
    assert (entry.label, entry.cut_with, entry.used_by) == ("F1", "1-3", "3-1")
    assert entry.size == '19⅞" by 7"'


def test_pieces_down_already_are_left_out() -> None:
    laid = plan().pieces[:3]
    rows = cut_sheet(replace(request(), laid=laid), plan())
    assert [row.row for row in rows] == [2, 3]


def test_from_the_high_side_left_and_right_change_hands() -> None:
    rows = cut_sheet(request(lay={"start": "high"}), plan())
    assert {row.begin for row in rows} == {"right"}
    assert rows[0].pieces[0].steps[0].text == (
        'Cut square 24" from the left end; the right part goes.'
    )


def test_a_last_piece_is_measured_on_site_within_its_limits() -> None:
    ender = plan().pieces[2]
    cut = replace(ender.cuts[0], final="measure on site", limits=(8.0, 28.0))
    laid = three_rows.with_piece(plan(), replace(ender, cuts=(cut,)))
    (step,) = cut_sheet(request(), laid)[0].pieces[1].steps
    assert step.text == (
        'Measure on site, 8" to 28"; as drawn: cut square 28" from the left end; '
        "the right part goes."
    )


def test_without_a_kerf_boards_are_scored() -> None:
    rows = cut_sheet(request(rules={"saw_kerf": 0}), plan())
    assert {step.tool for row in rows for piece in row.pieces for step in piece.steps} == {"score"}


# One whole board in a corner, notched 6 along and 2 across: worked by hand for every corner. The
# figure is what stays: 42 of 48 along, 5 of 7 across, from the end and the edge across.
CORNERS = {"near left": (0, 0), "near right": (42, 0), "far left": (0, 5), "far right": (42, 5)}
BY_HAND = {
    "near left": 'mark 42" from the right end and 5" from the far edge',
    "near right": 'mark 42" from the left end and 5" from the far edge',
    "far left": 'mark 42" from the right end and 5" from the near edge',
    "far right": 'mark 42" from the left end and 5" from the near edge',
}
ACROSS = {"near left": "far right", "near right": "far left", "far left": "near right"}
ACROSS["far right"] = "near left"


@pytest.mark.parametrize("start", ["low", "high"])
@pytest.mark.parametrize("corner", CORNERS)
def test_a_notch_at_each_corner_from_both_sides(corner: str, start: str) -> None:
    x, y = CORNERS[corner]
    shape = box(0, 0, 48, 7).difference(box(x, y, x + 6, y + 2))
    (step,) = sheet_of(shape, start=start).steps
    seen = corner if start == "low" else ACROSS[corner]
    near_end = step.text.replace("Notch: ", "").split(", square")[0]
    assert near_end == BY_HAND[seen]
    assert step.text.endswith(f"square to each other; the {seen} corner goes.")
    assert step.tool == "jigsaw"


def test_errors_do_not_add_up() -> None:
    # Cut to 40 and notched at both far corners: all three figures start at the left end.
    shape = box(0, 0, 40, 7).difference(box(34, 5, 40, 7)).difference(box(0, 5, 3, 7))
    steps = [step.text for step in sheet_of(shape).steps]
    assert len(steps) == 3
    assert all("from the left end" in step for step in steps)


def sheet_of(
    shape: BaseGeometry, *, start: str = "low", direction: float = 0.0, unit: str = "in"
) -> PieceSheet:
    """Return the sheet of one piece, ``shape`` in the coordinates of its plank."""
    rows = sheets_of(shape, start=start, direction=direction, unit=unit)[2]
    return rows[0].pieces[0]


def sheets_of(
    shape: Any, *, start: str, direction: float, unit: str, offcut: Offcut | None = None
) -> tuple[PlanRequest, Plan, tuple[RowSheet, ...]]:
    scale = 1.0 if unit == "in" else 25.4
    scaled = Polygon(
        [(x * scale, y * scale) for x, y in shape.exterior.coords],
        [[(x * scale, y * scale) for x, y in ring.coords] for ring in shape.interiors],
    )
    piece = Piece(
        id="1-1",
        row=1,
        place=1,
        plank=1,
        size=(LENGTH * scale, WIDTH * scale),
        outline=from_frame(list(scaled.exterior.coords)[:-1], direction),
        holes=tuple(from_frame(list(r.coords)[:-1], direction) for r in scaled.interiors),
        origin=(0.0, 0.0),
    )
    plan_request = request(lay={"start": start})
    laid = plan(
        pieces=(piece,), offcuts=(offcut,) if offcut else (), direction_deg=direction, unit=unit
    )
    return plan_request, laid, cut_sheet(plan_request, laid)


def random_shape(random: Random) -> Polygon:
    """Return a piece of a board: the board less what a room's corners, bays and posts take."""
    while True:
        shape: BaseGeometry = box(0, 0, LENGTH, WIDTH)
        for _ in range(random.randint(1, 3)):
            shape = shape.difference(random_obstacle(random))
        if random.random() < 0.3:
            x, y = random.uniform(5, 30), random.uniform(1, 3)
            shape = shape.difference(box(x, y, x + random.uniform(2, 6), y + random.uniform(1, 3)))
        parts = [part for part in polygons_of(shape) if part.area > 40]
        if parts and sharp_enough(parts[0]):
            return parts[0]


def random_obstacle(random: Random) -> BaseGeometry:
    """Return what may stand in the way of a board: a wall across, along, a corner, an angle."""
    across = box(random.uniform(12, 47), -50, 200, 50)
    along = box(-100, random.uniform(2, 6.5), 200, 50)
    x, y = random.uniform(8, 40), random.uniform(1, 6)
    corner = box(x, y, x + random.uniform(4, 60), y + 50)
    obstacle = random.choice([across, along, corner, rotate(across, random.uniform(-50, 50))])
    turned = rotate(obstacle, random.choice([0, 180]), origin=(LENGTH / 2, WIDTH / 2))
    slight = rotate(along, random.uniform(-2, 2), origin=(20, 4))
    return random.choice([turned, turned, turned, slight])


def sharp_enough(shape: Polygon) -> bool:
    """Whether every edge is long enough to be cut, and nothing is a thread."""
    rings = (shape.exterior, *shape.interiors)
    edges = [
        ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        for ring in rings
        for (ax, ay), (bx, by) in zip(list(ring.coords), list(ring.coords)[1:], strict=False)
    ]
    core = shape.buffer(-0.2)
    return bool(min(edges) > 0.5 and core.geom_type == "Polygon" and not core.is_empty)


@pytest.mark.parametrize("seed", range(200))
def test_the_words_alone_give_the_piece_back(seed: int) -> None:
    random = Random(seed)
    shape = random_shape(random)
    start = random.choice(["low", "high"])
    direction = random.choice([0.0, 90.0, 45.0, 33.0])
    unit = random.choice(["in", "mm"])
    _, _, rows = sheets_of(shape, start=start, direction=direction, unit=unit)
    sheet = rows[0].pieces[0]
    made = follow(sheet.take, [step.text for step in sheet.steps])
    wanted = as_seen(shape, start=start, scale=1.0 if unit == "in" else 25.4)
    # A piece that keeps neither end or edge of its board lies anywhere along or across it.
    made = translate(made, wanted.bounds[0] - made.bounds[0], wanted.bounds[1] - made.bounds[1])
    near = 1 / 16 if unit == "in" else 25.4 / 16
    assert made.hausdorff_distance(wanted) <= near
    assert made.symmetric_difference(wanted).area <= wanted.length * near


def as_seen(shape: Polygon, *, start: str, scale: float) -> Polygon:
    """Return a piece as the person sees it: turned half round where rows go down the sheet."""
    turned = rotate(shape, 180 if start == "high" else 0, origin=(LENGTH / 2, WIDTH / 2))
    return affine_transform(turned, [scale, 0, 0, scale, 0, 0])


def test_the_pieces_of_a_plank_put_back_cover_it_but_for_the_kerf() -> None:
    # Plank 3 gives the ender of row 1 and the starter of row 3; the saw takes 1/8 in.
    shapes = [p.in_plank for p in laid_pieces(plan()) if p.piece.plank == 3]
    bare = box(0, 0, 48, 7).difference(shapes[0].union(shapes[1]))
    assert bare.area == pytest.approx(0.125 * 7)


def test_frames_turn_back_and_forth() -> None:
    assert to_frame(from_frame([(3.0, 4.0)], 33.0), 33.0)[0] == pytest.approx((3.0, 4.0))
