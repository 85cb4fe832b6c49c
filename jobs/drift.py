"""How far the walls may stand off before a plan no longer holds. Pure.

No wall is true, so last pieces are measured on site; each says between which lengths the plan
still keeps its rules. The tightest of them is what the plan as a whole survives.
"""

from __future__ import annotations

from dataclasses import dataclass

from jobs.words import core_length_words
from layout.plan import Plan
from layout.request import PlanRequest

_NOTHING = {"in": 1 / 16, "mm": 1.0}  # less than this can't be told on a tape


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """What one piece allows: how much shorter and longer it may come out, in the plan's unit."""

    piece: str
    shorter: float
    longer: float


def drifts_of(plan: Plan) -> tuple[Drift, ...]:
    """Return what every piece that is measured on site allows, in the order of laying."""
    return tuple(
        Drift(piece=piece.id, shorter=cut.at - cut.limits[0], longer=cut.limits[1] - cut.at)
        for piece in plan.pieces
        for cut in piece.cuts
        if cut.limits is not None
    )


def drift_sentence(request: PlanRequest, plan: Plan) -> str:
    """Return how far the walls at the row ends may stand off, and which piece says so."""
    found = drifts_of(plan)
    asked = core_length_words(request.rules.wall_error, plan.unit)
    promise = (
        f"Planned for walls that stand off by up to {asked}." if request.rules.wall_error else ""
    )
    if not found:
        return promise or "No piece is measured on site: cut as drawn."
    near = min(found, key=lambda drift: drift.shorter)
    far = min(found, key=lambda drift: drift.longer)
    inward, outward = (
        core_length_words(max(0.0, value), plan.unit) for value in (near.shorter, far.longer)
    )
    if min(near.shorter, far.longer) < _NOTHING[plan.unit]:
        tight = near.piece if near.shorter <= far.longer else far.piece
        told = f"Piece {tight} allows the wall at its end nothing: measure there before row 1."
        return f"{told} {promise}".strip()
    told = (
        f"It holds while the wall a row ends at stands up to {inward} nearer (piece {near.piece}) "
        f"or {outward} farther (piece {far.piece}) than drawn."
    )
    return f"{told} {promise}".strip()
