"""The wall at which a floor ends, where a tape finds it elsewhere than the plan has it.

Rows go down from the start; the last one takes up what the room has more or less. A wall that runs
along the rows is moved there; a floor that ends otherwise has to be measured again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, radians, sin

from layout.values.errors import InputError
from layout.values.outline import Point, Zone
from layout.values.plan import Piece, Plan
from layout.values.tolerances import TOUCHING_TOLERANCE


def last_row_width(plan: Plan) -> float:
    """Return how wide the last row of a plan is: the widest of its pieces, across the rows."""
    across = _across(plan)
    last = plan.pieces[-1].row
    spans = [[across(p) for p in piece.outline] for piece in plan.pieces if piece.row == last]
    return max(max(span) - min(span) for span in spans)


def far_wall_moved(zone: Zone, plan: Plan, by: float) -> Zone:
    """Return the zone with the wall beyond the plan's last row moved outward ``by`` so much.

    Raises InputError where no wall of the zone runs along the last row there.
    """
    if not by:
        return zone
    across = _across(plan)
    far = max(across(point) for point in zone.outline)
    ends = [i for i, p in enumerate(zone.outline) if far - across(p) < TOUCHING_TOLERANCE]
    count = len(zone.outline)
    if not any((i + 1) % count in ends for i in ends):
        raise InputError("last_width", by, "a floor that ends at a wall along its rows")
    x, y = _toward(plan)
    outline = tuple(
        (point[0] + x * by, point[1] + y * by) if i in ends else point
        for i, point in enumerate(zone.outline)
    )
    return replace(zone, outline=outline)


def _across(plan: Plan) -> Callable[[Point], float]:
    """Return what says how far a point lies along the way from the first row to the last."""
    x, y = _toward(plan)
    return lambda point: point[0] * x + point[1] * y


def _toward(plan: Plan) -> tuple[float, float]:
    """Return the way from the first row to the last, across the rows, of length one."""
    turn = radians(plan.direction_deg)
    x, y = -sin(turn), cos(turn)
    first, last = (_middle(piece) for piece in (plan.pieces[0], plan.pieces[-1]))
    onward = (last[0] - first[0]) * x + (last[1] - first[1]) * y
    return (x, y) if onward >= 0 else (-x, -y)


def _middle(piece: Piece) -> Point:
    xs, ys = zip(*piece.outline, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
