"""The story stick of a floor as a packet keeps it: its marks, where rows stop, what a slide does.

Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jobs.domain.formats import Fields
from jobs.domain.packet.sliding.stick import slide_words
from layout.cutsheet.placings import Placing, StorySticks, story_sticks
from layout.cutsheet.stick import (
    FromStart,
    RowEdges,
    RowStop,
    row_lines,
    stopping_lines,
)
from layout.cutsheet.strips.narrow import narrow_row
from layout.cutsheet.strips.rows import spares_of
from layout.drawing.stick import StickFace, StickNote, draw_stick
from layout.values.laid_pieces import laid_pieces
from layout.values.outline import EdgeKind, edges_of, to_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import LENGTH_TOLERANCE
from layout.values.units import INCH, length_words

MINUS = "\N{MINUS SIGN}"
_SLIDES = {"in": (-1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0), "mm": (-20.0, -10, -5, 0, 5, 10, 20)}
_LEAST = 0.25  # inches of a notch or of a sliver beside it that can be cut; common practice
_NAMED = 12
_CALLED = 16  # letters of a floor's name where the stick is carried on
_TOGETHER = 0.06  # inches of paper: notes so near to the end of the stick stand in one
_BY_HAND = frozenset({"angle", "hole"})


def bare(length: float, unit: str) -> str:
    """Return a figure as it stands on a stick: its unit is told once, at the head."""
    return length_words(length, unit, on_tape=True).removesuffix('"').removesuffix(" mm")


def stick_content(
    request: PlanRequest,
    plan: Plan,
    place: int,
    name: str = "",
    *,
    sheet: CutSheet | None = None,
) -> Fields:
    """Return the story stick of a floor; its cut ``sheet`` tells what the last row comes from.

    ``name`` of the floor stands where the stick is carried on, which may be on another sheet.
    ``lines`` has every row's far edge from the start wall, ``placings`` the stick as often as it is
    laid down, ``slide`` what each stopping line becomes where it is slid.
    """
    lines, stops = row_lines(request, plan), stopping_lines(request, plan)
    sticks = story_sticks(lines, plan.unit)
    narrow = None
    if sheet is not None and lines:
        narrow = narrow_row(request, plan, sheet, lines[-1].row, spares_of(request, plan))
    return {
        "lines": [
            {"row": line.row, "far": length_words(line.far, plan.unit, on_tape=True)}
            for line in lines
        ],
        "scale": f"1:{sticks.scale}",
        "unit": "inches" if plan.unit == "in" else "mm",
        "make": _make(sticks, plan.unit),
        "placings": [
            {
                "marks": _marks_of_face(sticks, placing, plan.unit),
                "drawing": _drawn(
                    sticks, placing, lines, stops, plan.unit, place, name=name[:_CALLED]
                ),
            }
            for placing in sticks.placings
        ],
        "slide": {
            **_slide(request, plan, stops),
            **slide_words(request, plan, stops, *_slid(request, plan, stops), narrow=narrow),
        },
        "strips": list(_strips(request, plan)),
        "by_hand": _by_hand(plan),
        "scribe": _scribe(request, plan),
    }


def _by_hand(plan: Plan) -> str:
    """Return the pieces that no figure of the stick tells, the first twelve by name."""
    names = [piece.id for piece in plan.pieces if any(cut.kind in _BY_HAND for cut in piece.cuts)]
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return f"{', '.join(names[:_NAMED])}{more}"


def _make(sticks: StorySticks, unit: str) -> str:
    """Return how the stick is made."""
    long = f"{sticks.length / 12:.3g} ft" if unit == "in" else f"{sticks.length / 1000:.2f} m"
    batten = f"Straight batten, {long}."
    if len(sticks.placings) == 1:
        last = length_words(sticks.placings[0].marks[-1][1], unit, on_tape=True)
        batten = f"Straight batten, cut off at {last}."
    if not sticks.placings:
        return batten
    marks = sticks.placings[0].marks
    first = length_words(marks[0][1], unit, on_tape=True)
    if sticks.pitch is None:
        return f"{batten} Mark its first face from the end as drawn; rows are not alike in width."
    if len(marks) == 1:
        return f"{batten} One mark, {first} from the end."
    every = length_words(sticks.pitch, unit, on_tape=True)
    return f"{batten} First mark {first} from the end, then every {every}."


def _carry(sticks: StorySticks, placing: Placing, lines: Sequence[RowEdges], unit: str) -> str:
    """Return how the stick is carried on to a placing; empty for the first one."""
    if placing.base is None:
        return ""
    row = placing.marks[0][0]
    if sticks.pitch is None:
        end = "lay the end of the stick on the far edge of row"
        return f"Carry on with a new face: {end} {placing.base}."
    far = next(line.far for line in lines if line.row == placing.base)
    return (
        f"Carry on, row {placing.base} taped at {bare(far, unit)} from zero: lay the first mark on"
        f" the far edge of row {placing.base}; the next mark is"
        f" row {row}."
    )


def _marks_of_face(sticks: StorySticks, placing: Placing, unit: str) -> str:
    """Return the marks of a face of its own from the end of the stick; empty where it has none."""
    if sticks.pitch is not None or placing.base is None:
        return ""
    listed = ", ".join(f"row {row} {bare(at, unit)}" for row, at in placing.marks)
    return f"From the end: {listed}."


def _drawn(
    sticks: StorySticks,
    placing: Placing,
    lines: Sequence[RowEdges],
    stops: Sequence[RowStop],
    unit: str,
    place: int,
    *,
    name: str,
) -> str:
    """Return the drawing of a placing: its rows and the stopping lines between their edges."""
    far = {line.row: line.far for line in lines}
    base = far[placing.base] if placing.base is not None else 0.0
    zero, near = base - placing.rests, LENGTH_TOLERANCE[unit]
    last = far[placing.marks[-1][0]]
    inside = [s for s in stops if base - near <= s.at <= last + near]
    if placing.base is not None:
        inside = [s for s in inside if s.row > placing.base]
    notes = [StickNote(at=s.at, text=f"{who(s)}: {stays(s, unit)}") for s in inside]
    if placing.base is None:
        close = _TOGETHER * INCH[unit] * sticks.scale
        there = [note.text for note in notes if abs(note.at) <= close]
        notes = [note for note in notes if abs(note.at) > close]
        notes.insert(0, StickNote(at=0.0, text=", ".join(["start wall", *there])))
    carry = _carry(sticks, placing, lines, unit)
    face = StickFace(
        placing=placing,
        zero=zero,
        figures={row: bare(at, unit) for row, at in far.items()},
        notes=tuple(notes),
        carry=f"{name}. {carry}" if name and carry else carry,
    )
    return draw_stick(sticks, face, unit=unit, title=f"Story stick {place}")


def who(line: RowStop) -> str:
    """Return whose line it is: a row, or pieces by name."""
    if not line.pieces:
        return f"row {line.row}"
    if len(line.pieces) > 3:
        return f"{line.pieces[0]} to {line.pieces[-1]}"
    return ", ".join(line.pieces)


def stays(line: RowStop, unit: str) -> str:
    """Return how much of the width stays at a line."""
    if line.stays[0] >= line.width - LENGTH_TOLERANCE[unit]:
        return "whole"
    return f"{_range(line.stays, unit)} stays"


def _range(values: tuple[float, float], unit: str) -> str:
    least, most = (bare(value, unit) for value in values)
    return least if least == most else f"{least} to {most}"


def _slide(request: PlanRequest, plan: Plan, stops: Sequence[RowStop]) -> Fields:
    """Return the table of slides: each stopping line in each of them, and whether all is clean."""
    moved = [line for line in stops if line.slides]
    slides = _SLIDES[plan.unit]
    cells = [[_becomes(request, line, by, plan.unit) for by in slides] for line in moved]
    clean = [all(row[i][1] for row in cells) for i in range(len(slides))]
    return {
        "by": [_signed(by, plan.unit) for by in slides],
        "lines": [
            {
                "who": who(line),
                "cut": "rip" if line.ripped else "notch",
                "from": _measured_from(request, line),
                "values": [text for text, _ in row],
            }
            for line, row in zip(moved, cells, strict=True)
        ],
        "clean": [
            "plan" if by == 0 else "clean" if fine else "no"
            for by, fine in zip(slides, clean, strict=True)
        ],
        "least": length_words(request.rules.min_row_width, plan.unit, on_tape=True),
        "fixed": [
            f"{who(line)}: {stays(line, plan.unit)} between two walls, whatever the slide."
            for line in stops
            if not line.slides
        ],
    }


def _slid(
    request: PlanRequest, plan: Plan, stops: Sequence[RowStop]
) -> tuple[float | None, list[tuple[str, str, str]]]:
    """Return the least slide that can be laid, None where there is none, and what rows become."""
    moved = [line for line in stops if line.slides]
    for by in sorted(_SLIDES[plan.unit], key=abs):
        cells = [_becomes(request, line, by, plan.unit) for line in moved]
        if by and moved and all(fine for _, fine in cells):
            words = [
                (who(line), text, _measured_from(request, line))
                for line, (text, _) in zip(moved, cells, strict=True)
            ]
            return by, words
    return None, []


def _signed(by: float, unit: str) -> str:
    """Return a slide: plus is away from the start wall."""
    return f"{'+' if by > 0 else MINUS} {bare(abs(by), unit)}" if by else "plan"


def _measured_from(request: PlanRequest, line: RowStop) -> str:
    """Return the edge that stays, as the person who lays sees it."""
    backward = request.lay.backward(line.row)
    return "far" if (line.faces == "near") != backward else "near"


def _becomes(request: PlanRequest, line: RowStop, by: float, unit: str) -> tuple[str, bool]:
    """Return what stays at a line after a slide, and whether that can be laid cleanly."""
    least, most = line.slid(by)
    near, small = LENGTH_TOLERANCE[unit], _LEAST * INCH[unit]
    if least >= line.width - near:
        over = most - line.width
        if over <= near:
            return "whole", True
        if line.ripped:
            return f"whole, {bare(over, unit)} more", False
        return f"whole, next row less {bare(over, unit)}", False
    if most <= near:
        return "none", False
    floor = request.rules.min_row_width if line.ripped else small
    fine = least >= floor - near and (line.ripped or line.width - most >= small - near)
    return _range((max(least, 0.0), most), unit), by == 0 or fine


def _strips(request: PlanRequest, plan: Plan) -> Iterator[str]:
    """Yield where rows end at a strip that lies across them: no slide moves it."""
    start, near = FromStart(request, plan), LENGTH_TOLERANCE[plan.unit]
    laid = laid_pieces(plan, request.laid)
    for number, (a, b) in enumerate(edges_of(to_frame(request.zone.outline, plan.direction_deg))):
        edge = request.zone.edges.get(number)
        if edge is None or edge.kind is not EdgeKind.TRANSITION or abs(b[1] - a[1]) <= near:
            continue
        gap = request.rules.expansion_gap if edge.gap is None else edge.gap
        reach = max(gap, edge.max_gap or 0.0) + 4 * near
        low, high = sorted((start.across(a[1]), start.across(b[1])))
        rows = [
            piece.row
            for piece in laid
            if min(high, start.span(piece)[1]) - max(low, start.span(piece)[0]) > near
            and min(abs(x - a[0]) for x in (piece.bounds[0], piece.bounds[2])) <= reach
        ]
        if rows:
            one = f"Row {min(rows)} ends"
            many = f"Rows {min(rows)} to {max(rows)} end"
            said = one if min(rows) == max(rows) else many
            yield f"{said} at a transition; a slide does not move it."


def _scribe(request: PlanRequest, plan: Plan) -> list[str]:
    """Return how far walls that are not straight stand off from the line the stick lies on."""
    unit = plan.unit
    lines = []
    for number, marks in enumerate(plan.row_marks):
        if marks.scribe:
            listed = ", ".join(
                f"{bare(off, unit)} at {bare(along, unit)}" for along, off in marks.scribe
            )
            name = "The start wall" if number == 0 else f"The wall at {bare(marks.marks[0], unit)}"
            lines.append(f"{name} is not straight: it stands off {listed} along.")
    return lines
