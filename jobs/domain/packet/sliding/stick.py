"""How a stick is slid, by an example of the floor, and what the last row becomes at its wall. Pure.

The start wall out: row 1 alone changes.   The far wall out: the last row alone is wider or less.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jobs.domain.formats import Fields
from layout.cutsheet.stick import FromStart, RowStop, row_lines
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.narrow import NarrowRow
from layout.cutsheet.strips.walls import tape_down
from layout.values.outline import to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE

_OUT = {
    "in": (-0.5, -0.375, -0.25, -0.125, 0.125, 0.25, 0.375, 0.5),
    "mm": (-12.0, -9, -6, -3, 3, 6, 9, 12),
}
_NOT_SLID = "whole, stick not slid"
_STEP = {"in": "an eighth", "mm": "a millimeter"}


def slide_words(
    request: PlanRequest,
    plan: Plan,
    stops: Sequence[RowStop],
    by: float | None,
    becomes: Sequence[tuple[str, str, str]],
    narrow: NarrowRow | None = None,
) -> Fields:
    """Return ``how`` the stick is slid, the last row where the ``far`` wall is out, and row 1.

    ``near`` is row 1 where the start wall is out and the stick lies as planned to all else.
    ``across``: start wall to far wall by plan, ``along``: from end to end of the rows.
    ``example``: what a slide does to this floor.
    ``narrow``: what of the last row comes from leftovers.
    ``by`` is the slide of the example, ``becomes`` what is left then: whose, how much, from where.
    """
    lines = row_lines(request, plan)
    if not lines:
        return {"how": [], "far": None, "near": None, "across": "", "along": "", "example": ""}
    return {
        "how": [*_how(plan.unit)],
        "far": _far(request, plan, stops, narrow),
        "near": _near(request, plan, stops),
        "across": bare_words(_across(request, plan), plan.unit),
        "along": bare_words(_along(request, plan), plan.unit),
        "example": _example(by, becomes, plan.unit),
    }


def _how(unit: str) -> Iterator[str]:
    """Yield how any stick of a job is slid; each floor has its own table and line."""
    small = "\N{VULGAR FRACTION ONE QUARTER}" if unit == "in" else "6 mm"
    yield (
        "Before row one tape from the start wall to the far wall, by the line under row 1. Within"
        " its limits leave the stick: last row and boxes take what is out. Each floor says below"
        " what it is by plan, where it is widest and longest. Longer or shorter along: so are all"
        " boxes at the ends of rows. Where that passes a limit, cut the row's first piece as its"
        " box says before you lay it."
    )
    yield (
        "A doorway in the start or far wall: tape from its jamb to both; the figure that is not the"
        " plan's tells which is out. Far wall: the last row alone changes. Start wall: slide the"
        " stick by as much the other way, so that all its marks lie to doorways and far wall as"
        " planned; row 1 alone changes, less by what the wall stands into the room, more by what it"
        " stands back. Is row 1 whole and its wall back: leave the stick; the last row is wider by"
        " it."
    )
    yield (
        "Else slide, walls as planned, only where a row comes out too narrow, or a notch or what is"
        f" left beside it under {small}: find a column that says clean. No: a row too narrow or"
        " over a plank, or such a notch. Plus is away from the start wall; every row moves, at both"
        " ends of the stick."
    )
    yield (
        f"Between two columns: {_STEP[unit]} of slide is {_STEP[unit]} of width. Measure from the"
        " edge that is named. Slid as 3 says, the columns go before strips, notched planks and the"
        " stick's figures on the day pages; as 2 says, only row 1's own line does."
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


def _along(request: PlanRequest, plan: Plan) -> float:
    """Return how far it is along the rows where the floor is longest."""
    xs = [x for x, _ in to_frame(request.zone.outline, plan.direction_deg)]
    return max(xs) - min(xs)


def _far(
    request: PlanRequest, plan: Plan, stops: Sequence[RowStop], narrow: NarrowRow | None
) -> Fields | None:
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
    entries = [(by, _entry(stays, by, last.width, request)) for by in _OUT[unit]]
    return {
        "who": f"row {last.row}",
        "plan": bare_words(stays, unit),
        "nearer": [entry for by, entry in entries if by < 0][::-1],
        "further": [entry for by, entry in entries if by > 0],
        "new": _new_planks(narrow, stays, unit),
    }


def _new_planks(narrow: NarrowRow | None, stays: float, unit: str) -> Fields | None:
    """Return what is cut from new planks where the last row is wider than its leftovers allow.

    ``left`` are the spares then, less than none where they do not reach; None where no figure of
    the table is so wide.
    """
    if narrow is None:
        return None
    most = max(stays, tape_down(narrow.most, unit))
    if stays + max(_OUT[unit]) <= most + LENGTH_TOLERANCE[unit]:
        return None
    need = len(narrow.pieces)
    return {
        "over": bare_words(most, unit),
        "names": narrow.names,
        "need": need,
        "left": narrow.spares - need,
    }


def _near(request: PlanRequest, plan: Plan, stops: Sequence[RowStop]) -> Fields | None:
    """Return what row 1 becomes where its wall stands further in or back; None if it is shaped."""
    lines = row_lines(request, plan)
    first = next(
        (
            line
            for line in stops
            if line.row == lines[0].row and line.faces == "near" and not line.pieces
        ),
        None,
    )
    if first is None or first.slides != 1 or first.stays[1] - first.stays[0] > _even(request):
        return None
    unit, stays, width = plan.unit, first.stays[1], first.width
    entries = [(by, _first_row(stays + by, width, request)) for by in _OUT[unit]]
    return {
        "who": f"row {first.row}",
        "plan": "whole" if stays >= width - _even(request) else bare_words(stays, unit),
        "inward": _together([(bare_words(-by, unit), w) for by, w in entries if by < 0][::-1]),
        "back": _together([(bare_words(by, unit), words) for by, words in entries if by > 0]),
    }


def _together(entries: Sequence[tuple[str, str]]) -> list[list[str]]:
    """Return entries, as one without a figure where all say the same."""
    said = {words for _, words in entries}
    return [["", said.pop()]] if len(said) == 1 else [[by, words] for by, words in entries]


def _first_row(left: float, width: float, request: PlanRequest) -> str:
    """Return what row 1 is ripped to."""
    near = request.rules.saw_kerf / 4
    if left > width + near:
        return _NOT_SLID
    if left < request.rules.min_row_width - near:
        return "too narrow: the table"
    return "whole" if left >= width - near else bare_words(left, request.unit)


def _even(request: PlanRequest) -> float:
    """Return by how much a row's width may differ along it, so that one figure tells it."""
    return max(request.rules.saw_kerf, LENGTH_TOLERANCE[request.unit])


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
