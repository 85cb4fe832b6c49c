"""Judging planks and their leftovers: an order of cuts exists, and leaves what the plan tells.

Every offcut that is used is told once, as what the saw puts aside; so is every leftover that the
rules allow as an end piece and a row.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely
from shapely.geometry import Polygon, box

from layout.judge.cutting.parting import Leaving, Saw, WayOfSawing
from layout.judge.cutting.stacks import wrong_rack, wrong_stacks
from layout.judge.planks import by_plank
from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.leftovers import box_of
from layout.values.outline import polygons_of
from layout.values.plan import SIDES, Offcut

_LEAST_EDGE = 1 / 16  # inches of a factory end or side that count as one


def sawable(view: View, number: int, pieces: Sequence[LaidPiece]) -> bool:
    """Whether some order of cuts makes pieces of their plank, or of what is left of it at hand."""
    return any(True for _ in _sawn(view, number, pieces, None))


def wrong_sawing(view: View) -> Iterator[Fault]:
    """Yield planks that can't be sawn, told offcuts that the saw does not leave, and the reverse.

    Where all are right: stacks and a rack that are wrong.
    """
    labels = Counter(offcut.id for offcut in view.plan.offcuts)
    for label, number in labels.items():
        if number > 1:
            doubled = f"{number} offcuts have this label"
            yield Fault(rule="offcut", where=f"offcut {label}", value=number, limit=1, text=doubled)
    faults = [fault for offcut in view.plan.offcuts for fault in _misfits(view, offcut)]
    yield from faults
    yield from _unsawable(view) if faults else _orders(view)


def _unsawable(view: View) -> Iterator[Fault]:
    """Yield planks that no order of cuts makes their pieces of."""
    for number, pieces in _planks(view):
        if not sawable(view, number, pieces):
            yield _no_order(number, pieces)


def _no_order(number: int, pieces: Sequence[LaidPiece]) -> Fault:
    """Return the fault of a plank that can't be sawn."""
    text = f"no order of cuts makes {_names(pieces)} of it"
    return _plank_fault("saw", number, len(pieces), text, pieces)


def _orders(view: View) -> Iterator[Fault]:
    """Yield planks whose told offcuts no order of cuts leaves; if none, wrong stacks and rack."""
    listed: dict[int, list[Offcut]] = defaultdict(list)
    for offcut in view.plan.offcuts:
        listed[offcut.plank].append(offcut)
    planks = dict(_planks(view))
    since: dict[str, LaidPiece] = {}
    faults = [
        _offcut_fault(offcut, f"no piece is cut from plank {number}")
        for number in sorted(listed.keys() - planks.keys())
        for offcut in listed[number]
    ]
    for number, pieces in planks.items():
        leavings = [Leaving(offcut, _shape(offcut)) for offcut in listed[number]]
        way = next((w for w in _sawn(view, number, pieces, leavings) if not w.left), None)
        if way is not None:
            since.update({leavings[i].offcut.id: piece for i, piece in way.since})
        elif not sawable(view, number, pieces):
            faults.append(_no_order(number, pieces))
        else:
            ids = ", ".join(offcut.id for offcut in listed[number]) or "no offcut"
            text = f"it tells {ids} of it; no order of its cuts leaves just that"
            faults.append(_plank_fault("offcut", number, len(leavings), text, pieces))
    yield from faults
    if not faults:
        yield from wrong_stacks(view, since)
        yield from wrong_rack(view, since)


def _planks(view: View) -> Iterator[tuple[int, list[LaidPiece]]]:
    """Yield the pieces that this plan cuts from every plank, whole planks left out."""
    for number, pieces in by_plank(view).items():
        new = [piece for piece in pieces if not piece.before]
        if new and not (len(pieces) == 1 and new[0].whole(view.near)):
            yield number, new


def _sawn(
    view: View, number: int, pieces: Sequence[LaidPiece], leavings: Sequence[Leaving] | None
) -> Iterator[WayOfSawing]:
    """Yield the ways to saw pieces out of their plank, or of what is left of it at hand."""
    rules = view.request.rules
    saw = Saw(
        size=pieces[0].piece.size,
        kerf=rules.saw_kerf,
        kerf_across=rules.kerf_across,
        least=(rules.min_end_piece, rules.min_row_width),
        near=view.near,
        leavings=leavings,
        slack=rules.wall_error,
    )
    every = frozenset(range(len(leavings or ())))
    at_hand = list(_at_hand(view, number, pieces[0].piece.size))
    if not at_hand:
        yield from saw.ways(box(0, 0, *saw.size), tuple(pieces), every)
        return
    ways = [WayOfSawing(pieces[0], every)]
    todo = list(pieces)
    for part, label in at_hand:
        group = tuple(piece for piece in todo if saw.holds(part, piece))
        todo = [piece for piece in todo if piece not in group]
        if group:
            ways = [
                WayOfSawing(then.first, then.left - again, (*now.since, *then.since))
                for now in ways
                for then in saw.ways(part, group, now.left)
                for again in [_again(leavings, label, then.first)]
            ]
    if not todo:
        yield from ways


def _again(leavings: Sequence[Leaving] | None, label: str, first: LaidPiece) -> frozenset[int]:
    """Return which told offcut is the one at hand of a label, told again for its first piece."""
    return frozenset(
        i
        for i, leaving in enumerate(leavings or ())
        if leaving.offcut.id == label and leaving.offcut.used_by == first.piece.id
    )


