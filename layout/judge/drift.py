"""Judging drift: does the plan still hold when a wall stands off by ``wall_error``?

The wall at the far end of a run makes its last piece longer or shorter; the wall at the last row
makes its strip wider or narrower. Starters are exact: the row is set from them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.affinity import translate
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from layout.judge.cutting.leftovers import sawable
from layout.judge.planks import by_plank
from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class _Move:
    """A wall that stands off: the way it moves (unit x, y), what it must leave of a piece."""

    x: int
    y: int
    least: float
    word: str


def drifting(view: View) -> Iterator[Fault]:
    """Yield last pieces that break a rule when their far wall stands off by ``wall_error``.

    The piece must stay within its plank and clear of the plank's other pieces when the wall
    stands out, and keep the least length or width when it stands in.
    """
    rules = view.request.rules
    if rules.wall_error <= 0:
        return
    planks = by_plank(view)
    along = _Move(x=1 if view.from_left else -1, y=0, least=rules.min_end_piece, word="long")
    across = _Move(x=0, y=1 if view.from_low else -1, least=rules.min_row_width, word="wide")
    for run in view.runs:
        last = run[-1] if view.from_left else run[0]
        yield from _moved(view, last, planks, along, ends=len(run) > 1)
    final = max(view.rows, default=0)
    for piece in view.rows.get(final, ()):
        yield from _moved(view, piece, planks, across, ends=final > min(view.rows))


def _moved(
    view: View,
    piece: LaidPiece,
    planks: dict[int, list[LaidPiece]],
    move: _Move,
    *,
    ends: bool,
) -> Iterator[Fault]:
    """Yield what fails when the wall at the piece's far side moves; ``ends``: least size counts."""
    if piece.before:
        return
    off = view.request.rules.wall_error
    left, low, right, high = piece.in_plank.bounds
    extent = right - left if move.x else high - low
    room = _room_left(piece, move)
    if ends and extent - off < move.least - view.near:
        text = (
            f"{extent:.3f} {move.word}; {extent - off:.3f} when the wall stands in by {off:g}, "
            f"the rule asks for {move.least:g}"
        )
        yield _fault(piece, extent - off, move.least, text)
    if room < off - view.near:
        text = (
            f"{extent:.3f} {move.word}; its plank has {room:.3f} to spare "
            f"when the wall stands out by {off:g}"
        )
        yield _fault(piece, room, off, text)
    others = [other for other in planks[piece.piece.plank] if other is not piece]
    yield from _moved_into(view, piece, others, move)


def tight_when_off(view: View) -> Iterator[Fault]:
    """Yield planks that no order of cuts makes their pieces of when walls stand off outward."""
    off = view.request.rules.wall_error
    if off <= 0:
        return
    along, across = (1 if view.from_left else -1), (1 if view.from_low else -1)
    lasts = {run[-1] if view.from_left else run[0] for run in view.runs}
    final = max(view.rows, default=0)
    for number, pieces in by_plank(view).items():
        new = [piece for piece in pieces if not piece.before]
        if len(new) < 2:
            continue
        grown = [
            _longer(piece, off * along * (piece in lasts), off * across * (piece.row == final))
            for piece in new
        ]
        if grown != new and not sawable(view, number, grown) and sawable(view, number, new):
            text = f"when walls stand out by {off:g} no order of cuts makes plank {number}"
            yield Fault(
                rule="wall_error",
                where=f"plank {number}",
                value=0,
                limit=off,
                text=text,
                rows=tuple(piece.row for piece in new),
            )


def _longer(piece: LaidPiece, along: float, across: float) -> LaidPiece:
    """Return a piece as it comes out where its walls stand off, within its plank."""
    if not along and not across:
        return piece
    grown = piece.shape
    for x, y in ((along, 0.0), (0.0, across)):
        if x or y:
            grown = shapely.union_all([grown, translate(grown, x, y)]).convex_hull
    length, width = piece.piece.size
    plank = box(piece.x0, piece.y0, piece.x0 + length, piece.y0 + width)
    return replace(piece, shape=grown.intersection(plank))


def _room_left(piece: LaidPiece, move: _Move) -> float:
    """Return how much plank is left past the piece's far side."""
    left, low, right, high = piece.in_plank.bounds
    length, width = piece.piece.size
    if move.x:
        return float(length - right if move.x > 0 else left)
    return float(width - high if move.y > 0 else low)


def _moved_into(
    view: View, piece: LaidPiece, others: Sequence[LaidPiece], move: _Move
) -> Iterator[Fault]:
    """Yield the other pieces of the plank that a longer last piece would cut into."""
    kerf, off = view.request.rules.saw_kerf, view.request.rules.wall_error
    grown = _grown(piece, move, off)
    for other in others:
        apart = grown.distance(other.in_plank)
        past = grown.intersection(other.in_plank).area if apart == 0 else 0.0
        if apart < kerf - view.near or past > view.scrap:
            text = (
                f"when the wall stands out by {off:g} it needs what piece {other.piece.id} "
                f"takes of plank {piece.piece.plank}"
            )
            yield _fault(piece, apart, kerf, text)


def _grown(piece: LaidPiece, move: _Move, off: float) -> BaseGeometry:
    """Return the shape of the piece in its plank with its far side moved out."""
    shape = piece.in_plank
    moved = translate(shape, move.x * off, move.y * off)
    return shapely.union_all([shape, moved]).convex_hull


def _fault(piece: LaidPiece, value: float, limit: float, text: str) -> Fault:
    """Return a fault of one last piece."""
    return Fault(
        rule="wall_error",
        where=piece.name,
        value=value,
        limit=limit,
        text=text,
        rows=(piece.row,),
    )
