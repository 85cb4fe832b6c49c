"""Judging where offcuts wait: on which stack, how many on one, how many on the rack at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from re import fullmatch

from layout.judge.view import Fault, View
from layout.values.laid_pieces import LaidPiece
from layout.values.plan import Offcut

_STACK = 10  # offcuts in one stack
_BEFORE = -1  # the turn of what was at hand before

Waits = dict[str, tuple[int, int]]  # by offcut: the turns at which it is put aside and used


def wrong_stacks(view: View, since: Mapping[str, LaidPiece]) -> Iterator[Fault]:
    """Yield offcuts that wait past their row without a stack, or have one and wait for none.

    Also stacks where more wait at once than one holds. ``since``: the piece with which every
    offcut is cut; one that was at hand has none.
    """
    rows = {piece.piece.id: piece.row for piece in view.new}
    turns, moves = _waits(view, since), defaultdict(list)
    for offcut in view.plan.offcuts:
        first = since.get(offcut.id)
        waits = offcut.used_by is not None and (first is None or first.row != rows[offcut.used_by])
        if waits != (offcut.stack is not None):
            text = "it waits past its row and has no stack" if waits else "it waits on no stack"
            yield _offcut_fault(offcut, text)
        elif offcut.stack is not None:
            if not fullmatch("[A-Z]{1,3}", offcut.stack):
                yield _offcut_fault(offcut, f'stack "{offcut.stack}" is no letter')
            moves[offcut.stack].append(turns[offcut.id])
    for letter, spans in moves.items():
        most = _most_at_once(spans)
        if most > _STACK:
            text = f"{most} offcuts wait on it at once; it holds {_STACK}"
            yield Fault(rule="stack", where=f"stack {letter}", value=most, limit=_STACK, text=text)


def wrong_rack(view: View, since: Mapping[str, LaidPiece]) -> Iterator[Fault]:
    """Yield a count of what waits at once that is not that of the offcuts, and one too many."""
    ids = {piece.piece.id: piece for piece in view.new}
    waits = _waits(view, since)
    spans = [
        waits[offcut.id]
        for offcut in view.plan.offcuts
        if offcut.used_by is not None
        and not _side_by_side(view, since.get(offcut.id), ids[offcut.used_by], waits[offcut.id])
    ]
    most, limit = _most_at_once(spans), view.request.rules.max_rack
    said = view.plan.totals.rack_max
    if said != most:
        text = f"the plan says {said}, its offcuts make {most}"
        yield Fault(rule="totals", where="rack_max", value=said, limit=most, text=text)
    if limit is not None and most > limit:
        text = f"{most} offcuts wait at once; the rule allows {limit}"
        yield Fault(rule="max_rack", where="rack", value=most, limit=limit, text=text)


def _waits(view: View, since: Mapping[str, LaidPiece]) -> Waits:
    """Return when every offcut that is used is put aside, and when it is used."""
    order = sorted(
        view.new,
        key=lambda p: (
            view.turn(p.row),
            p.bounds[0] if view.from_left else -p.bounds[2],
            p.bounds[1],
        ),
    )
    turn = {piece.piece.id: i for i, piece in enumerate(order)}
    waits: Waits = {}
    for offcut in view.plan.offcuts:
        if offcut.used_by is not None:
            first, ends = since.get(offcut.id), turn[offcut.used_by]
            begins = _BEFORE if first is None else turn[first.piece.id]
            waits[offcut.id] = (min(begins, ends), ends)
    return waits


def _most_at_once(spans: Sequence[tuple[int, int]]) -> int:
    """Return how many spans of turns run at once, at most."""
    changes = [(begins, 1) for begins, _ in spans] + [(ends, -1) for _, ends in spans]
    waiting = most = 0
    for _, change in sorted(changes):
        waiting += change
        most = max(most, waiting)
    return most


def _side_by_side(
    view: View, first: LaidPiece | None, user: LaidPiece, turns: tuple[int, int]
) -> bool:
    """Whether an offcut is laid at once beside what it is cut from: one board, divided along it."""
    if first is None or first.row != user.row or turns[1] != turns[0] + 1:
        return False
    overlap = min(first.bounds[2], user.bounds[2]) - max(first.bounds[0], user.bounds[0])
    return overlap > view.near


def _offcut_fault(offcut: Offcut, text: str) -> Fault:
    """Return a fault of where one offcut waits."""
    where = f"offcut {offcut.id}"
    return Fault(rule="stack", where=where, value=offcut.length, limit=0, text=text)
