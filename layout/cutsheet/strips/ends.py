"""The end of every row that no cut to the wall tells: whole planks, notches, the last row's width.

row 5 | whole | whole | whole |  to the wall 48 1/4, less 1/4: expect 48
row 2 | whole | whole | 2-6 +-+  the notch is measured too: 29 5/8, less 1/4: stays 29 3/8
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from shapely.geometry import box

from layout.cutsheet.strips.across import AcrossRow
from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.narrow import NarrowRow
from layout.cutsheet.strips.values import WallPiece
from layout.cutsheet.strips.walls import (
    EIGHTH,
    LINE,
    StopsOfFloor,
    WallMet,
    WayOut,
    limit_words,
    tape_down,
    under_words,
)
from layout.values.laid_pieces import LaidPiece
from layout.values.tolerances import BOX_TOLERANCE
from layout.values.units import INCH, TAPE_STEP

_SHORT = 22  # letters of names that stand under a box
_SHARE = 4  # a stop further off than a fourth of a plank is not what the piece ends at


class EndsOfRow:
    """The pieces of a row at their end in the direction of laying."""

    def __init__(
        self,
        pieces: Sequence[LaidPiece],
        stops: StopsOfFloor,
        across: AcrossRow,
        *,
        right: bool,
        turned: bool,
    ) -> None:
        self.pieces, self.stops, self.across = pieces, stops, across
        self.right, self.turned, self.near = right, turned, across.near

    def boxes(
        self, measured: Sequence[str], unit: str, way: Callable[[LaidPiece], WayOut]
    ) -> Iterator[WallPiece]:
        """Yield the boxes that are not there yet; ``measured`` have theirs for the end."""
        for piece in self.pieces:
            if piece.before or self._meets_next(piece):
                continue
            if piece.piece.id not in measured:
                stop = self.stops.beyond(piece, right=self.right, near=self.near)
                if stop and stop.gap <= piece.piece.size[0] / _SHARE:
                    yield self._box(piece, self._end(piece), stop, unit, way(piece))
            for (at, low, high), stop in self._notches(piece):
                yield self._box(piece, at, stop, unit, None)
                left, right = sorted((at, self._end(piece)))
                beside = self.across.box(piece, (left, low, right, high), turned=self.turned)
                if beside is not None:
                    yield beside

    @property
    def _from(self) -> str:
        """The end at which the row begins, as the kneeling person sees it."""
        return "left" if self.right != self.turned else "right"

    def _end(self, piece: LaidPiece) -> float:
        return piece.bounds[2] if self.right else piece.bounds[0]

    def _meets_next(self, piece: LaidPiece) -> bool:
        """Whether a further piece of the row goes on where this one ends."""
        end = self._end(piece)
        return any(
            abs((other.bounds[0] if self.right else other.bounds[2]) - end) <= 2 * self.near
            for other in self.pieces
            if other is not piece
        )

    def _notches(self, piece: LaidPiece) -> Iterator[tuple[tuple[float, float, float], WallMet]]:
        """Yield where a notch that is open to the end of the row stops short of it, and at what."""
        end = self._end(piece)
        for edge in piece.uprights(right=self.right, near=self.near):
            at, low, high = edge
            if abs(at - end) <= self.near:
                continue
            beyond = box(*sorted((at, end))[:1], low, *sorted((at, end))[1:], high)
            stop = self.stops.beyond_edge(edge, right=self.right, near=self.near)
            open_end = beyond.buffer(-self.near).intersection(piece.shape).area <= BOX_TOLERANCE
            if stop and open_end and self.near < stop.gap <= piece.piece.size[0] / _SHARE:
                yield edge, stop

    def _box(
        self, piece: LaidPiece, at: float, stop: WallMet, unit: str, way: WayOut | None
    ) -> WallPiece:
        """Return one box; ``way`` is None for a notch."""
        step = TAPE_STEP[unit]
        begin = piece.bounds[0] if self.right else piece.bounds[2]
        cut, gap = (round(value / step) * step for value in (abs(at - begin), stop.gap))
        full = cut >= piece.piece.size[0] - step
        most = cut + (_hidden(stop, unit) if full else 0.0)
        return WallPiece(
            id=piece.piece.id,
            n=None,
            stop=stop.name,
            to_wall=bare_words(cut + gap, unit),
            gap=bare_words(gap, unit),
            cut=bare_words(cut, unit),
            limits=limit_words(min(way.least, cut), most, unit) if way else "",
            over=over_words(unit, way, full=full) if way else "",
            under=under_words(cut, unit, way) if way else "",
            kind="expect" if way else "stays",
            part="" if way else f"from {self._from} end",
        )


def _hidden(stop: WallMet, unit: str) -> float:
    """Return by how much the gap at a whole plank may come out wider, so that it just stays.

    What its cover hides, else an eighth of an inch: baseboard is thicker than 3/8 in by common
    practice, no source. Nothing is said to cover the gap at a post.
    """
    if stop.most is not None:
        return max(0.0, stop.most - stop.gap)
    return EIGHTH * INCH[unit] if stop.name in ("wall", LINE) else 0.0


def over_words(unit: str, way: WayOut, *, full: bool) -> str:
    """Return what to do where a piece does not reach; ``full``: it is as long as a plank."""
    if way.spares <= 0:
        return "stop, no spare"
    if not full:
        return "a new plank"
    return way.over(unit)


def width_box(
    row: int,
    across: tuple[float, float],
    limits: tuple[float, float],
    unit: str,
    narrow: NarrowRow | None = None,
) -> WallPiece:
    """Return the box of the last row's width; ``across``: what stays of it, and its gap.

    ``limits``: least row and plank; ``narrow``: what of it comes from leftovers.
    """
    (stays, gap), (least, width) = across, limits
    over, under = "stop, call", ""
    if narrow is not None:
        over, under = _past_leftovers(narrow, width, unit)
        width = max(stays, tape_down(narrow.most, unit))
    return WallPiece(
        id=f"row {row}",
        n=None,
        stop="wall",
        to_wall=bare_words(stays + gap, unit),
        gap=bare_words(gap, unit),
        cut=bare_words(stays, unit),
        limits=limit_words(min(least, stays), width, unit),
        over=over,
        under=under,
        kind="rip",
    )


def _past_leftovers(narrow: NarrowRow, width: float, unit: str) -> tuple[str, str]:
    """Return what to do past what leftovers reach: beside the limits, and in a line of its own."""
    need, names = len(narrow.pieces), narrow.names
    spares = f"{narrow.spares} spare{'' if narrow.spares == 1 else 's'}"
    if len(names) > _SHORT:
        names = f"{need} narrow ones"
    if not narrow.enough:
        return "stop, call", f"{spares if narrow.spares else 'no spare'} for {names}"
    planks = f"{need} new plank{'' if need == 1 else 's'}"
    return f"{names} new", f"{planks}; so to {bare_words(width, unit)}, over: stop"
