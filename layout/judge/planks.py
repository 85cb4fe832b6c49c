"""Judging planks: kerf between pieces of one plank, the rack, drift of the walls, leftovers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations

from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.plan import Offcut

_MANY = 20  # pieces of one plank, from which on its area is looked at before every pair


def by_plank(view: View) -> dict[int, list[LaidPiece]]:
    """Return the pieces of every plank, in the order of the plan."""
    planks: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in view.pieces:
        planks[piece.piece.plank].append(piece)
    return planks


def close_in_plank(view: View) -> Iterator[Fault]:
    """Yield pieces of one plank that lie closer than the kerf, or belong to different boards."""
    kerf = view.request.rules.saw_kerf
    for number, pieces in by_plank(view).items():
        area, board = sum(p.shape.area for p in pieces), pieces[0].piece.size
        if len(pieces) > _MANY and area > board[0] * board[1]:
            text = f"{len(pieces)} pieces with {area / board[0] / board[1]:.1f} times its area"
            yield _plank_fault("kerf", number, area, board[0] * board[1], text, pieces)
            continue
        for first, second in combinations(pieces, 2):
            if first.before and second.before:
                continue
            yield from _different(view, number, first, second)
            apart = first.in_plank.distance(second.in_plank)
            shared = first.in_plank.intersection(second.in_plank).area if apart == 0 else 0.0
            if apart < kerf - view.near or shared > view.scrap:
                text = (
                    f"pieces {first.piece.id} and {second.piece.id} lie {apart:.3f} apart in it; "
                    f"the saw takes {kerf:g}"
                )
                if shared > view.scrap:
                    text = (
                        f"pieces {first.piece.id} and {second.piece.id} are cut from the same "
                        f"{shared:.2f} square {view.request.unit} of it"
                    )
                yield _plank_fault("kerf", number, apart, kerf, text, (first, second))


def _different(view: View, number: int, first: LaidPiece, second: LaidPiece) -> Iterator[Fault]:
    """Yield two pieces of one plank that disagree on its size or variant."""
    one, two = first.piece, second.piece
    if max(abs(a - b) for a, b in zip(one.size, two.size, strict=True)) > view.near:
        text = f"pieces {one.id} and {two.id} give it different sizes"
        yield _plank_fault("size", number, one.size[0], two.size[0], text, (first, second))
    if one.variant != two.variant:
        text = f"pieces {one.id} and {two.id} give it different variants"
        yield _plank_fault("variant", number, 0, 0, text, (first, second))


def not_at_hand(view: View) -> Iterator[Fault]:
    """Yield pieces cut from what is no longer there of a plank that was cut before.

    Where a request says what is at hand, its offcuts are all that is left of such planks.
    """
    on_hand = view.request.on_hand
    if on_hand is None:
        return
    left: dict[int, list[BaseGeometry]] = {piece.plank: [] for piece in view.request.laid}
    for offcut in on_hand.offcuts:
        left.setdefault(offcut.plank, []).append(_box(offcut).buffer(2 * view.near))
    for piece in view.new:
        number = piece.piece.plank
        boxes = left.get(number)
        if boxes is not None and not any(shape.contains(piece.in_plank) for shape in boxes):
            text = f"piece {piece.piece.id} is cut from what is not at hand of it"
            yield _plank_fault("on_hand", number, piece.extent, 0, text, (piece,))


def _box(offcut: Offcut) -> Polygon:
    """Return the box of its plank that an offcut is told as."""
    x, y = offcut.at
    return box(x, y, x + offcut.length, y + offcut.width)


def _plank_fault(
    rule: str,
    number: int,
    value: float,
    limit: float,
    text: str,
    pieces: Sequence[LaidPiece],
) -> Fault:
    """Return a fault of one plank."""
    rows = tuple(piece.row for piece in pieces)
    where = f"plank {number}"
    return Fault(rule=rule, where=where, value=value, limit=limit, text=text, rows=rows)
