"""How far a floating floor is lifted to get at one plank. Pure.

A floating floor is unlocked row by row from a wall along the planks; the row of the damaged plank
then comes apart from its nearer end. Common practice, no source. Planks that meet end to end are
one run; a run is free once every run that is locked to its far side is out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from layout.values.laid_pieces import LaidPiece, in_rows, laid_pieces
from layout.values.plan import Plan
from layout.values.tolerances import RUN_GAP_TOLERANCE

START, LAST = "start", "last"
"""The wall of the first row, and that of the last."""

Run = tuple[LaidPiece, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Lift:
    """What is lifted to change one plank, in the order in which it comes out.

    ``side``: from the wall of the first row or of the last. ``rows``: those before its row.
    ``planks``: the ids of all pieces that come out, the damaged one last.
    """

    side: str
    rows: tuple[int, ...]
    planks: tuple[str, ...]

    @property
    def before(self) -> int:
        """Planks that come out before the damaged one."""
        return len(self.planks) - 1


def lift_of(plan: Plan, name: str) -> Lift:
    """Return how one gets at the piece of this name with the fewest rows lifted, then planks.

    Where both walls are alike it is the one of the last row: planks come out as they went in, the
    last first. Raises KeyError where the plan has no such piece.
    """
    rows = {row: _runs(pieces) for row, pieces in in_rows(laid_pieces(plan)).items()}
    run = next((one for runs in rows.values() for one in runs if _has(one, name)), None)
    if run is None:
        raise KeyError(name)
    ways = [_lift(rows, run, name, side) for side in (LAST, START)]
    return min(ways, key=lambda way: (len(way.rows), len(way.planks)))


def _lift(rows: Mapping[int, Sequence[Run]], run: Run, name: str, side: str) -> Lift:
    step = 1 if side == LAST else -1
    freed: dict[int, list[Run]] = {}
    beside, number = [run], run[0].row
    while beside:
        number += step
        beside = [one for one in rows.get(number, ()) if any(_locked(one, at) for at in beside)]
        if beside:
            freed[number] = beside
    order = sorted(freed, key=lambda row: -row * step)
    planks = [piece.piece.id for row in order for one in freed[row] for piece in one]
    return Lift(side=side, rows=tuple(order), planks=(*planks, *_from_an_end(run, name)))


def _from_an_end(run: Run, name: str) -> list[str]:
    """Return the planks of a run from its nearer end up to the one of this name."""
    names = [piece.piece.id for piece in run]
    place = names.index(name)
    from_left, from_right = names[: place + 1], names[: place - 1 if place else None : -1]
    return min(from_left, from_right, key=len)


def _runs(row: Sequence[LaidPiece]) -> list[Run]:
    """Return the pieces of a row, left to right, as runs that meet end to end."""
    runs: list[list[LaidPiece]] = []
    for piece in row:
        if runs and piece.bounds[0] - runs[-1][-1].bounds[2] < RUN_GAP_TOLERANCE:
            runs[-1].append(piece)
        else:
            runs.append([piece])
    return [tuple(run) for run in runs]


def _has(run: Run, name: str) -> bool:
    return any(piece.piece.id == name for piece in run)


def _locked(run: Run, other: Run) -> bool:
    """Whether a plank of one run lies along a plank of the other."""
    return any(_along(one, two) for one in run for two in other)


def _along(one: LaidPiece, two: LaidPiece) -> bool:
    shared = min(one.bounds[2], two.bounds[2]) - max(one.bounds[0], two.bounds[0])
    return shared > RUN_GAP_TOLERANCE and one.shape.distance(two.shape) < RUN_GAP_TOLERANCE
