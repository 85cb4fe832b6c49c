"""How a stick is slid, by an example of the floor, and what the last row becomes at its wall. Pure.

The start wall out: the stick is slid.   The far wall out: the last row alone is wider or less.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jobs.domain.formats import Fields
from layout.cutsheet.stick import FromStart, RowStop, row_lines
from layout.cutsheet.strips.cuts import bare_words
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest

_OUT = {
    "in": (-0.5, -0.375, -0.25, -0.125, 0.125, 0.25, 0.375, 0.5),
    "mm": (-12.0, -9, -6, -3, 3, 6, 9, 12),
}
_STEP = {"in": "an eighth", "mm": "a millimeter"}


def slide_words(
    request: PlanRequest,
    plan: Plan,
    stops: Sequence[RowStop],
    by: float | None,
    becomes: Sequence[tuple[str, str, str]],
) -> Fields:
    """Return ``how`` the stick is slid, and the last row where the ``far`` wall is out.

    ``across``: start wall to far wall by plan. ``example``: what a slide does to this floor.
    ``by`` is the slide of the example, ``becomes`` what is left then: whose, how much, from where.
    """
    lines = row_lines(request, plan)
    if not lines:
        return {"how": [], "far": None, "across": "", "example": ""}
    return {
        "how": [*_how(plan.unit)],
        "far": _far(request, plan, stops),
        "across": bare_words(_across(request, plan), plan.unit),
        "example": _example(by, becomes, plan.unit),
    }


def _how(unit: str) -> Iterator[str]:
    """Yield how any stick of a job is slid; each floor has its own table and line."""
    small = "\N{VULGAR FRACTION ONE QUARTER}" if unit == "in" else "6 mm"
    yield (
        "Before row one tape from the start wall to the far wall, at both ends and at every"
        " doorway; by plan it is so much where it is widest, as each floor says."
    )
    yield (
        "Far wall nearer or further, stick not slid: the last row alone changes; the line under its"
        " table says to what."
    )
    yield (
        "Slide only where a row comes out too narrow, or a notch or what is left beside it under"
        f" {small}: find a column that says clean. No: a row too narrow or over a plank, or such a"
        " notch. Plus is away from the start wall; every row moves, at both ends of the stick."
    )
    yield (
        f"Between two columns: {_STEP[unit]} of slide is {_STEP[unit]} of width. Measure from the"
        " edge that is named. Once slid, these figures go before strips and notched planks."
    )


def _example(by: float | None, becomes: Sequence[tuple[str, str, str]], unit: str) -> str:
    """Return what a slide does to the rows of a floor; empty where none can be laid."""
    if by is None or not becomes:
        return ""
    way = "away from" if by > 0 else "toward"
    said = "; ".join(
        f"{whose} is {size}" if size == "whole" else f"{whose} keeps {size} from its {edge} edge"
        for whose, size, edge in becomes
    )
    figure = bare_words(abs(by), unit)
    return (
        f"slid {figure} {way} the start wall, every mark lies {figure}"
        f" {'further off it' if by > 0 else 'nearer to it'}; {said}."
    )


def _across(request: PlanRequest, plan: Plan) -> float:
    """Return how far the far wall stands from the start wall."""
    start = FromStart(request, plan)
    ring = to_frame(request.zone.outline, plan.direction_deg)
    return max(start.across(y) for _, y in ring)


def _far(request: PlanRequest, plan: Plan, stops: Sequence[RowStop]) -> Fields | None:
    """Return what the last row becomes where its wall is nearer or further; None if it is whole."""
    lines = row_lines(request, plan)
    last = next(
        (
            line
            for line in stops
            if lines and line.row == lines[-1].row and line.faces == "far" and not line.pieces
        ),
        None,
    )
    if last is None or last.stays[1] - last.stays[0] > request.rules.saw_kerf:
        return None
    unit, stays = plan.unit, last.stays[1]
    return {
        "who": f"row {last.row}",
        "plan": bare_words(stays, unit),
        "nearer": [_entry(stays, by, last.width, request) for by in _OUT[unit] if by < 0][::-1],
        "further": [_entry(stays, by, last.width, request) for by in _OUT[unit] if by > 0],
    }


def _entry(stays: float, by: float, width: float, request: PlanRequest) -> list[str]:
    """Return how far the wall is out, and what the row is ripped to."""
    left, unit = stays + by, request.unit
    near = request.rules.saw_kerf / 4
    if left > width + near:
        words = "no plank reaches: slide"
    elif left < request.rules.min_row_width - near:
        words = "too narrow: slide"
    else:
        words = "whole" if left >= width - near else bare_words(left, unit)
    return [bare_words(abs(by), unit), words]