def _at_hand(view: View, number: int, size: tuple[float, float]) -> Iterator[tuple[Polygon, str]]:
    """Yield what is at hand of a plank that was cut before: its shape and its label."""
    on_hand = view.request.on_hand
    laid = [piece.in_plank for piece in view.pieces if piece.before and piece.piece.plank == number]
    for offcut in on_hand.offcuts if on_hand else ():
        if offcut.plank == number:
            yield max(_left_of(_shape(offcut), laid), key=lambda p: float(p.area)), offcut.id
    if laid and on_hand is None:
        grown = [shape.buffer(view.request.rules.saw_kerf, join_style="mitre") for shape in laid]
        for part in _left_of(box(0, 0, *size), grown):
            yield part, ""


def _left_of(shape: Polygon, taken: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """Return the parts of a shape that pieces have left."""
    return polygons_of(shape.difference(shapely.union_all(taken))) if taken else (shape,)


def _shape(offcut: Offcut) -> Polygon:
    """Return the shape of an offcut in its plank: a box where no outline is told."""
    return Polygon(offcut.outline) if offcut.outline else box_of(offcut)


def _misfits(view: View, offcut: Offcut) -> Iterator[Fault]:
    """Yield what is wrong with an offcut by itself."""
    planks = [piece for piece in view.pieces if piece.piece.plank == offcut.plank]
    size = planks[0].piece.size if planks else _size_at_hand(view, offcut)
    shape = _shape(offcut)
    if not offcut.outline or not shape.is_valid or shape.is_empty:
        yield _offcut_fault(offcut, "its outline is missing, or crosses itself")
        return
    x0, y0, x1, y1 = shape.bounds
    figures = (offcut.length, offcut.width, *offcut.at)
    off = [abs(a - b) for a, b in zip(figures, (x1 - x0, y1 - y0, x0, y0), strict=True)]
    if max(off) > 2 * view.near:
        text = (
            f"it is told {offcut.length:g} x {offcut.width:g} at {offcut.at[0]:g}, "
            f"{offcut.at[1]:g}; its outline is {x1 - x0:.4g} x {y1 - y0:.4g} at {x0:.4g}, {y0:.4g}"
        )
        yield _offcut_fault(offcut, text)
    if min(x0, y0) < -view.near or x1 > size[0] + view.near or y1 > size[1] + view.near:
        yield _offcut_fault(offcut, f"it reaches past plank {offcut.plank}")
    yield from _wrong_keeps(view, offcut, shape, size)
    user = next((p for p in planks if p.piece.id == offcut.used_by), None)
    if offcut.used_by is not None and user is None:
        text = f"piece {offcut.used_by} is not cut from plank {offcut.plank}"
        yield _offcut_fault(offcut, text)
    elif user is not None and not shape.buffer(2 * view.near).contains(user.in_plank):
        yield _offcut_fault(offcut, f"piece {offcut.used_by} does not fit into it")


def _size_at_hand(view: View, offcut: Offcut) -> tuple[float, float]:
    """Return the size of the narrowest board that an offcut can be of."""
    boards = sorted((board.width, board.length) for board in view.request.product.boards)
    top = offcut.at[1] + offcut.width - view.near
    width, length = next((each for each in boards if each[0] >= top), boards[-1])
    return length, width


def _wrong_keeps(
    view: View, offcut: Offcut, shape: Polygon, size: tuple[float, float]
) -> Iterator[Fault]:
    """Yield the factory ends and sides that an offcut keeps and does not tell, or the reverse."""
    least = _LEAST_EDGE * view.inch
    has = dict(zip(SIDES, _edges_kept(shape, size, view.near), strict=True))
    for name, length in has.items():
        kept = name in offcut.keeps
        if kept and length < least - view.near:
            yield _offcut_fault(offcut, f"it is told to keep its {name}, which is cut off")
        elif not kept and length > least + view.near:
            yield _offcut_fault(offcut, f"it keeps its {name}, which is not told")
    if len(set(offcut.keeps)) < len(offcut.keeps):
        yield _offcut_fault(offcut, "it tells an end or side twice")


def _edges_kept(
    shape: Polygon, size: tuple[float, float], near: float
) -> tuple[float, float, float, float]:
    """Return how much of the left and right end, the low and high side of a plank a shape has."""
    length, width = size
    lines = ((0, 0.0), (0, length), (1, 0.0), (1, width))  # axis and place of ends and sides
    left, right, low, high = (
        sum(
            abs(q[1 - axis] - p[1 - axis])
            for p, q in pairwise(shape.exterior.coords)
            if max(abs(p[axis] - place), abs(q[axis] - place)) <= near
        )
        for axis, place in lines
    )
    return left, right, low, high


def _names(pieces: Sequence[LaidPiece]) -> str:
    """Return the ids of pieces in a sentence."""
    ids = [piece.piece.id for piece in pieces]
    return " and ".join(filter(None, (", ".join(ids[:-1]), ids[-1])))


def _offcut_fault(offcut: Offcut, text: str) -> Fault:
    """Return a fault of one offcut."""
    where = f"offcut {offcut.id}"
    return Fault(rule="offcut", where=where, value=offcut.length, limit=0, text=text)


def _plank_fault(
    rule: str, number: int, value: float, text: str, pieces: Sequence[LaidPiece]
) -> Fault:
    """Return a fault of one plank."""
    rows = tuple(piece.row for piece in pieces)
    return Fault(rule=rule, where=f"plank {number}", value=value, limit=0, text=text, rows=rows)
