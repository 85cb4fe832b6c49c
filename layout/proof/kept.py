"""Which plans a bound speaks of where rules had to break: those that break no more.

asked for   end pieces of 12, joints 8 apart
broken by   an end piece of 9.5
bound       of plans with end pieces of 9.5 and longer, joints 8 apart
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from layout.values.plan import RuleWarning
from layout.values.request import PlanRequest
from layout.values.tolerances import WARNING_TOLERANCE

_BALANCE = "balance"


def kept_by(request: PlanRequest, warnings: Sequence[RuleWarning]) -> PlanRequest:
    """Return a request with the rules that a plan with such warnings keeps.

    Ends and offsets as the worst place has them, balance whole or not at all.
    """
    rules = request.rules
    end = _least(warnings, "min_end_piece", rules.min_end_piece)
    offset = _least(warnings, "min_joint_offset", rules.min_joint_offset)
    balance = rules.balance and all(warning.rule != _BALANCE for warning in warnings)
    kept = replace(rules, min_end_piece=end, min_joint_offset=offset, balance=balance)
    return replace(request, rules=kept)


def _least(warnings: Sequence[RuleWarning], rule: str, limit: float) -> float:
    """Return what is kept of a limit."""
    broken = [warning.value - WARNING_TOLERANCE for warning in warnings if warning.rule == rule]
    return max(0.0, min([limit, *broken]))
