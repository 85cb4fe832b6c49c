"""What breaks a rule, placed on the drawing: a short word at a leader line in its row."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from layout.drawing.lettering import spots_around
from layout.drawing.paper import DrawingPaper
from layout.values.laid_pieces import LaidPiece
from layout.values.material import End, Side
from layout.values.outline import from_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest

# Short words for the rules that a shape can break; a warning about the whole floor has no place.
WARNING_WORDS: Mapping[str, str] = {
    "min_row_width": "narrow",
    "min_end_piece": "short end",
    "min_joint_offset": "close joints",
    "no_joints": "joint in doorway",
    "post": "split",
    "wall_error": "no drift",
    "widths": "same width",
}
_ROWS = re.compile(r"\d+")


def draw_warnings(
    paper: DrawingPaper, rows: Mapping[int, Sequence[LaidPiece]], request: PlanRequest, plan: Plan
) -> None:
    """Mark each row that a warning is about, each word once a row, at the end where rows end."""
    turn, way = plan.direction_deg, 90 if request.lay.start is Side.LOW else -90
    left = request.lay.first_end is End.LEFT
    written: set[tuple[int, str]] = set()
    for warning in plan.warnings:
        word = WARNING_WORDS.get(warning.rule)
        named = [int(number) for number in _ROWS.findall(warning.where)]
        row = next((number for number in named if number in rows), None)
        if word is None or row is None or (row, word) in written:
            continue
        written.add((row, word))
        last = rows[row][-1 if left else 0]
        inside = last.shape.representative_point()
        place = paper.at(from_frame([(inside.x, inside.y)], turn)[0])
        spots = list(spots_around(place, first=-(turn + way) - 45))
        if not paper.word(f"{word}, row {row}", spots, name="warning"):
            paper.dot(place)
