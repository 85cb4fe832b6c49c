"""The cut sheet as it is worked through: row by row, piece by piece, with the rack beside it.

All cuts, and what becomes of what they leave, are the sheet's; the plan gives names, rows, sizes
and labels.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from shapely.geometry import Polygon

from layout.cutsheet.trapped import how_in
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.material import End, Side
from layout.values.plan import Offcut, Plan
from layout.values.request import PlanRequest
from layout.values.sheet import CutSheet, SawCut
from layout.values.tolerances import BOX_TOLERANCE, LENGTH_TOLERANCE
from layout.values.units import length_words

HOW_TO_READ = (
    "Kneel on the laid floor and face the next row: left, right, near and far are as you see the "
    "board, face up, the way it will lie. Make the cuts in the order told, each through all that "
    "is in hand, a notch only from mark to mark. Measure from the end or edge that is named. The "
    "line is the edge of what stays: let the blade run on the side that goes. Saw where no other "
    "tool is named. A leftover goes on with the numbers of its board. Measure on site from where "
    "the piece begins to the wall, less the gap there; outside the two figures stop and call: the "
    "part that goes no longer makes its piece."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStep:
    """One cut in words: its number in the plank, and the tool for it (score, saw or jigsaw).

    The text ends with the label that the part which goes gets, where it is kept.
    """

    n: int
    text: str
    tool: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSheet:
    """What to do for one cut piece.

    ``take`` names the board or offcut to cut it from, with its size; ``lies`` where on the board
    a piece lies that keeps neither end or neither edge of it; ``steps`` are the cuts in order;
    ``how_in`` how a trapped piece goes in.
    """

    id: str
    plank: int
    offcut: str | None
    stack: str | None
    take: str
    steps: tuple[CutStep, ...]
    lies: str = ""
    how_in: str | None = None
    variant: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSheet:
    """One row: the end where it begins, whole boards in it, its cut pieces, all of it in a line.

    ``trapped`` tells, before the row is laid, which of its pieces, whole ones too, go in how.
    """

    row: int
    begin: str
    whole: int
    pieces: tuple[PieceSheet, ...]
    line: str
    trapped: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RackEntry:
    """One offcut that is kept: its size, its stack, the piece it comes from and the one it is for.

    ``stack`` is None where it is used in its row, or is left over; ``cut_with`` is empty where
    it was there before.
    """

    label: str
    size: str
    stack: str | None
    plank: int
    cut_with: str
    used_by: str | None


class RowsOfSheet:
    """A plan and its sheet, to be read row by row."""

    def __init__(self, request: PlanRequest, plan: Plan, sheet: CutSheet) -> None:
        self.request, self.plan, self.sheet = request, plan, sheet
        self.near = LENGTH_TOLERANCE[plan.unit]
        self.pieces = laid_pieces(plan, request.laid)

    def rows(self, *, row: int | None = None) -> tuple[RowSheet, ...]:
        """Return the rows in the order of laying, or ``row`` alone; pieces down are left out."""
        rows: dict[int, list[LaidPiece]] = defaultdict(list)
        for piece in self.pieces:
            if not piece.before and row in (None, piece.row):
                rows[piece.row].append(piece)
        return tuple(self._row(number, pieces) for number, pieces in rows.items())

    def piece(self, piece_id: str) -> PieceSheet | None:
        """Return the sheet of one piece, None for a whole board.

        Raises KeyError where the plan has no such piece, or where it was down before.
        """
        piece = {one.piece.id: one for one in self.pieces if not one.before}[piece_id]
        return None if piece.whole(self.near) else self._piece(piece)

    def rack(self) -> tuple[RackEntry, ...]:
        """Return the offcuts that are kept, in the order in which they are cut."""
        return tuple(
            RackEntry(
                label=offcut.id,
                size=self._size(offcut),
                stack=offcut.stack,
                plank=offcut.plank,
                cut_with=self.cut_with_of.get(offcut.id, ""),
                used_by=offcut.used_by,
            )
            for offcut in self.plan.offcuts
        )

    def words(self, value: float) -> str:
        """Return a length in words."""
        return length_words(value, self.plan.unit, on_tape=True)

    @cached_property
    def cuts_of(self) -> dict[str, tuple[SawCut, ...]]:
        """The cuts of every piece, by its id."""
        cuts: dict[str, list[SawCut]] = defaultdict(list)
        for plank in self.sheet.planks:
            for cut in plank.cuts:
                cuts[cut.then.in_hand].append(cut)
        return {name: tuple(of_piece) for name, of_piece in cuts.items()}

    @cached_property
    def offcut_of(self) -> dict[str, Offcut]:
        """The offcut that each piece is cut from first, by the piece's id."""
        at_hand = self.request.on_hand.offcuts if self.request.on_hand else ()
        return {one.used_by: one for one in (*at_hand, *self.plan.offcuts) if one.used_by}

    @cached_property
    def cut_with_of(self) -> dict[str, str]:
        """The piece with which each offcut is cut, by the offcut's label."""
        first_of = {
            (plank.plank, cut.n): cut.then.in_hand
            for plank in self.sheet.planks
            for cut in plank.cuts
        }
        return {label: first_of[place] for place, label in self._labels.items()}

    @cached_property
    def _labels(self) -> dict[tuple[int, int], str]:
        """The label of the part that goes, by the number of the plank and that of the cut."""
        labels: dict[tuple[int, int], str] = {}
        for plank in self.sheet.planks:
            offcuts = [one for one in self.plan.offcuts if one.plank == plank.plank]
            left_over = iter([one for one in offcuts if not one.used_by])
            used = {one.used_by: one for one in offcuts if one.used_by}
            for cut in plank.cuts:
                then = cut.then
                offcut = used.get(then.aside[0]) if then.aside else None
                if not then.aside and not then.waste:
                    offcut = next(left_over, None)
                if offcut is not None:
                    labels[plank.plank, cut.n] = offcut.id
        return labels

    @cached_property
    def begun_by(self) -> dict[int, str]:
        """The piece that each plank is begun for, by its number."""
        begun: dict[int, str] = {}
        for piece in self.pieces:
            begun.setdefault(piece.piece.plank, piece.piece.id)
        for plank in self.sheet.planks:
            if plank.cuts and plank.plank not in self._before:
                begun[plank.plank] = plank.cuts[0].then.in_hand
        return begun

    @cached_property
    def _before(self) -> set[int]:
        """The planks that pieces which are down were cut from."""
        return {piece.piece.plank for piece in self.pieces if piece.before}

    def _row(self, number: int, pieces: Sequence[LaidPiece]) -> RowSheet:
        """Return one row."""
        left = self.request.lay.first_end is End.LEFT
        order = sorted(pieces, key=lambda p: p.bounds[0] if left else -p.bounds[2])
        turned = self.request.lay.behind(number) is Side.HIGH
        sheets = [
            (piece, None if piece.whole(self.near) else self._piece(piece)) for piece in order
        ]
        return RowSheet(
            row=number,
            begin="left" if left != turned else "right",
            whole=sum(piece.whole(self.near) for piece in pieces),
            pieces=tuple(sheet for _, sheet in sheets if sheet),
            line=", ".join(self._in_line(sheets)),
            trapped=tuple(self._trapped(order)),
        )

    def _trapped(self, pieces: Sequence[LaidPiece]) -> Iterator[str]:
        """Yield the trapped pieces of a row by how they go in."""
        by_way: dict[str, list[str]] = defaultdict(list)
        for piece in pieces:
            if (way := how_in(self.request, piece.piece)) is not None:
                by_way[way].append(piece.piece.id)
        for way, names in by_way.items():
            yield f"{', '.join(names)}: {way}."

    def _in_line(self, sheets: Sequence[tuple[LaidPiece, PieceSheet | None]]) -> Iterator[str]:
        """Yield the pieces of a row in a few words each, like whole boards counted together."""
        for (shade, whole), run in groupby(sheets, key=lambda one: (_shade(one[0]), not one[1])):
            if whole:
                yield f"{len(list(run))} whole{shade}"
                continue
            for piece, sheet in run:
                source = sheet and (sheet.offcut or f"plank {sheet.plank}")
                yield f"{self.words(piece.extent)} of {source}{shade}"

    def _piece(self, piece: LaidPiece) -> PieceSheet:
        """Return the sheet of one cut piece."""
        name = piece.piece.id
        offcut = self.offcut_of.get(name)
        steps = tuple(self._step(piece.piece.plank, cut) for cut in self.cuts_of.get(name, ()))
        return PieceSheet(
            id=name,
            plank=piece.piece.plank,
            offcut=offcut.id if offcut else None,
            stack=offcut.stack if offcut else None,
            take=self._take(piece, offcut),
            steps=steps,
            lies=self._lies(piece) if steps else "",
            how_in=how_in(self.request, piece.piece),
            variant=piece.piece.variant,
        )

    def _step(self, plank: int, cut: SawCut) -> CutStep:
        """Return one cut with the label of what is kept of the part that goes."""
        label = self._labels.get((plank, cut.n))
        text = f"{cut.text} Label {label}." if label else cut.text
        return CutStep(n=cut.n, text=text, tool=cut.tool)

    def _take(self, piece: LaidPiece, offcut: Offcut | None) -> str:
        """Return what a piece is cut from, with the size of what is no board like all others."""
        plank = piece.piece.plank
        if offcut is not None:
            source = f"offcut {offcut.id}"
            if offcut.stack:
                source = f"{offcut.id} from stack {offcut.stack}"
            elif self.cut_with_of.get(offcut.id) in self._row_names(piece.row):
                source = f"{offcut.id}, kept in hand"
            return f"Take {source}: {self._size(offcut)}."
        if self.begun_by[plank] != piece.piece.id:
            return f"Take the rest of plank {plank}."
        size = ""
        if len(self.request.product.boards) > 1:
            length, width = (self.words(side) for side in piece.piece.size)
            size = f": {length} by {width}"
        return f"Take a new board{_shade(piece)}, plank {plank}{size}."

    def _row_names(self, row: int) -> set[str]:
        """Return the ids of the pieces of a row."""
        return {piece.piece.id for piece in self.pieces if piece.row == row}

    def _size(self, offcut: Offcut) -> str:
        """Return how large an offcut is; one that is no box, at most."""
        size = f"{self.words(offcut.length)} by {self.words(offcut.width)}"
        if offcut.outline:
            lacks = offcut.length * offcut.width - Polygon(offcut.outline).area
            return f"at most {size}" if lacks > BOX_TOLERANCE else size
        return size

    def _lies(self, piece: LaidPiece) -> str:
        """Return where on its board a piece lies that keeps neither end, or neither edge, of it."""
        length, width = piece.piece.size
        x0, y0, x1, y1 = piece.in_plank.bounds
        if self.request.lay.behind(piece.row) is Side.HIGH:
            x0, y0, x1, y1 = length - x1, width - y1, length - x0, width - y0
        places = []
        if x0 > self.near and x1 < length - self.near:
            places.append(f"{self.words(x0)} to {self.words(x1)} from its left end")
        if y0 > self.near and y1 < width - self.near:
            places.append(f"{self.words(y0)} to {self.words(y1)} from its near edge")
        return f"Of the whole board it is {' and '.join(places)}." if places else ""


def _shade(piece: LaidPiece) -> str:
    """Return the shade of a piece as it stands after what it names; empty where none is known."""
    return f" ({piece.piece.variant})" if piece.piece.variant else ""
