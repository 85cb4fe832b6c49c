"""Named rooms to plan in tests, invented, as requests in the interchange form.

Every room is a function of nothing that returns a fresh request; ROOMS lists them by name.
Boards are 48 x 7 in with 10 to the carton unless the picture says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

Request = dict[str, Any]

RULES = {
    "expansion_gap": 0.25,
    "saw_kerf": 0.125,
    "min_end_piece": 8,
    "min_joint_offset": 8,
    "min_row_width": 2,
    "direction_deg": 0,
}
RULES_MM = {
    "expansion_gap": 8,
    "saw_kerf": 3,
    "min_end_piece": 300,
    "min_joint_offset": 300,
    "min_row_width": 60,
    "direction_deg": 0,
}
PLANK = {"length": 48, "width": 7, "per_carton": 10}


def request(outline: Sequence[Sequence[float]], **changes: Any) -> Request:
    """Return a request for an outline; ``changes`` replace whole fields, ``rules`` adds to them."""
    rules = {**RULES, **changes.pop("rules", {})}
    zone = {"outline": outline, **changes.pop("zone", {})}
    base: Request = {"format": 1, "unit": "in", "zone": zone, "product": dict(PLANK)}
    return {**base, "rules": rules, "effort_iterations": 200, "seed": 0, **changes}


def study() -> Request:
    """A plain room whose last row would be a sliver.

    +-----------+
    |  161 x    |
    |   128.5   |
    +-----------+
    """
    return request([[0, 0], [161, 0], [161, 128.5], [0, 128.5]])


def pantry() -> Request:
    """Shorter than one board.

    +---+
    |   |  31 x 58
    +---+
    """
    return request([[0, 0], [31, 0], [31, 58], [0, 58]])


def just_over_three() -> Request:
    """A row is a little longer than three boards.

    +----------------+
    | 145.25 x 90    |
    +----------------+
    """
    return request([[0, 0], [145.25, 0], [145.25, 90], [0, 90]])


def ell() -> Request:
    """Living room with a dining corner.

    +-------+
    |       |
    |       +-----+
    |             |  218 x 190 less 84 x 77
    +-------------+
    """
    return request([[0, 0], [218, 0], [218, 113], [134, 113], [134, 190], [0, 190]])


def bay() -> Request:
    """A bay window over the start wall's opposite.

       ____
    +-/    \\-+
    |        |   172 x 120 and a bay 20 deep
    +--------+
    """
    corners = [[0, 0], [172, 0], [172, 120], [136, 120], [118, 140], [54, 140], [36, 120], [0, 120]]
    return request(corners)


def column() -> Request:
    """A column in the middle.

    +---------+
    |    []   |  230 x 170, column 14 x 14
    +---------+
    """
    post = [[108, 80], [122, 80], [122, 94], [108, 94]]
    return request([[0, 0], [230, 0], [230, 170], [0, 170]], zone={"holes": [post]})


def register() -> Request:
    """A floor register near the window, inside one board or two.

    +---------+
    |  ==     |  150 x 120, register 12 x 4
    +---------+
    """
    grille = {"outline": [[40, 100], [52, 100], [52, 104], [40, 104]], "kind": "register"}
    return request([[0, 0], [150, 0], [150, 120], [0, 120]], zone={"holes": [grille]})


def island() -> Request:
    """A kitchen island that the floor goes round.

    +-----------+
    |   +---+   |
    |   |   |   |  200 x 160, island 72 x 36
    |   +---+   |
    +-----------+
    """
    cabinet = {"outline": [[64, 60], [136, 60], [136, 96], [64, 96]], "kind": "cabinet"}
    return request([[0, 0], [200, 0], [200, 160], [0, 160]], zone={"holes": [cabinet]})


def crooked() -> Request:
    """No corner square, no wall true.

    +---------.
     \\         \\   about 190 x 150
      '---------+
    """
    return request([[0, 0.75], [190.5, 0], [189, 151.25], [-0.5, 150]])


def slanted() -> Request:
    """One wall at an angle along a stair.

    +------.
    |       \\   160 x 130, corner cut at 30 x 70
    |        |
    +--------+
    """
    return request([[0, 0], [160, 0], [160, 60], [130, 130], [0, 130]])


def two_rooms() -> Request:
    """Two rooms through a doorway where no end joint may fall.

    +-------+ +-----+
    |       +-+     |   120 x 110, wall 4.5, 96 x 110, doorway 30 wide
    |        =      |
    |       +-+     |
    +-------+ +-----+
    """
    outline: list[list[float]] = [[0, 0], [120, 0], [120, 40], [124.5, 40], [124.5, 0], [220.5, 0]]
    outline += [[220.5, 110], [124.5, 110], [124.5, 70], [120, 70], [120, 110], [0, 110]]
    door = [[120, 40], [124.5, 40], [124.5, 70], [120, 70]]
    return request(outline, zone={"no_joints": [door]})


def diagonal() -> Request:
    """Laid from corner to corner.

    +-------+
    | / / / |  132 x 108 at 45 degrees
    +-------+
    """
    return request([[0, 0], [132, 0], [132, 108], [0, 108]], rules={"direction_deg": 45})


def bedroom_mm() -> Request:
    """A metric bedroom.

    +---------+
    |  3940 x |
    |   3120  |
    +---------+
    """
    return request(
        [[0, 0], [3940, 0], [3940, 3120], [0, 3120]],
        unit="mm",
        product={"length": 1285, "width": 192, "per_carton": 8},
        rules=RULES_MM,
    )


ROOMS: dict[str, Callable[[], Request]] = {
    room.__name__: room
    for room in (
        study,
        pantry,
        just_over_three,
        ell,
        bay,
        column,
        register,
        island,
        crooked,
        slanted,
        two_rooms,
        diagonal,
        bedroom_mm,
    )
}
