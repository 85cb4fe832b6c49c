"""Floors as they are met in practice: the demo's, halls, closets, posts, slants, mixed widths.

The first ten are swept. Invented, of 48 x 7 in unless their picture says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.packet_pdf.demo_floors import FLOORS
from tests.rooms import ROOMS as NAMED
from tests.rooms import Request, request


def closet() -> Request:
    """31 x 58: rows shorter than a plank."""
    return request([[0, 0], [31, 0], [31, 58], [0, 58]])


def hall() -> Request:
    """A hall with a bathroom door: 128 x 46, the doorway 30 wide and 4 1/2 deep."""
    ring: list[list[float]] = [[0, 0], [128, 0], [128, 46], [90, 46]]
    ring += [[90, 50.5], [60, 50.5], [60, 46], [0, 46]]
    return request(ring, spares=4)


def slanted() -> Request:
    """90 x 40, its right wall out of square by 6 in."""
    return request([[0, 0], [96, 0], [90, 40], [0, 40]])


def diagonal() -> Request:
    """66 x 52, laid at 45 degrees: planks slanted at both ends, tips and small corners."""
    return request([[0, 0], [66, 0], [66, 52], [0, 52]], rules={"direction_deg": 45})


def post() -> Request:
    """120 x 70 with a post of 4 x 4."""
    hole = {"outline": [[52, 30], [56, 30], [56, 34], [52, 34]], "kind": "post"}
    return request([[0, 0], [120, 0], [120, 70], [0, 70]], zone={"holes": [hole]})


def from_the_right() -> Request:
    """140 x 66, laid from the high side, rows begun at the right, sawn with 1/8 in."""
    lay = {"start": "high", "first_end": "right"}
    return request([[0, 0], [140, 0], [140, 66], [0, 66]], format=2, lay=lay)


def metric() -> Request:
    """3.1 x 2.2 m, planks of 1220 x 180 mm."""
    rules = {
        "expansion_gap": 8,
        "saw_kerf": 3,
        "min_end_piece": 300,
        "min_joint_offset": 300,
        "min_row_width": 60,
    }
    product = {"length": 1220, "width": 180, "per_carton": 8}
    ring = [[0, 0], [3100, 0], [3100, 2200], [0, 2200]]
    return request(ring, unit="mm", product=product, rules=rules)


def three_widths() -> Request:
    """150 x 80 of planks 5, 7 and 9 in wide."""
    boards = [
        {"length": 48, "width": wide, "per_carton": count}
        for wide, count in ((9, 3), (7, 4), (5, 3))
    ]
    return request([[0, 0], [150, 0], [150, 80], [0, 80]], format=2, product={"boards": boards})


ROOMS: dict[str, Callable[[], Request]] = {
    **FLOORS,
    "hall": hall,
    "slanted": slanted,
    "diagonal": diagonal,
    "post": post,
    "from the right": from_the_right,
    "three widths": three_widths,
    "closet": closet,
    "metric": metric,
    "study": NAMED["study"],
    "ell": NAMED["ell"],
    "just over three": NAMED["just_over_three"],
}
