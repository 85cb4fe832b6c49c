"""The other figure of a notch: taped from the row before to the jamb or wall across the row.

row 5 |=====================   far edge of row 5 to the jamb 4 1/2, less 1/4: stays 4 1/4
row 6 | whole | whole | 6-6 +-+  of 6-6, from its near edge

A notch in the near edge is taped back from where the far edge will lie, which the story stick's
mark tells before the row is there: mark 2 to the jamb 4 1/2, less 1/4: stays 4 1/4 from the far
edge. So the sum is always what the tape shows, less the gap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.values import WallPiece
from layout.cutsheet.strips.walls import StopsOfFloor, WallMet
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import to_frame
from layout.values.request import PlanRequest
from layout.values.units import TAPE_STEP

START = "start wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Datum:
    """What is there to tape from before a piece lies: its name, how far off the near edge it is."""

    name: str
    gap: float


class AcrossRow:
    """The jambs and walls that the notches of a row stop short of, measured across the row.

    ``turned``: the near edge of a plank is the upper one of the direction frame.
    """

    def __init__(
        self, request: PlanRequest, pieces: Sequence[LaidPiece], direction_deg: float, near: float
    ) -> None:
        self.request, self.pieces, self.near = request, pieces, near
        self.stops = StopsOfFloor(request, direction_deg)
        ys = [y for _, y in to_frame(request.zone.outline, direction_deg)]
        self.ends = min(ys), max(ys)

    def box(
        self, piece: LaidPiece, notch: tuple[float, float, float, float], *, turned: bool
    ) -> WallPiece | None:
        """Return the box of a notch that lies in these bounds; None where nothing is to tape."""
        left, low, right, high = notch
        _, bottom, _, top = piece.bounds
        opens_low = abs(low - bottom) <= self.near
        if opens_low == (abs(high - top) <= self.near):
            return None
        level = high if opens_low else low
        edge = top if turned else bottom
        stop = self.stops.beyond_level((level, left, right), up=not opens_low, near=self.near)
        if stop is None or stop.gap <= self.near:
            return None
        if opens_low == turned:
            datum = self._datum(piece, edge, turned=turned)
            return self._written(piece, abs(level - edge), stop, datum, "near") if datum else None
        if self.request.lay.backward(piece.row):
            return None
        mark, far = Datum(name=f"mark {piece.row}", gap=0.0), bottom if turned else top
        return self._written(piece, abs(level - far), stop, mark, "far")

    def _written(
        self,
        piece: LaidPiece,
        level: float,
        stop: WallMet,
        datum: Datum,
        edge: str,
    ) -> WallPiece:
        """Return the box: what stays, from the near or the far edge."""
        unit = self.request.unit
        step = TAPE_STEP[unit]
        cut, gap, off = (round(v / step) * step for v in (level, stop.gap, datum.gap))
        return WallPiece(
            id=piece.piece.id,
            n=None,
            begin=datum.name,
            stop=stop.name,
            to_wall=bare_words(cut + off + gap, unit),
            gap=bare_words(off + gap, unit),
            cut=bare_words(cut, unit),
            limits="",
            over="",
            kind="stays",
            part=f"from {edge} edge",
        )

    def _datum(self, piece: LaidPiece, edge: float, *, turned: bool) -> Datum | None:
        """Return what is taped from: the row that the near edge joins, else the start wall."""
        for other in self.pieces:
            facing = other.bounds[1 if turned else 3]
            if other.row != piece.row and abs(facing - edge) <= self.near:
                return Datum(name=f"row {other.row}", gap=0.0)
        wall = self.ends[1] if turned else self.ends[0]
        rows = [other.row for other in self.pieces]
        if piece.row in (min(rows), max(rows)) and abs(edge - wall) <= piece.piece.size[1]:
            return Datum(name=START, gap=abs(edge - wall))
        return None
