"""How a row is taken up and begun shorter or longer, should its end not fit.

row above      |        |            the row is not locked to the next yet: it is taken up, its
    |<-- s    +--------+--------+~~  first piece cut shorter by s at its wall end, and laid again;
    | first   |  whole |  last  |~~  all its joints move by s, all ends that meet stay the plank's
    +---------+--------+--------+~~  wall; begun longer by a new first piece, all joints move on
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf

from shapely.geometry import LineString, Polygon, box

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
    """The first piece of a row, and how long it is cut before the row is laid again.

    ``shift``: how far the row moves to its first wall; below 0 the piece is a new one, cut longer.
    ``drops``: the last piece, where the plank before it ends the row then.
    """

    id: str
    long: float
    shift: float
    drops: str = ""


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

        The most of the range: the last piece is longer by it, and no longer than a plank. Where no
        inch is to be had the row does without its last piece.
        """
        slack = SLACK * INCH[self.request.unit]
        most = self.last.piece.size[0] - self.request.rules.min_end_piece
        fitting = self._range(slack, most, self._joints())
        return self._cut(fitting[-1]) if fitting else self._without_last()

    def long(self) -> FirstCut | None:
        """Return the first piece's cut where a whole plank does not reach the wall.

        The middle of the range: joints and both ends have room. The last plank stays whole, and a
        new one ends the row, its least length at least. Else the cut of a longer first piece.
        """
        least, length = self.request.rules.min_end_piece, self.last.piece.size[0]
        fitting = self._range(self._over_notch(), length - least, self._joints_and_end())
        return self._cut(fitting[(len(fitting) - 1) // 2]) if fitting else self._longer()

    def long_apart(self) -> float | None:
        """Return how far apart joints come at best where a whole plank does not reach.

        None where none of them can move: rows in a pattern, pieces that are down or notched.
        """
        if self._fixed:
            return None
        least, length = self.request.rules.min_end_piece, self.last.piece.size[0]
        back = self._most(length - least)
        return self._best(
            [(self._joints_and_end(), s) for s in self._steps(self._over_notch(), back)],
            [
                (self._joints(), -s)
                for s in self._steps(SLACK / 2 * INCH[self.request.unit], self._longest())
            ],
        )

    def short_apart(self) -> float | None:
        """Return how far apart joints come at best where the last piece comes out too short."""
        if self._fixed:
            return None
        most = self._most(self.last.piece.size[0] - self.request.rules.min_end_piece)
        least, longest = self.last.extent, self._room_of_first()
        return self._best(
            [(self._joints(), s) for s in self._steps(SLACK * INCH[self.request.unit], most)],
            [(self._joints()[1:], -s) for s in self._steps(least, longest)],
        )

    def _joints(self) -> list[float]:
        """Return the joints of the row, from the last one back."""
        return [self._end(piece) for piece in self.run[1:]]

    def _joints_and_end(self) -> list[float]:
        """Return the joints of the row, with that at the end of a last plank that stays whole."""
        begin, length = self.last.bounds[0 if self.right else 2], self.last.piece.size[0]
        return [*self._joints(), begin + length if self.right else begin - length]

    def _longer(self) -> FirstCut | None:
        """Return the cut of a new, longer first piece, so that the last one needn't be a plank.

        The least that takes up an inch, else what takes up half of one at least.
        """
        if self._fixed:
            return None
        slack = SLACK * INCH[self.request.unit] - JOINT_TOLERANCE
        steps = self._steps(slack / 2, self._longest())
        fitting = [shift for shift in steps if self._keeps(self._joints(), -shift)]
        enough = [shift for shift in fitting if shift >= slack]
        return self._cut(-(enough or fitting[-1:])[0]) if fitting else None

    def _without_last(self) -> FirstCut | None:
        """Return the cut of a new first piece so long that the plank before the last ends the row.

        The least: that plank loses no more than it must.
        """
        if self._fixed or len(self.run) < 3 or not _plain(self.last):
            return None
        for shift in self._steps(self.last.extent, self._room_of_first()):
            if self._keeps(self._joints()[1:], -shift):
                return replace(self._cut(-shift), drops=self.last.piece.id)
        return None

    def _room_of_first(self) -> float:
        """Return by how much the first piece may be longer: a plank, the next one's least left."""
        first = self.run[-1]
        return min(
            first.piece.size[0] - first.extent,
            self.run[1].extent + self.last.extent - self.request.rules.min_end_piece,
        )

    def _longest(self) -> float:
        """Return by how much the first piece may be longer where the last one still ends the row.

        A notch of the last one stays at its wall, the least length of a piece before it.
        """
        first, least = self.run[-1], self.request.rules.min_end_piece
        return min(first.piece.size[0] - first.extent, self._unnotched() - least)

    def _over_notch(self) -> float:
        """Return the least shift back: a new piece then ends the row, with the notch if any."""
        least = self.request.rules.min_end_piece
        if _plain(self.last):
            return least
        return max(least, self.last.piece.size[0] - self._unnotched() + least)

    def _unnotched(self) -> float:
        """Return how far the last piece goes on from its begin before anything is notched out."""
        x0, y0, x1, y1 = self.last.bounds
        lacks = box(x0, y0, x1, y1).difference(self.last.shape)
        if lacks.area <= BOX_TOLERANCE:
            return x1 - x0
        return float(lacks.bounds[0] - x0 if self.right else x1 - lacks.bounds[2])

    @property
    def _fixed(self) -> bool:
        """Whether nothing moves: one plank a row, rows in a pattern, pieces down or notched."""
        patterned = self.request.rules.stagger is not Stagger.FREE
        before = self.run[1:]
        return patterned or not before or self.last.before or not all(map(_plain, before))

    def _best(self, *ways: Sequence[tuple[Sequence[float], float]]) -> float | None:
        """Return the best of how far joints come apart; ``ways``: joints, and how they move."""
        every = [self._clear(joints, shift) for way in ways for joints, shift in way]
        return max(every, default=None)

    def _cut(self, shift: float) -> FirstCut:
        """Return the first piece's cut for a shift."""
        first = self.run[-1]
        return FirstCut(id=first.piece.id, long=first.extent - shift, shift=shift)

    def _range(self, least: float, most: float, joints: Sequence[float]) -> list[float]:
        """Return the first range of shifts between two that fit, in steps."""
        if self._fixed:
            return []
        kept = list[float]()
        for shift in self._steps(least, self._most(most)):
            if self._keeps(joints, shift):
                kept.append(shift)
            elif kept:
                break
        return kept

    def _most(self, most: float) -> float:
        """Return the most that the first piece may lose."""
        return min(most, self.run[-1].extent - self.request.rules.min_end_piece)

    def _steps(self, least: float, most: float) -> list[float]:
        """Return the shifts that are told between two."""
        step = STEP[self.request.unit]
        return [*_steps(max(least, step), most, step)]

    def _keeps(self, joints: Sequence[float], shift: float) -> bool:
        """Whether joints that move by so much keep off those beside, and lie where they may."""
        return self._clear(joints, shift) >= self.request.rules.min_joint_offset - JOINT_TOLERANCE

    def _clear(self, joints: Sequence[float], shift: float) -> float:
        """Return how far moved joints keep off those beside; 0 where one may not lie."""
        _, low, _, high = self.last.bounds
        moved = [joint - shift if self.right else joint + shift for joint in joints]
        lines = [LineString([(x, low), (x, high)]) for x in moved]
        if any(line.intersects(area) for line in lines for area in self._banned):
            return 0.0
        return min((abs(x - other) for x in moved for other in self._beside), default=inf)

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
