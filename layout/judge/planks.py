"""Judging planks: kerf between pieces of one plank, the rack, drift of the walls, leftovers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations

import shapely
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.outline import polygons_of
from layout.values.plan import Offcut
from layout.values.tolerances import TOUCHING_TOLERANCE

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


def rack_most(view: View) -> int:
    """Return how many offcuts wait at once, at most, when pieces are laid row by row.

    An offcut waits from the moment its plank is first cut until its last piece is laid. What is
    left over at the end does not wait.
    """
    order = sorted(
        view.new,
        key=lambda p: (view.turn(p.row), p.bounds[0] if view.from_left else -p.bounds[2]),
    )
    left: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in order:
        left[piece.piece.plank].append(piece)
    opened: dict[int, list[LaidPiece]] = {
        number: [piece for piece in pieces if piece.before]
        for number, pieces in by_plank(view).items()
    }
    waiting = {number: _waiting_before(view, number, todo) for number, todo in left.items()}
    most = total = sum(waiting.values())
    for piece, following in zip(order, [*order[1:], None], strict=True):
        number = piece.piece.plank
        left[number].remove(piece)
        opened[number].append(piece)
        if following is not None and _side_by_side(piece, following, view.near):
            continue
        now = _parts(opened[number], left[number])
        total += now - waiting.get(number, 0)
        waiting[number] = now
        most = max(most, total)
    return most


def _side_by_side(first: LaidPiece, second: LaidPiece, near: float) -> bool:
    """Whether two pieces are one board that the floor divides along it: none waits for long."""
    overlap = min(first.bounds[2], second.bounds[2]) - max(first.bounds[0], second.bounds[0])
    one = (first.piece.plank, first.row) == (second.piece.plank, second.row)
    return one and overlap > near


def _waiting_before(view: View, plank: int, todo: Sequence[LaidPiece]) -> int:
    """Return how many offcuts at hand of a plank wait before the first piece is laid."""
    at_hand = view.request.on_hand.offcuts if view.request.on_hand else ()
    rooms = [_box(offcut) for offcut in at_hand if offcut.plank == plank]
    return sum(any(room.intersects(piece.in_plank) for piece in todo) for room in rooms)


def _parts(cut: Sequence[LaidPiece], todo: Sequence[LaidPiece]) -> int:
    """Return into how many separate offcuts the pieces to come are still spread."""
    if len(todo) < 2 or not cut:
        return min(len(todo), 1)
    length, width = todo[0].piece.size
    taken = shapely.union_all([piece.in_plank.buffer(TOUCHING_TOLERANCE) for piece in cut])
    left = box(0, 0, length, width).difference(taken)
    return sum(any(part.intersects(p.in_plank) for p in todo) for part in polygons_of(left))


def rack_too_full(view: View) -> Iterator[Fault]:
    """Yield the rack where more offcuts wait at once than the rule allows."""
    limit = view.request.rules.max_rack
    most = rack_most(view)
    if limit is not None and most > limit:
        text = f"{most} offcuts wait at once; the rule allows {limit}"
        yield Fault(rule="max_rack", where="rack", value=most, limit=limit, text=text)


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
