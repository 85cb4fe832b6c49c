"""The cut sheet: what to do to each board, in words for a person kneeling on the laid floor.

The person faces the next row, the board lies face up in front of them as it will lie on the floor:

        far edge                  rows go this way
    +----------------+                  ^
    | left     right |                  |
    +----------------+                person
        near edge

Every cut is measured from an end and an edge that the piece keeps as they came from the factory,
never from another cut, so that errors do not add up. Where both ends or both edges are kept, the
figure is what stays. Figures are told to 1/16 in or 1 mm.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from shapely.geometry import box

from layout.cutsheet.blanks import Blank, PieceMarks, Step, blank_of, how_in_words
from layout.values.laid_pieces import LaidPiece, laid_pieces
from layout.values.material import End, GoesIn, Side
from layout.values.plan import Offcut, Piece, Plan
from layout.values.request import PlanRequest
from layout.values.tolerances import BESIDE_TOLERANCE, LENGTH_TOLERANCE
from layout.values.units import length_words

HOW_TO_READ = (
    "Kneel on the laid floor and face the next row: left, right, near and far are as you see the "
    "board, face up, the way it will lie. Make the square cuts and rips first, then set out all "
    "marks, then cut along them. Measure from the end and edge that are named."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSheet:
    """What to do for one cut piece.

    ``take`` names the board or offcut to cut it from, with its size; ``steps`` the cuts in order;
    ``leaves`` the labels of what is kept of it; ``how_in`` how a trapped piece goes in.
    """

    id: str
    plank: int
    offcut: str | None
    take: str
    steps: tuple[Step, ...]
    leaves: tuple[str, ...] = ()
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
    """One offcut on the rack: its size, the piece it comes from, the piece it waits for."""

    label: str
    size: str
    plank: int
    cut_with: str
    used_by: str | None


def cut_sheet(request: PlanRequest, plan: Plan, *, row: int | None = None) -> tuple[RowSheet, ...]:
    """Return the cut sheet row by row, in the order of laying; pieces down already are left out.

    ``row``: the sheet of this row alone.
    """
    sheet = _Sheet(request, plan)
    rows: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in sheet.pieces:
        if not piece.before and row in (None, piece.row):
            rows[piece.row].append(piece)
    return tuple(sheet.row(number, pieces) for number, pieces in rows.items())


def piece_sheet(request: PlanRequest, plan: Plan, piece_id: str) -> PieceSheet | None:
    """Return the sheet of one piece, None for a whole board.

    Raises KeyError where the plan has no such piece, or where it was down before.
    """
    sheet = _Sheet(request, plan)
    new = {piece.piece.id: piece for piece in sheet.pieces if not piece.before}
    piece = new[piece_id]
    return None if piece.whole(sheet.near) else sheet.piece(piece)


def how_in(request: PlanRequest, piece: Piece) -> str | None:
    """Return how a piece, cut or whole, goes in where it is trapped, None where it is not."""
    if not piece.trapped:
        return None
    return how_in_words(piece.goes_in or GoesIn.MAKER, request.product.lock, piece.row)


def rack_list(request: PlanRequest, plan: Plan) -> tuple[RackEntry, ...]:
    """Return the offcuts that wait on the rack, in the order in which they are cut."""
    sheet = _Sheet(request, plan)
    return tuple(
        RackEntry(
            label=offcut.id,
            size=f"{sheet.words(offcut.length)} by {sheet.words(offcut.width)}",
            plank=offcut.plank,
            cut_with=sheet.cut_with(offcut),
            used_by=offcut.used_by,
        )
        for offcut in plan.offcuts
    )


class _Sheet:
    """A plan with what its cut sheet needs at hand."""

    def __init__(self, request: PlanRequest, plan: Plan) -> None:
        self.request, self.plan = request, plan
        self.near = LENGTH_TOLERANCE[plan.unit]
        self.pieces = laid_pieces(plan, request.laid)
        known = (*plan.offcuts, *(request.on_hand.offcuts if request.on_hand else ()))
        self.offcut_of = {offcut.used_by: offcut for offcut in known if offcut.used_by}

    def words(self, value: float) -> str:
        """Return a length in words."""
        return length_words(value, self.plan.unit, on_tape=True)

    def row(self, number: int, pieces: Sequence[LaidPiece]) -> RowSheet:
        """Return the sheet of one row."""
        left = self.request.lay.first_end is End.LEFT
        order = sorted(pieces, key=lambda p: p.bounds[0] if left else -p.bounds[2])
        turned = self.request.lay.behind(number) is Side.HIGH
        sheets = [(piece, None if piece.whole(self.near) else self.piece(piece)) for piece in order]
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
        """Yield the pieces of a row in a few words each, whole boards counted together."""
        whole = 0
        for piece, sheet in sheets:
            if sheet is None:
                whole += 1
                continue
            if whole:
                yield f"{whole} whole"
                whole = 0
            source = sheet.offcut or f"plank {sheet.plank}"
            yield f"{self.words(piece.extent)} of {source}"
        if whole:
            yield f"{whole} whole"

    def piece(self, piece: LaidPiece) -> PieceSheet:
        """Return the sheet of one cut piece."""
        offcut = self.offcut_of.get(piece.piece.id)
        blank = blank_of(piece, offcut, self.request.lay.behind(piece.row))
        size = f"{self.words(blank.length)} by {self.words(blank.width)}"
        source = f"offcut {offcut.id}" if offcut else self._source(piece)
        return PieceSheet(
            id=piece.piece.id,
            plank=piece.piece.plank,
            offcut=offcut.id if offcut else None,
            take=f"Take {source}: {size}.",
            steps=tuple(self._steps(piece, blank)),
            leaves=tuple(self._left_by.get(piece.piece.id, ())),
            how_in=how_in(self.request, piece.piece),
            variant=piece.piece.variant,
        )

    def _source(self, piece: LaidPiece) -> str:
        """Return what a piece is cut from where that is no offcut."""
        plank = piece.piece.plank
        if piece.piece.id in self._shares:
            return f"the rest of plank {plank}, measured as the whole board"
        return f"a new board, plank {plank}"

    @cached_property
    def _shares(self) -> dict[str, str]:
        """Pieces cut from what another left of a plank, though it is no offcut: their first one."""
        firsts: dict[int, str] = {}
        shares: dict[str, str] = {}
        for piece in self.pieces:
            if piece.piece.id in self.offcut_of:
                continue
            first = firsts.setdefault(piece.piece.plank, piece.piece.id)
            if first != piece.piece.id and not piece.before:
                shares[piece.piece.id] = first
        return shares

    def _steps(self, piece: LaidPiece, blank: Blank) -> Iterator[Step]:
        """Yield the cuts of a piece."""
        tool = "saw" if self.request.rules.saw_kerf > 0 else "score"
        site = next((cut for cut in piece.piece.cuts if cut.final != "exact"), None)
        return PieceMarks(blank, self.plan.unit, tool).steps(site)

    @cached_property
    def _by_plank(self) -> dict[int, list[LaidPiece]]:
        planks: dict[int, list[LaidPiece]] = defaultdict(list)
        for piece in self.pieces:
            planks[piece.piece.plank].append(piece)
        return planks

    @cached_property
    def _left_by(self) -> dict[str, list[str]]:
        """The labels of the offcuts that the cutting of each piece leaves."""
        labels: dict[str, list[str]] = defaultdict(list)
        for offcut in self.plan.offcuts:
            labels[self.cut_with(offcut)].append(offcut.id)
        for piece, before in self._shares.items():
            labels[before].append(f"the rest for {piece}")
        return labels

    def cut_with(self, offcut: Offcut) -> str:
        """Return the piece whose cutting leaves an offcut: the last one beside it in its plank."""
        x, y = offcut.at
        shape = box(x, y, x + offcut.length, y + offcut.width)
        reach = self.request.rules.saw_kerf + BESIDE_TOLERANCE
        last = ""
        for piece in self._by_plank[offcut.plank]:
            if piece.piece.id == offcut.used_by:
                break
            if not last or piece.in_plank.distance(shape) <= reach:
                last = piece.piece.id
        return last
