"""The offcuts of a plan that wait for a later row, each named by the piece that it becomes."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from layout.cutsheet.rows import RowsOfSheet
from layout.cutsheet.strips.cuts import bare_words
from layout.values.laid_pieces import LaidPiece
from layout.values.leftovers import shape_of
from layout.values.outline import Region
from layout.values.plan import Offcut
from layout.values.tolerances import BOX_TOLERANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingOffcut:
    """An offcut by the piece that it becomes.

    ``cut_with`` is the piece with which it is cut, "" where it was there before; ``row`` the row
    that it waits for. ``instead`` are spare leftovers that may take its place, each by its size and
    the piece it was cut with; ``also`` the pieces that come of what it leaves.
    """

    name: str
    size: str
    length: float
    width: float
    stack: str | None
    cut_with: str
    row: int
    instead: tuple[tuple[str, str], ...] = ()
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OffcutsOfFloor:
    """All that waits, by stack and row; what is left over; how many wait at most at any time."""

    waiting: tuple[WaitingOffcut, ...]
    spare: tuple[tuple[str, int], ...]
    most: int


def offcuts_of_floor(rows: RowsOfSheet) -> OffcutsOfFloor:
    """Return the offcuts of a plan, by what the plan says of each."""
    return _Offcuts(rows).all()


class _Offcuts:
    def __init__(self, rows: RowsOfSheet) -> None:
        self.rows, self.plan = rows, rows.plan
        self.pieces = {piece.piece.id: piece for piece in rows.pieces}
        self.order = {name: i for i, name in enumerate(self.pieces)}
        self.spares = [one for one in self.plan.offcuts if not one.used_by]

    def all(self) -> OffcutsOfFloor:
        """Return everything."""
        used = [one for one in self.plan.offcuts if one.used_by in self.pieces]
        waiting = sorted(
            (self._waiting(one) for one in used),
            key=lambda one: (one.stack or "", self.order[one.name]),
        )
        spare = Counter(self._size(one) for one in self.spares)
        return OffcutsOfFloor(
            waiting=tuple(waiting), spare=tuple(spare.most_common()), most=self._most(used)
        )

    def _size(self, offcut: Offcut) -> str:
        """Return how large an offcut is, its width where that is not a board's."""
        unit = self.plan.unit
        words = bare_words(offcut.length, unit)
        boards = self.rows.request.product.boards
        if all(abs(offcut.width - board.width) > self.rows.near for board in boards):
            words = f"{words} x {bare_words(offcut.width, unit)}"
        lacks = offcut.length * offcut.width - shape_of(offcut).area
        return f"{words} at most" if lacks > BOX_TOLERANCE else words

    def _waiting(self, offcut: Offcut) -> WaitingOffcut:
        """Return one that a piece is cut from."""
        name = offcut.used_by or ""
        family = [*self._family(offcut)]
        return WaitingOffcut(
            name=name,
            size=self._size(offcut),
            length=offcut.length,
            width=offcut.width,
            stack=offcut.stack,
            cut_with=self.rows.cut_with_of.get(offcut.id, ""),
            row=self.pieces[name].row,
            instead=tuple(self._instead(offcut, family)),
            also=tuple(piece.piece.id for piece in family if piece.piece.id != name),
        )

    def _family(self, offcut: Offcut) -> Iterator[LaidPiece]:
        """Yield the pieces that come of an offcut."""
        whole: Region = shape_of(offcut).buffer(self.rows.near)
        for piece in self.rows.pieces:
            ours = piece.piece.plank == offcut.plank and not piece.before
            if ours and whole.covers(piece.in_plank):
                yield piece

    def _instead(self, offcut: Offcut, family: list[LaidPiece]) -> Iterator[tuple[str, str]]:
        """Yield spare leftovers that hold all that an offcut must give, and are cut before."""
        size = next(iter(family)).piece.size if family else None
        needed = self.order.get(offcut.used_by or "", 0)
        for spare in self.spares:
            giver = self.rows.cut_with_of.get(spare.id, "")
            there = not giver or self.order.get(giver, needed) < needed
            shape = shape_of(spare).buffer(self.rows.near)
            board = next(p for p in self.rows.pieces if p.piece.plank == spare.plank).piece
            same = board.size == size and board.variant == (
                family[0].piece.variant if family else None
            )
            if there and same and all(shape.covers(piece.in_plank) for piece in family):
                yield self._size(spare), giver

    def _most(self, used: list[Offcut]) -> int:
        """Return how many wait in one stack at most."""
        moves: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for one in used:
            if one.stack is not None:
                giver = self.rows.cut_with_of.get(one.id, "")
                moves[one.stack].append((self.order.get(giver, -1), 1))
                moves[one.stack].append((self.order[one.used_by or ""], -1))
        most = 0
        for of_stack in moves.values():
            count = 0
            for _, change in sorted(of_stack):
                count += change
                most = max(most, count)
        return most
