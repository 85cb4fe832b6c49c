"""How the pieces of a floor go in that can't be tilted in, and its joining card. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from jobs.domain.formats import Fields
from jobs.domain.products.joining_card import (
    ASK,
    GLUE,
    PULL,
    TRY_DRY,
    WEDGE,
    joining_card,
    lip_words,
    lower_words,
)
from layout.cutsheet.trapped import tried_off_wall
from layout.values.material import End, GoesIn, Lock, Side
from layout.values.outline import Point, to_frame
from layout.values.plan import Piece, Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE

OFF_THE_WALL = "while rows 1 and 2 are off the wall; where it tilts in there, shave nothing"
"""How a piece of the first two rows may go in after all. Common practice, no source."""


def joining_content(
    request: PlanRequest, lock: str, card: Sequence[str] = (), under: str = ""
) -> Fields:
    """Return the joining card of a floor, seen by the person who lays row one.

    ``under``: how thick its plank is and what lies under it.
    """
    lay = request.lay
    turned = lay.start is Side.HIGH
    steps = joining_card(
        lock,
        tongue_to_start=lay.tongue is lay.start,
        from_left=(lay.first_end is End.LEFT) != turned,
        card=card,
    )
    return {**steps, "under": under}


def ways_content(request: PlanRequest, plan: Plan) -> list[Fields]:
    """Return the pieces that can't be tilted in, those of one way together: names and steps."""
    down = {piece.id for piece in request.laid}
    groups: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for piece in plan.pieces:
        if piece.trapped and piece.id not in down:
            way = piece.goes_in or GoesIn.MAKER
            groups[tuple(_steps(request, way, piece, plan))].append(piece.id)
    rows = {piece.id: piece.row for piece in plan.pieces}
    return [
        {
            "pieces": names,
            "title": _title(names),
            "steps": list(_tried(steps, [n for n in names if tried_off_wall(request, rows[n])])),
        }
        for steps, names in groups.items()
    ]


def _tried(steps: Sequence[str], first: Sequence[str]) -> Iterator[str]:
    """Yield the steps; pieces of the first two rows are tried before these are at their wall."""
    for step in steps:
        yield f"{step}, {' and '.join(first)} {OFF_THE_WALL}" if first and step == TRY_DRY else step


def _title(names: Sequence[str]) -> str:
    """Return which pieces a way is of."""
    *most, last = names
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"{listed}: no room to tilt"


def _behind(piece: Piece, plan: Plan) -> list[str]:
    """Return the pieces of the row before that a piece lies against, by name."""
    frame = {one.id: to_frame(one.outline, plan.direction_deg) for one in plan.pieces}
    left, right = _reach(frame[piece.id])
    return [
        one.id
        for one in plan.pieces
        if one.row == piece.row - 1
        and min(right, _reach(frame[one.id])[1]) - max(left, _reach(frame[one.id])[0])
        > LENGTH_TOLERANCE[plan.unit]
    ]


def _reach(ring: Sequence[Point]) -> tuple[float, float]:
    return min(x for x, _ in ring), max(x for x, _ in ring)


def _first(piece: Piece, plan: Plan) -> bool:
    """Whether no piece lies before this one in its row."""
    return all((one.row, one.place) != (piece.row, piece.place - 1) for one in plan.pieces)


def _steps(request: PlanRequest, way: GoesIn, piece: Piece, plan: Plan) -> Iterator[str]:
    """Yield what to do for a piece, in order."""
    row = piece.row
    lay, lock = request.lay, request.product.lock
    name = str(lock or "")
    tongue_near = lay.tongue is lay.behind(row)
    match way:
        case GoesIn.ROW:
            yield f"join all of row {row} off its place"
            yield "tilt it in as one and push it along"
        case GoesIn.SLIDE:
            yield TRY_DRY
            yield lip_words(Lock.TAP, tongue_near=tongue_near, row=row)
            yield "spread the glue" if lock is Lock.GLUE else "set it down flat, clear of its place"
            yield "slide it under, flat"
            yield PULL
        case GoesIn.SHAVE:
            yield from (TRY_DRY, ASK)
            yield lip_words(
                name,
                tongue_near=tongue_near,
                row=row,
                behind=_behind(piece, plan),
                first=_first(piece, plan),
            )
            yield from (GLUE, "slide it in flat", PULL, WEDGE)
        case GoesIn.LOWER:
            yield from (TRY_DRY, ASK)
            yield lower_words(tongue_near=tongue_near)
            yield from (GLUE, "let it down flat", PULL, WEDGE)
        case GoesIn.MAKER:
            yield "ask the maker how this lock goes in flat; lay nothing before that"
