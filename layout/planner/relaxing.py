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
_END = "min_end_piece"
_LENGTHS = ("min_joint_offset", _END, "min_row_width")
_WALL, _BALANCE = "wall_error", "balance"


def with_relaxations(request: PlanRequest, plan: Plan) -> Plan:
    """Return a plan with what to give up: every broken rule that is a length, and its new limit.

    Balance is asked for (1) or not (0). Of the others, such as a place where no joint may fall,
    nothing can be given up by degrees. Where end pieces give way, a last piece that a wall may
    make too short counts with them.
    """
    spoken: dict[str, list[RuleWarning]] = {rule: [] for rule in (*_LENGTHS, _WALL, _BALANCE)}
    ends_give = any(warning.rule == _END for warning in plan.warnings)
    for warning in plan.warnings:
        with_ends = ends_give and _of_ends(request, warning)
        spoken.setdefault(_END if with_ends else warning.rule, []).append(warning)
    relax = tuple(
        _relaxation(request, rule, spoken[rule], len(plan.warnings))
        for rule in (*_LENGTHS, _WALL, _BALANCE)
        if spoken[rule]
    )
    return replace(plan, relax=relax)


def _of_ends(request: PlanRequest, warning: RuleWarning) -> bool:
    """Whether a wall that stands off makes an end piece too short, by a warning."""
    rules = request.rules
    return warning.rule == _WALL and warning.limit == rules.min_end_piece != rules.wall_error


def _relaxation(
    request: PlanRequest, rule: str, spoken: Sequence[RuleWarning], of: int
) -> Relaxation:
    """Return what to give up of one broken rule, for its warnings ``of`` so many."""
    clean = len(spoken) == of
    if rule == _BALANCE:
        return Relaxation(rule=rule, limit=1, eased=0, clean=clean)
    if rule != _WALL:
        limit, eased = spoken[0].limit, min(warning.value for warning in spoken)
        return Relaxation(rule=rule, limit=limit, eased=max(0.0, eased), clean=clean)
    # What lacks of the room on a plank, or of a last piece's least size, a wall may not stand off.
    off, lacking = request.rules.wall_error, max(w.limit - w.value for w in spoken)
    return Relaxation(rule=rule, limit=off, eased=max(0.0, round(off - lacking, 4)), clean=clean)
