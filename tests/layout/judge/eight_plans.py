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
_ELL: list[list[float]] = [[0, 0], [132, 0], [132, 60], [84, 60], [84, 101], [0, 101]]


def small_ell() -> rooms.Request:
    """Return a room with a corner left out."""
    return rooms.request(_ELL)


def turned_ell() -> rooms.Request:
    """Return the ell in a house that was measured askew, planks along its long wall."""
    c, s = cos(radians(_TURN)), sin(radians(_TURN))
    outline: list[list[float]] = [[c * x - s * y, s * x + c * y] for x, y in _ELL]
    return rooms.request(outline, rules={"direction_deg": _TURN, "wall_error": 0.25})


def metric_rectangle() -> rooms.Request:
    """Return a plain room in mm."""
    request = rooms.bedroom_mm()
    return {**request, "zone": {"outline": [[0, 0], [3100, 0], [3100, 2120], [0, 2120]]}}


def small_bay() -> rooms.Request:
    """Return a room with a bay."""
    corners: list[list[float]] = [
        [0, 0],
        [132, 0],
        [132, 60],
        [106, 60],
        [90, 78],
        [42, 78],
        [26, 60],
        [0, 60],
    ]
    return rooms.request(corners)


def pillars() -> rooms.Request:
    """Return a room with six thin posts: wherever rows run, some board is split at one."""
    posts = [
        [[x, y], [x + 1, y], [x + 1, y + 1], [x, y + 1]] for x in (50, 56, 62) for y in (3, 13)
    ]
    return rooms.request([[0, 0], [161, 0], [161, 35.5], [0, 35.5]], zone={"holes": posts})


def suite() -> rooms.Request:
    """Return two rooms and the hall between them, a doorway at either side of it."""
    outline: list[list[float]] = [[0, 0], [90, 0], [90, 40], [94.5, 40], [94.5, 20]]
    outline += [[138.5, 20], [138.5, 40], [143, 40], [143, 0], [215, 0], [215, 118], [143, 118]]
    outline += [[143, 70], [138.5, 70], [138.5, 130], [94.5, 130], [94.5, 70], [90, 70]]
    outline += [[90, 110], [0, 110]]
    doors = [[[x, 40], [x + 4.5, 40], [x + 4.5, 70], [x, 70]] for x in (90, 138.5)]
    return rooms.request(outline, zone={"no_joints": doors}, rules={"wall_error": 0.25})


def several_widths() -> rooms.Request:
    """Return a room of boards 7 and 5 wide."""
    boards = [{"length": 48, "width": width, "per_carton": 4} for width in (7, 5)]
    outline: list[list[float]] = [[0, 0], [130, 0], [130, 63.5], [0, 63.5]]
    return rooms.request(outline, product={"boards": boards})


def four_shades() -> rooms.Request:
    """Return a room of four shades round a register that lies inside a board."""
    shades = {"A": 3, "B": 3, "C": 2, "D": 2}
    grille = {"outline": [[30, 30], [42, 30], [42, 30.75], [30, 30.75]], "kind": "register"}
    return rooms.request(
        [[0, 0], [130, 0], [130, 66], [0, 66]],
        zone={"holes": [grille]},
        product={**rooms.PLANK, "variants": shades},
    )


_ROOMS: dict[str, Callable[[], rooms.Request]] = {
    "metric rectangle": metric_rectangle,
    "ell": small_ell,
    "turned ell": turned_ell,
    "pillars": pillars,
    "suite": suite,
    "several widths": several_widths,
    "four shades": four_shades,
    "bay": small_bay,
}
EIGHT = tuple(_ROOMS)


@cache
def eight_plan(name: str) -> tuple[PlanRequest, Plan]:
    """Return one of the floors and its plan."""
    made: dict[str, Any] = {**_ROOMS[name](), "effort_iterations": _EFFORT}
    request = read_request(made)
    return request, plan_floor(request)
