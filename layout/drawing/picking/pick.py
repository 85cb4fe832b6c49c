"""A floor as its homeowner picks a plank of it: every plank leads to a page of its own.

The picture is the homeowner's. The plank that is picked is filled, those that are lifted to get at
it are hatched, so that they are told apart in black and white too.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from layout.drawing.boards import row_pitch
from layout.drawing.homeowner import ShownRoom, draw_homeowners_lines, homeowners_paper
from layout.drawing.paper import DrawingPaper
from layout.values.laid_pieces import LaidPiece, in_rows, laid_pieces
from layout.values.material import End
from layout.values.outline import Ring, from_frame
from layout.values.plan import Plan
from layout.values.request import PlanRequest

_HATCH = 9.0
_NUMBER = 34.0  # 12 px where the sheet is 358 px wide
_STEPS = (1, 2, 5, 10, 20)
_WORDS = "Every plank leads to how far the floor is lifted for it."


def draw_to_pick(
    request: PlanRequest,
    plan: Plan,
    rooms: Sequence[ShownRoom],
    *,
    title: str,
    ident: str,
    addresses: Mapping[str, str],
    picked: str = "",
    lifted: Collection[str] = (),
) -> str:
    """Return a plan as SVG in which every piece is a link to its address, by its id.

    ``lifted`` are the ids of the pieces that come out before the one that is ``picked``.
    """
    paper = homeowners_paper(request, plan, ident=ident)
    pieces, turn = laid_pieces(plan, request.laid), plan.direction_deg
    out = _rings(plan, lifted)
    if out:
        fill = paper.hatch("lifted", _HATCH, turn=turn)
        paper.lines(out, name="lifted", weight=0, closed=True, fill=fill)
    paper.lines(_rings(plan, (picked,)), name="picked", weight=0, closed=True, fill="currentColor")
    draw_homeowners_lines(paper, request, plan, rooms)
    _draw_numbers(paper, pieces, turn, from_left=request.lay.first_end is End.LEFT)
    paper.links(
        [
            (addresses[one.piece.id], f"Row {one.row}, plank {one.piece.place}", one.piece.outline)
            for one in pieces
        ]
    )
    return paper.svg(title, _WORDS, role="group")


def _draw_numbers(
    paper: DrawingPaper, pieces: Sequence[LaidPiece], turn: float, *, from_left: bool
) -> None:
    """Write the numbers of the rows where their planks are counted from, as many as fit."""
    pitch = row_pitch(paper, pieces) or _NUMBER
    step = next((step for step in _STEPS if step * pitch >= _NUMBER), _STEPS[-1])
    rows = in_rows(pieces)
    for number, row in rows.items():
        if number != min(rows) and number % step:
            continue
        x0, y0, x1, y1 = (row[0] if from_left else row[-1]).bounds
        inside = min(_NUMBER / paper.scale, (x1 - x0) / 2)
        at = (x0 + inside if from_left else x1 - inside, (y0 + y1) / 2)
        place = paper.at(from_frame([at], turn)[0])
        paper.letter(place, str(number), size=_NUMBER, name="row-number", backed=True)


def _rings(plan: Plan, names: Collection[str]) -> list[Ring]:
    return [piece.outline for piece in plan.pieces if piece.id in names]
