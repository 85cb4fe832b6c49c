"""Judging a plan against its request, from the outlines of its pieces alone.

The judge shares the values of the layout core with the planner and none of its reasoning: runs,
joints, strips, the rack and all totals are found again by other means, cover by shapely, the lower
bound by the arithmetic of its certificate. It believes nothing that the plan says about itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from math import ceil

from layout.judge.boards import like_pieces, wrong_variants, wrong_widths
from layout.judge.cover import (
    enclosed_posts,
    needless_splits,
    unusable_pieces,
    wrong_cover,
    wrong_cuts,
    wrong_planks,
)
from layout.judge.cutting.figures import wrong_figures, wrong_limits
from layout.judge.cutting.leftovers import unsawable, wrong_offcuts
from layout.judge.drift import drifting
from layout.judge.planks import close_in_plank, not_at_hand, rack_too_full
from layout.judge.row_marks import wrong_row_marks
from layout.judge.rows import (
    broken_steps,
    close_joints,
    crooked_rows,
    joints_in_doorways,
    short_ends,
    wrong_places,
)
from layout.judge.strips import slivers, unbalanced
from layout.judge.totals import wrong_totals
from layout.judge.trapped import wrong_order, wrong_starts, wrong_trapped
from layout.judge.view import Fault, View
from layout.proof.certificate import CertificateError, check
from layout.proof.floor import area_bound
from layout.values.errors import Described, InputError
from layout.values.outline import polygons_of
from layout.values.plan import Plan, RuleWarning
from layout.values.request import PlanRequest
from layout.values.tolerances import ANGLE_TOLERANCE, COUNT_TOLERANCE

# Rules that the shape of a floor can make impossible: a warning excuses them, nothing else.
_EXCUSABLE = frozenset(
    {
        *("balance", "min_end_piece", "min_joint_offset", "min_row_width", "no_joints"),
        *("stagger", "wall_error"),
    }
)

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
    rack_too_full,
    drifting,
    wrong_figures,
    wrong_limits,
    unsawable,
    wrong_offcuts,
    wrong_totals,
    wrong_order,
    wrong_trapped,
    wrong_starts,
    wrong_row_marks,
    wrong_widths,
    wrong_variants,
    like_pieces,
)


def check_plan(request: PlanRequest, plan: Plan) -> tuple[Fault, ...]:
    """Return everything that is wrong with a plan; nothing when it stands.

    Raises InputError where plan and request do not speak of the same unit.
    """
    if plan.unit != request.unit:
        raise InputError("unit", Described(f"the plan is in {plan.unit}"), request.unit)
    view = View(request=request, plan=plan)
    faults = [*_wrong_hands(view), *_laid_moved(view), *unusable_pieces(view)]
    if faults:
        return tuple(faults)
    every = [fault for check in _CHECKS for fault in check(view)]
    faults = [fault for fault in every if not _excused(view, fault)]
    faults += _false_warnings(view, every)
    faults += _wrong_bound(view)
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


def _excused(view: View, fault: Fault) -> bool:
    """Whether a warning owns up to a fault that the shape makes unavoidable."""
    if fault.rule not in _EXCUSABLE or _avoidable(view, fault):
        return False
    return any(_speaks_of(view, warning, fault) for warning in view.plan.warnings)


def _speaks_of(view: View, warning: RuleWarning, fault: Fault) -> bool:
    """Whether a warning names the rule, a row, the limit and no better value than found."""
    return (
        warning.rule == fault.rule
        and bool(_rows_named(warning) & set(fault.rows))
        and abs(warning.limit - fault.limit) <= view.near
        and (fault.rule in {"no_joints", "stagger"} or warning.value <= fault.value + view.near)
    )


def _false_warnings(view: View, faults: Sequence[Fault]) -> Iterator[Fault]:
    """Yield warnings of rules that hold there, or hold better than the warning says."""
    for warning in view.plan.warnings:
        if warning.rule not in _EXCUSABLE:
            continue
        spoken = [fault for fault in faults if _speaks_of(view, warning, fault)]
        near = any(abs(fault.value - warning.value) <= 2 * view.near for fault in spoken)
        if not spoken or not (near or warning.rule in {"no_joints", "stagger"}):
            text = f"it warns of {warning.rule} at {warning.value:g}; the pieces do not show that"
            yield Fault(
                rule="warning",
                where=warning.where,
                value=warning.value,
                limit=warning.limit,
                text=text,
            )


def _rows_named(warning: RuleWarning) -> set[int]:
    """Return the rows that a warning speaks of: "row 3", "rows 3 and 4", "piece 3-2"."""
    return {int(row) for row in re.findall(r"(?<![\d-])(\d{1,6})(?:-\d+)?", warning.where)}


def _avoidable(view: View, fault: Fault) -> bool:
    """Whether a short end or close joint could have been avoided, where that is plain to see.

    It is plain on a rectangle without holes, doorways or pieces down: if two starters keep every
    rule in turns, rows of those two do.
    """
    request = view.request
    bare = not (request.zone.holes or request.zone.no_joints or request.laid)
    if fault.rule not in {"min_end_piece", "min_joint_offset"} or not bare:
        return False
    if request.rules.stagger != "free":
        return False
    parts = polygons_of(view.region)
    left, low, right, high = view.region.bounds
    if len(parts) != 1 or parts[0].area < (right - left) * (high - low) - view.scrap:
        return False
    return _two_starters(view, right - left)


def _two_starters(view: View, across: float) -> bool:
    """Whether some two starters keep ends and offsets in a run of length ``across``."""
    rules, length = view.request.rules, view.request.product.board.length
    end, off, slack = rules.min_end_piece, rules.min_joint_offset, rules.wall_error
    if across + slack <= length:
        return True
    rest = across % length
    marks = {end, length, rest - end - slack, rest + length - end - slack, rest - slack}
    marks |= {mark + way * off for mark in tuple(marks) for way in (-2, -1, 1, 2)}
    marks |= {mark + slack for mark in tuple(marks)}
    starters = [s for s in sorted(marks) if end <= s <= length]
    rows = [joints for s in starters if (joints := _row_joints(s, across, length, end, slack))]
    return any(
        all(abs(a - b) >= off for a in first for b in second) for first in rows for second in rows
    )


def _row_joints(
    starter: float, across: float, length: float, end: float, slack: float
) -> list[float]:
    """Return the joints of a row begun with ``starter``; none where its last piece is wrong."""
    count = ceil((across - starter + slack) / length - COUNT_TOLERANCE)
    joints = [starter + i * length for i in range(count)]
    return joints if joints and across - joints[-1] - slack >= end else []


def _spoken_of(view: View) -> PlanRequest:
    """Return the request whose plans a bound speaks of: without balance where that gave way."""
    request = view.request
    if all(warning.rule != "balance" for warning in view.plan.warnings):
        return request
    return replace(request, rules=replace(request.rules, balance=False))


def _wrong_bound(view: View) -> Iterator[Fault]:
    """Yield a lower bound that is not proven, or a status that does not follow from it.

    A plan without a proof may claim what the floor's area alone proves.
    """
    totals, status = view.plan.totals, view.plan.status
    planks, bound = totals.planks, totals.lower_bound
    if bound > planks:
        text = f"the bound of {bound} planks lies above the plan's {planks}"
        yield Fault(rule="lower_bound", where="totals", value=bound, limit=planks, text=text)
    right = "proven" if planks == bound else "best_found"
    if status != right:
        text = f"the plan says {status}; with {planks} planks and a bound of {bound} it is {right}"
        yield Fault(rule="status", where="plan", value=planks, limit=bound, text=text)
    proof = view.plan.proof
    try:
        request = _spoken_of(view)
        proven = check(request, view.plan.direction_deg, proof) if proof else None
    except CertificateError as error:
        yield Fault(rule="proof", where="totals", value=bound, limit=0, text=str(error))
        return
    if proven is None:
        proven = area_bound(view.request)
    held, cartons = proof.get("cartons"), view.plan.totals.cartons
    if proof.get("kind") == "widths" and isinstance(held, int) and held < cartons:
        text = f"the proof speaks of {held} cartons or fewer, the plan takes {cartons}"
        yield Fault(rule="proof", where="totals", value=held, limit=cartons, text=text)
    if bound > proven:
        text = f"the plan says {bound} planks, its proof gives {proven}"
        yield Fault(rule="proof", where="totals", value=bound, limit=proven, text=text)
