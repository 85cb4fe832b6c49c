"""By how much a row is laid nearer to the wall that it begins at, should its end not fit.

row above      |        |            the row is not locked to the next yet: it is taken up, its
    |<-- s    +--------+--------+~~  first piece cut shorter by s at its wall end, and laid again;
    | first   |  whole |  last  |~~  all its joints move by s, all ends that meet stay the plank's
    +---------+--------+--------+~~  wall
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, Polygon

from layout.values.laid_pieces import LaidPiece
from layout.values.material import Stagger
from layout.values.outline import to_frame
from layout.values.request import PlanRequest
from layout.values.tolerances import BOX_TOLERANCE, JOINT_TOLERANCE
from layout.values.units import INCH

STEP = {"in": 0.25, "mm": 5.0}  # shifts are told no finer
SLACK = 1.0  # inches that a wall may stand nearer than drawn; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstCut:
    """The first piece of a row, and how long it is cut before the row is laid again."""

    id: str
    long: float
    shift: float


class RowShifts:
    """The shifts of a row that keep its rules; ``right``: it ends at the right."""

    def __init__(
        self,
        request: PlanRequest,
        last: LaidPiece,
        pieces: Sequence[LaidPiece],
        direction_deg: float,
        *,
        right: bool,
        near: float,
    ) -> None:
        self.request, self.last, self.right = request, last, right
        self.run = [*_run(last, pieces, right=right, near=near)]
        self._beside = [
            x
            for other in pieces
            if abs(other.row - last.row) == 1
            for x in (other.bounds[0], other.bounds[2])
        ]
        self._banned = [Polygon(to_frame(ring, direction_deg)) for ring in request.zone.no_joints]

    def short(self) -> FirstCut | None:
        """Return the first piece's cut where the last one comes out under its least.

        The most of the range: the last piece is longer by it, and no longer than a plank.
        """
        least = SLACK * INCH[self.request.unit]
        most = self.last.piece.size[0] - self.request.rules.min_end_piece
        joints = [self._end(piece) for piece in self.run[1:]]
        fitting = self._range(least, most, joints)
        return self._cut(fitting[-1]) if fitting else None

    def long(self) -> FirstCut | None:
        """Return the first piece's cut where a whole plank does not reach the wall.

        The middle of the range: joints and both ends have room. The last plank stays whole, and a
        new one ends the row, its least length at least.
        """
        least, length = self.request.rules.min_end_piece, self.last.piece.size[0]
        joints = [self._end(piece) for piece in self.run[1:]]
        begin = self.last.bounds[0] if self.right else self.last.bounds[2]
        joints.append(begin + length if self.right else begin - length)
        fitting = self._range(least, length - least, joints)
        return self._cut(fitting[(len(fitting) - 1) // 2]) if fitting else None

    def _cut(self, shift: float) -> FirstCut:
        """Return the first piece's cut for a shift."""
        first = self.run[-1]
        return FirstCut(id=first.piece.id, long=first.extent - shift, shift=shift)

    def _range(self, least: float, most: float, joints: Sequence[float]) -> list[float]:
        """Return the first range of shifts between two that fit, in steps."""
        first = self.run[-1]
        patterned = self.request.rules.stagger is not Stagger.FREE
        if patterned or len(self.run) < 2 or not all(_plain(piece) for piece in self.run):
            return []
        most = min(most, first.extent - self.request.rules.min_end_piece)
        step, kept = STEP[self.request.unit], list[float]()
        for shift in _steps(max(least, step), most, step):
            if self._keeps(joints, shift):
                kept.append(shift)
            elif kept:
                break
        return kept

    def _keeps(self, joints: Sequence[float], shift: float) -> bool:
        """Whether joints that move by so much keep off those beside, and lie where they may."""
        apart = self.request.rules.min_joint_offset - JOINT_TOLERANCE
        _, low, _, high = self.last.bounds
        for joint in joints:
            x = joint - shift if self.right else joint + shift
            if any(abs(x - other) < apart for other in self._beside):
                return False
            line = LineString([(x, low), (x, high)])
            if any(line.intersects(area) for area in self._banned):
                return False
        return True

    def _end(self, piece: LaidPiece) -> float:
        """Return where a piece ends, in the direction of laying."""
        return piece.bounds[2] if self.right else piece.bounds[0]


def _run(
    last: LaidPiece, pieces: Sequence[LaidPiece], *, right: bool, near: float
) -> Iterator[LaidPiece]:
    """Yield a last piece and those before it to the one that begins the row there."""
    row = [other for other in pieces if other.row == last.row]
    at: LaidPiece | None = last
    while at is not None:
        yield at
        begin = at.bounds[0] if right else at.bounds[2]
        row = [other for other in row if other is not at]
        meets = (
            other
            for other in row
            if abs((other.bounds[2] if right else other.bounds[0]) - begin) <= 2 * near
        )
        at = next(meets, None)


def _steps(least: float, most: float, step: float) -> Iterator[float]:
    """Yield whole steps from least to most."""
    at = -(-(least - JOINT_TOLERANCE) // step) * step
    while at <= most + JOINT_TOLERANCE:
        yield at
        at += step


def _plain(piece: LaidPiece) -> bool:
    """Whether a piece is new and square: a notch would not move with its row."""
    x0, y0, x1, y1 = piece.bounds
    return not piece.before and (x1 - x0) * (y1 - y0) - piece.shape.area <= BOX_TOLERANCE
