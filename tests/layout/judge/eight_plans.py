"""Eight floors planned once, to be spoiled in tests: invented rooms of every kind.

metric rectangle, ell, the ell turned, posts that boards are split at, two rooms and a hall,
several widths, four shades round a register, a bay
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import cos, radians, sin
from typing import Any

from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests import rooms

_EFFORT = 20
_TURN = 17.0


def turned_ell() -> rooms.Request:
    """Return the ell in a house that was measured askew, planks along its long wall."""
    request = rooms.ell()
    c, s = cos(radians(_TURN)), sin(radians(_TURN))
    outline = [[c * x - s * y, s * x + c * y] for x, y in request["zone"]["outline"]]
    return rooms.request(outline, rules={"direction_deg": _TURN, "wall_error": 0.25})


def pillars() -> rooms.Request:
    """Return a room with six thin posts: wherever rows run, some board is split at one."""
    posts = [
        [[x, y], [x + 1, y], [x + 1, y + 1], [x, y + 1]] for x in (50, 56, 62) for y in (3, 13)
    ]
    return rooms.request([[0, 0], [161, 0], [161, 35.5], [0, 35.5]], zone={"holes": posts})


def suite() -> rooms.Request:
    """Return two rooms and the hall between them, a doorway at either side of it."""
    outline: list[list[float]] = [[0, 0], [120, 0], [120, 40], [124.5, 40], [124.5, 20]]
    outline += [[168.5, 20], [168.5, 40], [173, 40], [173, 0], [281, 0], [281, 118], [173, 118]]
    outline += [[173, 70], [168.5, 70], [168.5, 130], [124.5, 130], [124.5, 70], [120, 70]]
    outline += [[120, 110], [0, 110]]
    doors = [[[x, 40], [x + 4.5, 40], [x + 4.5, 70], [x, 70]] for x in (120, 168.5)]
    return rooms.request(outline, zone={"no_joints": doors}, rules={"wall_error": 0.25})


def several_widths() -> rooms.Request:
    """Return a room of boards 7 and 5 wide."""
    boards = [{"length": 48, "width": width, "per_carton": 4} for width in (7, 5)]
    outline: list[list[float]] = [[0, 0], [150, 0], [150, 97.5], [0, 97.5]]
    return rooms.request(outline, product={"boards": boards})


def four_shades() -> rooms.Request:
    """Return a room of four shades round a register that lies inside a board."""
    shades = {"A": 3, "B": 3, "C": 2, "D": 2}
    grille = {"outline": [[30, 30], [42, 30], [42, 30.75], [30, 30.75]], "kind": "register"}
    return rooms.request(
        [[0, 0], [150, 0], [150, 101], [0, 101]],
        zone={"holes": [grille]},
        product={**rooms.PLANK, "variants": shades},
    )


_ROOMS: dict[str, Callable[[], rooms.Request]] = {
    "metric rectangle": rooms.bedroom_mm,
    "ell": rooms.ell,
    "turned ell": turned_ell,
    "pillars": pillars,
    "suite": suite,
    "several widths": several_widths,
    "four shades": four_shades,
    "bay": rooms.bay,
}
EIGHT = tuple(_ROOMS)


@cache
def eight_plan(name: str) -> tuple[PlanRequest, Plan]:
    """Return one of the floors and its plan."""
    made: dict[str, Any] = {**_ROOMS[name](), "effort_iterations": _EFFORT}
    request = read_request(made)
    return request, plan_floor(request)
