"""How wide a last row may be ripped where its pieces come from leftovers narrower than a plank.

row 8  | 2 1/2 stays |kerf| 4 3/8 left |     7 wide, 1/8 of kerf along
row 40                    | 4 of these |     to 4 1/4: the saw takes 1/8 where it is ripped again
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shapely.geometry import Polygon, box

from layout.cutsheet.in_hand import PartCut, parts_cut
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.plan import Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet
from layout.values.tolerances import LENGTH_TOLERANCE

_RUN = 3  # so many numbers in a row are told as "from to"


@dataclass(frozen=True, slots=True, kw_only=True)
class NarrowRow:
    """The pieces of a row whose leftovers are narrower than a plank.

    ``most``: how wide the narrowest of them may be ripped; ``spares``: whole planks of that width
    that are left over.
    """

    pieces: tuple[str, ...]
    most: float
    spares: int

    @property
    def enough(self) -> bool:
        """Whether each of its pieces may come from a new plank."""
        return self.spares >= len(self.pieces)

    @property
    def names(self) -> str:
        """Its pieces in words: 40-1 to 40-3."""
        return names_words(self.pieces)


def narrow_row(
    request: PlanRequest, plan: Plan, sheet: CutSheet, row: int, spares: Mapping[float, int]
) -> NarrowRow | None:
    """Return the pieces of a row that can't be ripped as wide as a plank; None where all can."""
    near = LENGTH_TOLERANCE[plan.unit]
    pieces = {
        one.piece.id: one
        for one in laid_pieces(plan, request.laid)
        if one.row == row and not one.before
    }
    rooms = {name: _high(piece) for name, piece in pieces.items()}
    rooms |= dict(_ripped(request, sheet, pieces))
    narrow = {n: most for n, most in rooms.items() if most < pieces[n].piece.size[1] - near}
    if not narrow:
        return None
    width = max(pieces[name].piece.size[1] for name in narrow)
    names = sorted(narrow, key=_number)
    return NarrowRow(pieces=tuple(names), most=min(narrow.values()), spares=spares.get(width, 0))


def names_words(names: tuple[str, ...]) -> str:
    """Return names of pieces in words, three in a row or more by the first and the last."""
    runs: list[list[str]] = []
    for name in names:
        if runs and _number(name) == _number(runs[-1][-1]) + 1:
            runs[-1].append(name)
        else:
            runs.append([name])
    parts: list[str] = []
    for run in runs:
        parts += [f"{run[0]} to {run[-1]}"] if len(run) >= _RUN else run
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def _number(name: str) -> int:
    return int(name.rpartition("-")[2])


def _high(piece: LaidPiece) -> float:
    """Return how far a piece reaches across its plank."""
    _, low, _, high = piece.in_plank.bounds
    return float(high - low)


def _ripped(
    request: PlanRequest, sheet: CutSheet, pieces: Mapping[str, LaidPiece]
) -> Iterator[tuple[str, float]]:
    """Yield how wide each piece that is ripped may come out."""
    for plank in sheet.planks:
        if not any(cut.then.in_hand in pieces for cut in plank.cuts):
            continue
        came: dict[str, Polygon] = {}
        for made in parts_cut(plank, request):
            name = made.cut.then.in_hand
            part = came.setdefault(name, made.part)
            if name in pieces and made.cut.kind == "rip":
                yield name, _room(made, part, pieces[name], request)


def _room(made: PartCut, part: Polygon, piece: LaidPiece, request: PlanRequest) -> float:
    """Return how wide a piece may be ripped from the part that it is cut from.

    As planned where what goes becomes a piece too; all of a whole plank, which needs no rip then.
    """
    stays, width, near = _high(piece), piece.piece.size[1], LENGTH_TOLERANCE[request.unit]
    if made.cut.then.aside:
        return stays
    left, low, right, high = piece.in_plank.bounds
    up = made.cut.goes == "high"
    lane = box(left, low, right, width) if up else box(left, 0.0, right, high)
    lacks = lane.difference(part.buffer(near))
    if lacks.is_empty:
        return float(lane.bounds[3] - lane.bounds[1])
    reach = lacks.bounds[1] - low if up else high - lacks.bounds[3]
    return max(stays, float(reach) - near - request.rules.kerf_across)
