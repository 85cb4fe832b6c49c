"""Judging a plan against its request, from the outlines of its pieces alone.

The judge shares the values of the layout core with the planner and none of its reasoning: runs,
joints, strips, the rack and all totals are found again by other means, cover by shapely, the lower
bound by the arithmetic of its certificate. It believes nothing that the plan says about itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from layout.judge.balance import unbalanced
from layout.judge.boards import like_pieces, wrong_spread, wrong_variants, wrong_widths
from layout.judge.claims import wrong_bought, wrong_bound, wrong_relax, wrong_spending
from layout.judge.cover import (
    enclosed_posts,
    needless_splits,
    unusable_pieces,
    wrong_cover,
    wrong_cuts,
    wrong_planks,
)
from layout.judge.cutting.figures import wrong_figures, wrong_limits
from layout.judge.cutting.leftovers import wrong_sawing
from layout.judge.drift import drifting, tight_when_off
from layout.judge.excuses import false_warnings, unexcused
from layout.judge.planks import close_in_plank, not_at_hand
from layout.judge.row_marks import wrong_row_marks
from layout.judge.rows import (
    broken_steps,
    close_joints,
    crooked_rows,
    joints_in_doorways,
    short_ends,
    wrong_places,
)
from layout.judge.strips import slivers
from layout.judge.totals import wrong_totals
from layout.judge.trapped import wrong_order, wrong_starts, wrong_trapped
from layout.judge.view import Fault, View
from layout.values.errors import Described, InputError
from layout.values.plan import FORMAT, Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import ANGLE_TOLERANCE

_CHECKS: tuple[Callable[[View], Iterator[Fault]], ...] = (
    wrong_planks,
    wrong_cover,
    wrong_cuts,
    enclosed_posts,
    needless_splits,
    close_in_plank,
    not_at_hand,
    wrong_places,
    crooked_rows,
    short_ends,
    close_joints,
    slivers,
    joints_in_doorways,
    broken_steps,
    unbalanced,
    drifting,
    tight_when_off,
    wrong_figures,
    wrong_limits,
    wrong_sawing,
    wrong_totals,
    wrong_spending,
    wrong_bought,
    wrong_order,
    wrong_trapped,
    wrong_starts,
    wrong_row_marks,
    wrong_widths,
    wrong_variants,
    like_pieces,
    wrong_spread,
)


def check_plan(request: PlanRequest, plan: Plan) -> tuple[Fault, ...]:
    """Return everything that is wrong with a plan; nothing when it stands.

    Raises InputError where plan and request do not speak of the same unit, and for plans of an
    older format: these are shown and drawn, and told nothing of what is judged now.
    """
    if plan.format != FORMAT:
        raise InputError("format", plan.format, f"{FORMAT}; plan it again")
    if plan.unit != request.unit:
        raise InputError("unit", Described(f"the plan is in {plan.unit}"), request.unit)
    view = View(request=request, plan=plan)
    faults = [*_wrong_hands(view), *_laid_moved(view), *unusable_pieces(view)]
    if faults:
        return tuple(faults)
    every = [fault for check in _CHECKS for fault in check(view)]
    faults = list(unexcused(view, every))
    faults += false_warnings(view, every)
    faults += wrong_relax(view, every)
    faults += wrong_bound(view)
    return tuple(faults)


def _wrong_hands(view: View) -> Iterator[Fault]:
    """Yield a direction or hands of laying that were not asked for, and a plan without pieces."""
    wanted = view.request.rules.direction_deg
    angle = view.plan.direction_deg
    if wanted is not None and abs((angle - wanted + 180) % 360 - 180) > ANGLE_TOLERANCE:
        text = f"the plan lies at {angle:g} degrees; asked for {wanted:g}"
        yield Fault(rule="direction", where="plan", value=angle, limit=wanted, text=text)
    if view.plan.lay != view.request.lay:
        text = "start, first_end or tongue are not those of the request"
        yield Fault(rule="lay", where="plan", value=0, limit=0, text=text)
    if not view.plan.pieces:
        yield Fault(rule="missing", where="plan", value=0, limit=1, text="it has no pieces")


def _laid_moved(view: View) -> Iterator[Fault]:
    """Yield laid pieces that the plan leaves out or changes."""
    by_id = {piece.id: piece for piece in view.plan.pieces}
    for laid in view.request.laid:
        piece = by_id.get(laid.id)
        same = (
            piece is not None
            and piece.plank == laid.plank
            and piece.row == laid.row
            and len(piece.outline) == len(laid.outline)
            and _farthest(piece.outline, laid.outline) <= view.near
            and _farthest([piece.origin], [laid.origin]) <= view.near
        )
        if not same:
            text = "it is down already; the plan moves it, changes it or leaves it out"
            where = f"piece {laid.id}"
            yield Fault(rule="laid", where=where, value=0, limit=0, text=text, rows=(laid.row,))


def _farthest(first: Iterable[tuple[float, float]], second: Iterable[tuple[float, float]]) -> float:
    """Return the largest distance along an axis between points in the same order."""
    return max(max(abs(a - c), abs(b - d)) for (a, b), (c, d) in zip(first, second, strict=True))
