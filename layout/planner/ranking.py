"""What plans are compared by."""

from __future__ import annotations

from layout.values.plan import Plan, RuleWarning
from layout.values.request import PlanRequest
from layout.values.tolerances import WARNING_TOLERANCE

_ASIDES = frozenset({"variants", "widths"})  # warnings of looks: no rule of laying is broken
_BALANCE = "balance"  # the weakest rule: it gives way before any other is broken
_POST = "post"  # a board sawn through and glued
_JOINTS = frozenset({"min_joint_offset", "no_joints", "stagger", "post"})
_ENDS = frozenset({"min_end_piece", "wall_error"})
_WIDTHS = frozenset({"min_row_width"})

# What locks at all: end pieces as long, joints as far apart. Common practice, no source.
LOCKING_END = {"in": 3.0, "mm": 75.0}
LOCKING_OFFSET = {"in": 2.0, "mm": 50.0}


def rank_of(plan: Plan, request: PlanRequest) -> tuple[float, ...]:
    """Return what plans are compared by: rules, planks, looks, rack, crosscuts, rips.

    Rules give way in a stated order (``broken_rules``). Where widths are mixed the cartons come
    before the planks, and between them widths too often running and a last row that is ripped;
    where piles are counted, cartons are those to buy, then planks are missing as few as can be.
    Like pieces that touch are counted when all else stands.
    """
    totals = plan.totals
    asides = {warning.rule: warning.value for warning in plan.warnings if warning.rule in _ASIDES}
    looks = totals.look.h_joints + totals.look.staircases
    cuts = (totals.crosscuts, totals.rips)
    mixed = len(request.product.boards) > 1
    widths = (*_bought(plan, request), asides.get("widths", 0), _last_ripped(plan)) if mixed else ()
    return (*broken_rules(plan), *widths, totals.planks, looks, totals.rack_max, *cuts)


def broken_rules(plan: Plan) -> tuple[float, ...]:
    """Return how badly a plan breaks its rules, by the order in which they give way: least first.

    What a floor needs to lock; joints, end pieces, widths, each by the worst place and then by how
    many; how often balance, the weakest rule, gave way.
    """
    rules = [warning for warning in plan.warnings if warning.rule not in _ASIDES]
    lost = sum(_unlocked(warning, plan.unit) for warning in rules)
    breaches: list[float] = []
    for names in (_JOINTS, _ENDS, _WIDTHS):
        lacking = [_lacking(warning) for warning in rules if warning.rule in names]
        breaches += [round(max(lacking, default=0.0), 2), len(lacking)]
    return (lost, *breaches, sum(warning.rule == _BALANCE for warning in rules))


def _lacking(warning: RuleWarning) -> float:
    """Return the share of a rule that is not kept; of one without a measure, all of it."""
    return (warning.limit - warning.value) / warning.limit if warning.limit > 0 else 1.0


def _unlocked(warning: RuleWarning, unit: str) -> bool:
    """Whether what a warning tells of is less than a floor needs to lock."""
    if warning.rule == _POST:
        return True
    least = {"min_joint_offset": LOCKING_OFFSET, "min_end_piece": LOCKING_END}.get(warning.rule)
    return least is not None and warning.value < least[unit] - WARNING_TOLERANCE


def cartons_of(plan: Plan, request: PlanRequest) -> int:
    """Return the cartons that a plan takes; where piles are counted, those to buy beside them."""
    return plan.totals.shortage_cartons if request.sizes[0].counted else plan.totals.cartons


def _bought(plan: Plan, request: PlanRequest) -> tuple[int, int]:
    """Return the cartons that a plan takes, and how many planks are in no pile."""
    return cartons_of(plan, request), sum(pile.planks for pile in plan.totals.short_piles)


def _last_ripped(plan: Plan) -> bool:
    """Whether every piece of the last row is ripped."""
    last = max(piece.row for piece in plan.pieces)
    kinds = [{cut.kind for cut in piece.cuts} for piece in plan.pieces if piece.row == last]
    return all("rip" in cuts for cuts in kinds)
