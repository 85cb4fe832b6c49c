"""The way rows advance, with left and right as they are called: kneeling, facing the next row.

     ^
left | right  rows advance          all under a floor, turned as its rows go
"""

from __future__ import annotations

from layout.drawing.lettering import lettering_width
from layout.drawing.paper import SMALL, DrawingPaper
from layout.values.material import Side
from layout.values.outline import Point, direction_vector
from layout.values.plan import Plan
from layout.values.request import PlanRequest

_HALF, _CLEAR = 20.0, 10.0  # half the arrow; what stays free round it


def advance(request: PlanRequest, plan: Plan) -> Point:
    """Return the way rows advance on the paper, y downwards; from a control line, the first way."""
    cos, sin = direction_vector(plan.direction_deg)
    way = 1 if request.lay.start is Side.LOW else -1
    return -sin * way, -cos * way


def hands_reach(request: PlanRequest, plan: Plan, letters: float) -> float:
    """Return how far the arrow and its words reach up and down from their middle."""
    ux, uy = advance(request, plan)
    tall = SMALL * letters
    return max(_HALF * abs(uy), abs(ux) * _off("right", (ux, uy), letters) + 0.6 * tall)


def draw_hands(paper: DrawingPaper, place: Point, request: PlanRequest, plan: Plan) -> None:
    """Draw the arrow with left and right beside it, from a place on to the right."""
    ux, uy = advance(request, plan)
    wide = {word: lettering_width(word, SMALL * paper.letters) for word in ("left", "right")}
    side = abs(uy) * (_CLEAR + max(wide.values())) + _HALF * abs(ux)
    x, y = place[0] + max(side, max(wide.values()) / 2), place[1]
    paper.arrow((x - ux * _HALF, y - uy * _HALF), (x + ux * _HALF, y + uy * _HALF), name="advance")
    for word, turn in (("left", 1), ("right", -1)):
        off = turn * _off(word, (ux, uy), paper.letters)
        paper.letter((x + uy * off, y - ux * off), word, size=SMALL, name="hand")
    first = request.lay.control_row
    words = "rows advance" if first is None else f"row {first} and on"
    beside = 2 * (x - place[0]) + place[0] + _CLEAR
    paper.letter((beside, y), words, size=SMALL, anchor="start", name="advance")


def _off(word: str, way: Point, letters: float) -> float:
    """Return how far off the arrow the middle of a word stands."""
    size = SMALL * letters
    return _CLEAR + abs(way[1]) * lettering_width(word, size) / 2 + abs(way[0]) * size / 2
