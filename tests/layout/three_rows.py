"""A floor worked out by hand, to be broken in tests: three rows of 48 x 7 boards.

    row 3 |19.875 |     48     |   32.125   |   the region is 100 x 21: a room of 100.5 x 21.5
    row 2 |     40     |     48      |  12  |   with a gap of 0.25
    row 1 |   24    |     48     |    28    |

The starter of row 3 is what the saw leaves of the plank that ends row 1: 48 - 28 - 0.125.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from layout.values.material import Lay
from layout.values.plan import Cut, Look, Offcut, Piece, Plan, Totals
from layout.values.request import PlanRequest, read_request
from tests import rooms

LENGTH, WIDTH, GAP = 48.0, 7.0, 0.25

# Row, place, plank, left end in the region, length, left end in the plank.
_PIECES = (
    (1, 1, 1, 0.0, 24.0, 24.0),
    (1, 2, 2, 24.0, 48.0, 0.0),
    (1, 3, 3, 72.0, 28.0, 0.0),
    (2, 1, 4, 0.0, 40.0, 8.0),
    (2, 2, 5, 40.0, 48.0, 0.0),
    (2, 3, 6, 88.0, 12.0, 0.0),
    (3, 1, 3, 0.0, 19.875, 28.125),
    (3, 2, 7, 19.875, 48.0, 0.0),
    (3, 3, 8, 67.875, 32.125, 0.0),
)


def request(**changes: Any) -> PlanRequest:
    """Return the request of the floor, with changes as ``rooms.request`` takes them."""
    outline = changes.pop("outline", [[0, 0], [100.5, 0], [100.5, 21.5], [0, 21.5]])
    return read_request(rooms.request(outline, **changes))


def piece(row: int, place: int, plank: int, left: float, length: float, at: float) -> Piece:
    """Return a full-width piece: left end in the region, length, left end in its plank."""
    x0, y0 = GAP + left, GAP + (row - 1) * WIDTH
    outline = ((x0, y0), (x0 + length, y0), (x0 + length, y0 + WIDTH), (x0, y0 + WIDTH))
    cuts = []
    if at > 0:
        cuts.append(Cut(kind="crosscut", measure_from="right end", at=length))
    elif length < LENGTH:
        cuts.append(Cut(kind="crosscut", measure_from="left end", at=length))
    return Piece(
        id=f"{row}-{place}",
        row=row,
        place=place,
        plank=plank,
        size=(LENGTH, WIDTH),
        outline=outline,
        origin=(x0 - at, y0),
        cuts=tuple(cuts),
    )


def plan(**changes: Any) -> Plan:
    """Return the plan of the floor; ``changes`` replace fields of it."""
    offcut = Offcut(
        id="F1",
        plank=3,
        length=19.875,
        width=WIDTH,
        keeps=("right end", "low side", "high side"),
        at=(28.125, 0.0),
        used_by="3-1",
    )
    laid = Plan(
        unit="in",
        direction_deg=0.0,
        lay=Lay(),
        status="best_found",
        proof={},
        pieces=tuple(piece(*row) for row in _PIECES),
        offcuts=(offcut,),
        totals=totals(),
    )
    return replace(laid, **changes)


def totals(**changes: Any) -> Totals:
    """Return the totals of the plan counted by hand; ``changes`` falsify them."""
    counted = Totals(
        planks=8,
        fewest=8,
        cartons=1,
        lower_bound=7,
        floor_area=100.5 * 21.5,
        laid_area=2100.0,
        rack_max=1,
        waste=8 * 336 / 2100 - 1,
        crosscuts=6,
        rips=0,
        notches=0,
        full_pieces=3,
        look=Look(h_joints=0, staircases=0, smallest_offset=16.0),
    )
    return replace(counted, **changes)


def with_piece(plan: Plan, changed: Piece) -> Plan:
    """Return the plan with the piece of the same id replaced."""
    pieces = tuple(changed if piece.id == changed.id else piece for piece in plan.pieces)
    return replace(plan, pieces=pieces)
