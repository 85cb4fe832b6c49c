"""What plans are compared by."""

from __future__ import annotations

from layout.values.plan import Plan
from layout.values.request import PlanRequest

_ASIDES = frozenset({"variants", "widths"})  # warnings of looks: no rule of laying is broken
_BALANCE = "balance"  # the weakest rule: it gives way before any other is broken


def rank_of(plan: Plan, request: PlanRequest) -> tuple[float, ...]:
    """Return what plans are compared by: rules, planks, looks, rack, crosscuts, rips.

    Balance is the last of the rules. Where widths are mixed the cartons come before the planks,
    and between them widths too often running and a last row that is ripped; where piles are
    counted, cartons are those to buy, then planks are missing as few as can be. Like pieces that
    touch are counted when all else stands.
    """
    totals = plan.totals
    asides = {warning.rule: warning.value for warning in plan.warnings if warning.rule in _ASIDES}
    looks = totals.look.h_joints + totals.look.staircases
    cuts = (totals.crosscuts, totals.rips)
    mixed = len(request.product.boards) > 1
    widths = (*_bought(plan, request), asides.get("widths", 0), _last_ripped(plan)) if mixed else ()
    return (*broken_rules(plan), *widths, totals.planks, looks, totals.rack_max, *cuts)


def broken_rules(plan: Plan) -> tuple[int, int]:
    """Return how many rules a plan breaks, and how often the weakest of them gave way."""
    rules = [warning.rule for warning in plan.warnings if warning.rule not in _ASIDES]
    uneven = rules.count(_BALANCE)
    return len(rules) - uneven, uneven


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
