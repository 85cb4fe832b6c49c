"""What to give up for a floor without warnings, where rules had to break.

The simple form: for each broken rule the limit at which this very plan would keep it. Another plan
might do with less.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from layout.values.advice import Relaxation
from layout.values.plan import Plan, RuleWarning
from layout.values.request import PlanRequest

# Rules that are a length, whose limit may be lowered until a plan keeps it.
_LENGTHS = ("min_joint_offset", "min_end_piece", "min_row_width")
_WALL, _BALANCE = "wall_error", "balance"


def with_relaxations(request: PlanRequest, plan: Plan) -> Plan:
    """Return a plan with what to give up: every broken rule that is a length, and its new limit.

    Balance is asked for (1) or not (0). Of the others, such as a place where no joint may fall,
    nothing can be given up by degrees.
    """
    broken = {warning.rule for warning in plan.warnings}
    rules = [rule for rule in (*_LENGTHS, _WALL, _BALANCE) if rule in broken]
    relax = [_relaxation(request, rule, plan.warnings) for rule in rules]
    return replace(plan, relax=tuple(relax))


def _relaxation(request: PlanRequest, rule: str, warnings: Sequence[RuleWarning]) -> Relaxation:
    """Return what to give up of one broken rule."""
    spoken = [warning for warning in warnings if warning.rule == rule]
    clean = len(spoken) == len(warnings)
    if rule == _BALANCE:
        return Relaxation(rule=rule, limit=1, eased=0, clean=clean)
    if rule != _WALL:
        limit, eased = spoken[0].limit, min(warning.value for warning in spoken)
        return Relaxation(rule=rule, limit=limit, eased=eased, clean=clean)
    # What lacks of the room on a plank, or of a last piece's least size, a wall may not stand off.
    off, lacking = request.rules.wall_error, max(w.limit - w.value for w in spoken)
    return Relaxation(rule=rule, limit=off, eased=max(0.0, round(off - lacking, 4)), clean=clean)
