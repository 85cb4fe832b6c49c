"""The cut sheet of a floor's current plan, worked through row by row."""

from __future__ import annotations

from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Job
from jobs.readers.current_plan.floors import CurrentFloor, current_floors
from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.sheet import cut_sheet


def floors_by_name(job: Job) -> dict[str, CurrentFloor]:
    """Return the floors of a job by name; none where a plan is gone or the scope can't be read.

    For pages that show what they can: the packet's own page says what is wrong.
    """
    try:
        return {floor.name: floor for floor in current_floors(job)}
    except (BadValueError, BrokenDocumentError):
        return {}


def rows_of(floor: CurrentFloor) -> RowsOfSheet | None:
    """Return the rows of a floor with their cuts; None where its plan is one of older rules.

    None too where the plan can't be read any more: the page that opens it says why.
    """
    if floor.of_older_rules:
        return None
    try:
        stored = floor.stored()
    except (BadValueError, BrokenDocumentError):
        return None
    sheet = cut_sheet(stored.request, stored.plan)
    return RowsOfSheet(stored.request, stored.plan, sheet)
