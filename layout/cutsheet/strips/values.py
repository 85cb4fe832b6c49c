"""What a strip shows: the pieces of a row as they lie, their cuts, where rests go. Frozen values.

far edge
+------+-----------+-----------+     all as the person sees it who kneels on the laid floor
| 4-1  |  2 whole  |           |     and faces the next row: x runs to the right
+------+-----------+-----------+
near edge
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.values.outline import Point, Region


@dataclass(frozen=True, slots=True, kw_only=True)
class StripMark:
    """A figure of a cut, or the corner where it ends.

    ``end`` is the end or edge that it is measured from; ``stays`` whether what is measured stays.
    """

    figure: str
    end: str = ""
    stays: bool = True

    @property
    def off(self) -> str:
        """The words behind the figure where what is measured comes off; else none."""
        return "" if self.stays else f" off {self.end}"


@dataclass(frozen=True, slots=True, kw_only=True)
class StripCut:
    """One cut of a piece.

    ``kind``: end, rip, slant, wall (the last piece's, measured on site) or shaped (drawn with the
    notched planks). ``n`` is None where nothing else is cut of its plank in that row. ``side`` is
    the end or edge that goes; ``near`` is the second figure of a slant, on the near edge.
    """

    kind: str
    side: str
    n: int | None = None
    far: StripMark | None = None
    near: StripMark | None = None
    path: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StripRest:
    """Where the part that a cut takes off goes: the piece that it becomes, on which stack.

    ``n``: the number of the cut where its piece has several.
    """

    name: str
    size: str
    stack: str | None
    n: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPiece:
    """A last piece, measured on site from the face edge of the plank before it.

    ``to_wall`` less ``gap`` is ``cut``; ``limits`` are what it may come to, ``over`` and ``under``
    what is done past them. ``stop`` names what stands there: wall, end line, post. ``kind``: cut
    where the box is what the plank is cut to; expect where the figure is told elsewhere, or the
    plank is whole, unless the tape says less; rip where the last row's width is measured; stays
    where a notch is. ``part``: from where a notch is marked, empty for the end of the piece.
    ``begin``: what is taped from across the row.
    """

    id: str
    n: int | None
    stop: str
    to_wall: str
    gap: str
    cut: str
    limits: str
    over: str
    under: str = ""
    kind: str = "cut"
    part: str = ""
    begin: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StripPiece:
    """A piece of a row: from where to where it lies along it, what is cut, where it comes from.

    ``shape`` and ``gone`` lie on the whole board, its near left corner at 0, 0; ``begins`` is that
    corner's place along the row. ``source``: new, stack, hand or here (it was there before).
    """

    id: str
    begins: float
    size: tuple[float, float]
    shape: Region
    gone: Region
    whole: bool
    down: bool
    source: str = "new"
    stack: str | None = None
    kind: str = ""
    cuts: tuple[StripCut, ...] = ()
    rests: tuple[StripRest, ...] = ()

    @property
    def span(self) -> tuple[float, float]:
        """From where to where it lies along the row."""
        return self.begins + self.shape.bounds[0], self.begins + self.shape.bounds[2]

    @property
    def notched(self) -> bool:
        """Whether a cut of it is drawn with the notched planks."""
        return any(cut.kind == "shaped" for cut in self.cuts)


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeAcross:
    """What is taped from the start wall to the far wall before row one.

    ``plan`` less ``less``, which is all before the last row and its gap, is what ``stays`` of it.
    """

    plan: str
    less: str
    row: int
    stays: str
    limits: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StripRow:
    """A row: its number, its far edge from the start wall, where it begins, its pieces.

    ``tape`` is what is taped before it is laid. ``rip_all`` is a rip that all pieces but ``but``
    have, each of them as its last cut where it is ``rip_last``; ``notes`` are sentences beneath.
    """

    row: int
    far: str
    begin: str
    pieces: tuple[StripPiece, ...]
    walls: tuple[WallPiece, ...]
    rip_all: StripCut | None = None
    but: tuple[str, ...] = ()
    rip_last: bool = False
    notes: tuple[str, ...] = ()
    tape: TapeAcross | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePlace:
    """Where a line lies: in a sentence, and as short as a heading has room for."""

    words: str
    short: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorStrips:
    """All rows of a floor in the order of laying, their longest reach, the widest board.

    ``lines`` says where each line lies at which rows end.
    """

    unit: str
    rows: tuple[StripRow, ...]
    reach: float
    width: float
    spares: int
    lines: tuple[LinePlace, ...] = ()
