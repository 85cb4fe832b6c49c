"""The orders of a plan's planks: what is in hand of each at first, and what its pieces want of it.

Nothing is taken from how the plan was made: a plan of any origin is sawn from its pieces alone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import Polygon, box

from layout.saw.bench import SawBench, Want
from layout.saw.order import SawOrder, order_of
from layout.values.laid_pieces import LaidPiece
from layout.values.leftovers import left_in
from layout.values.material import End, Lay, Side
from layout.values.outline import polygons_of
from layout.values.plan import Offcut
from layout.values.request import PlanRequest
from layout.values.tolerances import LENGTH_TOLERANCE, THIN_NOTCH_TOLERANCE


@dataclass(frozen=True, eq=False, kw_only=True)
class SawnPart:
    """One plank, or a leftover of one under its ``label``, and how it is sawn.

    ``order`` is None where nothing makes all of its ``pieces``, which stand as they are laid.
    """

    plank: int
    label: str | None
    bench: SawBench
    pieces: tuple[LaidPiece, ...]
    order: SawOrder | None


def in_laying_order(pieces: Iterable[LaidPiece], lay: Lay) -> list[LaidPiece]:
    """Return pieces as they are laid: row by row, each from the end where it begins."""
    left = lay.first_end is End.LEFT
    return sorted(
        pieces,
        key=lambda p: (lay.turn(p.row), p.bounds[0] if left else -p.bounds[2], p.bounds[1]),
    )


def sawn_parts(request: PlanRequest, pieces: Sequence[LaidPiece], lay: Lay) -> Iterator[SawnPart]:
    """Yield every plank and leftover that new pieces are cut from, as its first piece is laid."""
    order = in_laying_order((piece for piece in pieces if not piece.before), lay)
    turns = {piece.piece.id: turn for turn, piece in enumerate(order)}
    last_row = max((piece.row for piece in pieces), default=0)
    before: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in pieces:
        if piece.before:
            before[piece.piece.plank].append(piece)
    planks: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in order:
        planks[piece.piece.plank].append(piece)
    parts = []
    for number, of_plank in planks.items():
        bench = _bench(request, of_plank[0].piece.size)
        wants = {p.piece.id: _want(request, lay, p, turns, last_row) for p in of_plank}
        for label, shape, of_part in _in_hand(request, bench, number, of_plank, before[number]):
            parts.append(_sawn(bench, (number, label), shape, of_part, wants))
    parts.sort(key=lambda part: turns[part.pieces[0].piece.id])
    yield from parts


def _bench(request: PlanRequest, size: tuple[float, float]) -> SawBench:
    """Return the bench of a plank."""
    rules, near = request.rules, LENGTH_TOLERANCE[request.unit]
    return SawBench.of(size, (rules.saw_kerf, rules.kerf_across), request.unit, near)


def _want(
    request: PlanRequest,
    lay: Lay,
    piece: LaidPiece,
    turns: Mapping[str, int],
    last_row: int,
) -> Want:
    """Return what a piece wants of its plank; what is measured on site may come out longer."""
    off = request.rules.wall_error
    on_site = next((cut for cut in piece.piece.cuts if cut.final != "exact"), None)
    right = off if on_site and on_site.measure_from == "left end" else 0.0
    left = off if on_site and on_site.measure_from == "right end" else 0.0
    high = off if piece.row == last_row and lay.start is Side.LOW else 0.0
    low = off if piece.row == last_row and lay.start is Side.HIGH else 0.0
    return Want(
        name=piece.piece.id,
        turn=turns[piece.piece.id],
        shape=piece.in_plank,
        near=LENGTH_TOLERANCE[request.unit],
        grows=(right, left, high, low),
        thin=THIN_NOTCH_TOLERANCE[request.unit],
    )


def _sawn(
    bench: SawBench,
    source: tuple[int, str | None],
    shape: Polygon | None,
    pieces: Sequence[LaidPiece],
    wants: Mapping[str, Want],
) -> SawnPart:
    """Return how a plank or a leftover is sawn, walls standing off or, where they can't, not."""
    wanted = [wants[piece.piece.id] for piece in pieces]
    order = order_of(bench, wanted, shape)
    if order is None:
        exact = [replace(want, grows=(0.0, 0.0, 0.0, 0.0)) for want in wanted]
        order = order_of(bench, exact, shape)
    number, label = source
    return SawnPart(plank=number, label=label, bench=bench, pieces=tuple(pieces), order=order)


def _in_hand(
    request: PlanRequest,
    bench: SawBench,
    number: int,
    pieces: Sequence[LaidPiece],
    before: Sequence[LaidPiece],
) -> Iterator[tuple[str | None, Polygon | None, list[LaidPiece]]]:
    """Yield label, shape and new pieces of every part of a plank that is in hand at first."""
    offcuts = request.on_hand.offcuts if request.on_hand else ()
    held = [offcut for offcut in offcuts if offcut.plank == number]
    if not held and not before:
        yield None, None, list(pieces)
        return
    gone = [p.in_plank.buffer(bench.kerf, join_style="mitre") for p in before]
    shapes: list[tuple[str | None, Polygon]] = [(o.id, true_shape(o, gone)) for o in held]
    if request.on_hand is None:
        rest = Polygon(bench.plank).difference(shapely.union_all(gone))
        shapes = [(None, part) for part in polygons_of(rest)]
    todo = list(pieces)
    for label, shape in shapes:
        of_part = [p for p in todo if _is_of(p.in_plank, shape)]
        todo = [p for p in todo if p not in of_part]
        if of_part:
            yield label, shape, of_part
    if todo:
        yield None, box(0.0, 0.0, 0.0, 0.0), todo


def _is_of(piece: Polygon, part: Polygon) -> bool:
    """Whether a piece is cut from a part: whether most of it lies there."""
    return bool(piece.intersection(part).area > piece.area / 2)


def true_shape(offcut: Offcut, gone: Sequence[Polygon]) -> Polygon:
    """Return the shape of an offcut at hand; one told as a box lacks what is ``gone`` of it."""
    if offcut.outline:
        return Polygon(offcut.outline)
    left = left_in(offcut, gone)
    return max(polygons_of(left), key=lambda part: part.area, default=Polygon())
