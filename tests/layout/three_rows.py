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

LENGTH, WIDTH, GAP, KERF = 48.0, 7.0, 0.25, 0.125

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
_TAKEN = [(plank, at) for _, _, plank, _, _, at in _PIECES if at > 0]
# Plank, left end and length in it, the piece cut from it later.
_OFFCUTS = (
    (3, 28.125, 19.875, "3-1"),
    (1, 0.0, 23.875, None),
    (6, 12.125, 35.875, None),
    (8, 32.25, 15.75, None),
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
        most = min([LENGTH, *(there - KERF for other, there in _TAKEN if other == plank)])
        cuts.append(
            Cut(
                kind="crosscut",
                measure_from="left end",
                at=length,
                final="measure on site",
                limits=(min(8.0, length), max(most, length)),
            )
        )
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


def offcut(name: str, plank: int, at: float, length: float, user: str | None) -> Offcut:
    """Return an offcut of full width: its left end in its plank, its length, who uses it."""
    ends = ("left end", "right end")
    kept = [end for end, has in zip(ends, (at == 0, at + length == LENGTH), strict=True) if has]
    return Offcut(
        id=name,
        plank=plank,
        length=length,
        width=WIDTH,
        keeps=(*kept, "low side", "high side"),
        at=(at, 0.0),
        outline=((at, 0.0), (at + length, 0.0), (at + length, WIDTH), (at, WIDTH)),
        used_by=user,
        stack="A" if user else None,
    )


def plan(**changes: Any) -> Plan:
    """Return the plan of the floor; ``changes`` replace fields of it."""
    laid = Plan(
        unit="in",
        direction_deg=0.0,
        lay=Lay(),
        status="best_found",
        proof={},
        pieces=tuple(piece(*row) for row in _PIECES),
        offcuts=tuple(offcut(f"F{i}", *left) for i, left in enumerate(_OFFCUTS, start=1)),
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
