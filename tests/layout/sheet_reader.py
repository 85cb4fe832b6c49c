"""Following a cut sheet by its words alone, as the person with the saw does.

Written from the sheet's wording, not from the plan: it knows the words, the board it is told to
take, and nothing else. The board lies with its left end at x = 0 and its near edge at y = 0.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from shapely.geometry import LineString, Polygon, box
from shapely.ops import polygonize, unary_union

from layout.values.tolerances import TOUCHING_TOLERANCE
from layout.values.units import Unit, parse_length

Point = tuple[float, float]

LENGTH = r"([^\s]+\"|[\d]+ mm)"


def number(text: str) -> float:
    """Return a figure of the sheet in inches, or in millimeters where it is metric."""
    if text in ('0"', "0 mm"):
        return 0.0
    length = parse_length(text, bare=Unit.INCH)
    return float(length.mm if text.endswith("mm") else length.inches)


def follow(take: str, steps: Sequence[str]) -> Polygon:
    """Return the piece that is left after all cuts, in the coordinates of what was taken."""
    read = re.fullmatch(rf"Take .+: {LENGTH} by {LENGTH}\.", take)
    assert read, take
    piece = box(0, 0, number(read[1]), number(read[2]))
    square = [step for step in steps if "quare at" in step or "ut square" in step or "Rip" in step]
    for step in square:
        piece = _cut_square(piece, step)
    # All marks are set out on the squared board before any of them is cut.
    board = piece
    for step in steps:
        if step.startswith("Cut out"):
            piece = piece.difference(_cut_out(board, step))
        elif step not in square:
            piece = piece.intersection(_marked(board, step))
    return piece


def _cut_square(piece: Polygon, step: str) -> Polygon:
    """Return the board after a square cut or a rip."""
    left, near, right, far = piece.bounds
    if read := re.fullmatch(rf"Cut square at both ends to a length of {LENGTH}\.", step):
        return box(0, near, number(read[1]), far)
    if read := re.fullmatch(rf".*[cC]ut square {LENGTH} from the (left|right) end; .+", step):
        length = number(read[1])
        span = (left, left + length) if read[2] == "left" else (right - length, right)
        return piece.intersection(box(span[0], near, span[1], far))
    if read := re.fullmatch(rf"Rip along both edges to a width of {LENGTH}\.", step):
        return box(left, 0, right, number(read[1]))
    read = re.fullmatch(rf"Rip {LENGTH} from the (near|far) edge; .+", step)
    assert read, step
    width = number(read[1])
    span = (near, near + width) if read[2] == "near" else (far - width, far)
    return piece.intersection(box(left, span[0], right, span[1]))


def _cut_out(piece: Polygon, step: str) -> Polygon:
    """Return what a cut-out takes."""
    pattern = (
        rf"Cut out {LENGTH} to {LENGTH} from the (left|right) end, "
        rf"{LENGTH} to {LENGTH} from the (near|far) edge\."
    )
    if read := re.fullmatch(pattern, step):
        xs = [_along(piece, number(read[i]), read[3]) for i in (1, 2)]
        ys = [_across(piece, number(read[i]), read[6]) for i in (4, 5)]
        return box(min(xs), min(ys), max(xs), max(ys))
    marks = step.removeprefix("Cut out inside the marks ").removesuffix(".")
    return Polygon([_mark(piece, mark) for mark in marks.split(", ")])


def _marked(piece: Polygon, step: str) -> Polygon:
    """Return what a cut along marks leaves of the squared board."""
    marks, goes = _marks_of(piece, step)
    line = LineString(marks)
    left, near, right, far = piece.bounds
    frame = box(left, near, right, far)
    parts = list(polygonize(unary_union([frame.exterior, line])))
    corners = {
        "near left": (left, near),
        "near right": (right, near),
        "far right": (right, far),
        "far left": (left, far),
    }
    if read := re.fullmatch(r"only the (.+) corner stays", goes):
        return piece.intersection(_part_at(parts, corners[read[1]]))
    if read := re.fullmatch(r"the (near|far) (left|right) corner goes", goes):
        return piece.difference(_part_at(parts, corners[f"{read[1]} {read[2]}"]))
    if read := re.fullmatch(r"the (left|right|near|far) part goes", goes):
        word = read[1]
        corner = next(at for name, at in corners.items() if word in name.split())
        return piece.difference(_part_at(parts, corner))
    read = re.fullmatch(r"what lies between them and the .+ (goes|stays)", goes)
    assert read, step
    between = min(
        parts,
        key=lambda part: sum(
            part.distance(box(*c, *c)) < TOUCHING_TOLERANCE for c in corners.values()
        ),
    )
    return piece.difference(between) if read[1] == "goes" else piece.intersection(between)


def _part_at(parts: Sequence[Polygon], corner: Point) -> Polygon:
    """Return the part that has a corner of the board."""
    x, y = corner
    near = TOUCHING_TOLERANCE
    inside = box(x - near, y - near, x + near, y + near)
    return max(parts, key=lambda part: part.intersection(inside).area)


def _marks_of(piece: Polygon, step: str) -> tuple[list[Point], str]:
    """Return the marks of a step, and which part goes."""
    pattern = (
        rf"Notch: mark {LENGTH} from the (left|right) end and {LENGTH} from the (near|far) edge, "
        r"square to each other; the (near|far) (left|right) corner goes\."
    )
    left, near, right, far = piece.bounds
    if read := re.fullmatch(pattern, step):
        x = _along(piece, number(read[1]), read[2])
        y = _across(piece, number(read[3]), read[4])
        end = left if read[6] == "left" else right
        edge = near if read[5] == "near" else far
        return [(end, y), (x, y), (x, edge)], f"the {read[5]} {read[6]} corner goes"
    read = re.fullmatch(r"Mark (.+); cut (?:along the line|from mark to mark); (.+)\.", step)
    assert read, step
    marks = re.split(
        r", | and (?=\S+(?: mm)? from the \S+ end on| ?\S+(?: mm)? from the \S+ edge on)", read[1]
    )
    return [_mark(piece, mark) for mark in marks], read[2]


def _mark(piece: Polygon, text: str) -> Point:
    """Return the point that a mark names."""
    left, near, right, far = piece.bounds
    if read := re.fullmatch(rf"{LENGTH} from the (left|right) end on the (near|far) edge", text):
        return _along(piece, number(read[1]), read[2]), near if read[3] == "near" else far
    if read := re.fullmatch(rf"{LENGTH} from the (near|far) edge on the (left|right) end", text):
        return left if read[3] == "left" else right, _across(piece, number(read[1]), read[2])
    read = re.fullmatch(
        rf"{LENGTH} from the (left|right) end and {LENGTH} from the (near|far) edge", text
    )
    assert read, text
    return _along(piece, number(read[1]), read[2]), _across(piece, number(read[3]), read[4])


def _along(piece: Polygon, figure: float, end: str) -> float:
    left, _, right, _ = piece.bounds
    return float(left + figure if end == "left" else right - figure)


def _across(piece: Polygon, figure: float, edge: str) -> float:
    _, near, _, far = piece.bounds
    return float(near + figure if edge == "near" else far - figure)
