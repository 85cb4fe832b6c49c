"""Last pieces that no longer hold when a wall stands off."""

from __future__ import annotations

from layout.judge.check import check_plan
from tests.layout.three_rows import plan, request


def test_drift_of_a_wall_breaks_a_leftover_cut_to_the_last_eighth() -> None:
    faults = check_plan(request(rules={"wall_error": 0.25}), plan())
    drifted = {(fault.rule, fault.where) for fault in faults}
    assert ("wall_error", "piece 1-3") in drifted
    assert ("wall_error", "piece 2-3") not in drifted


def test_drift_breaks_a_full_last_row() -> None:
    faults = check_plan(request(rules={"wall_error": 0.25}), plan())
    assert "piece 3-2" in {fault.where for fault in faults if fault.rule == "wall_error"}
