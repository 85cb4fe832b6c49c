"""The story stick of a floor as a packet keeps it: its marks, where rows stop, what a slide does.

Pure.
"""

from __future__ import annotations

from jobs.domain.formats import Fields
from layout.cutsheet.stick import row_lines
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.units import length_words


def stick_content(request: PlanRequest, plan: Plan, place: int) -> Fields:
    """Return the story stick of a floor: ``lines`` has every row's far edge from the start wall."""

    def tape(length: float) -> str:
        return length_words(length, plan.unit, on_tape=True)

    return {
        "lines": [{"row": line.row, "far": tape(line.far)} for line in row_lines(request, plan)],
    }
