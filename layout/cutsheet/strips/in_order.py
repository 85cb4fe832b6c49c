"""The pieces of a row in words, in the order in which they lie from the end where it begins.

10-1    29¾    from a new plank; leaves 18¼ to stack A for 13-5
               3 whole planks
10-5    10¼    from stack A; tape it: 10½ to the wall, less ¼; 8 to 11¾ will do
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from layout.cutsheet.strips.cuts import bare_words
from layout.cutsheet.strips.values import StripMark, StripPiece, StripRest, StripRow, WallPiece
from layout.values.tolerances import BOX_TOLERANCE, LENGTH_TOLERANCE

_SOURCES = {"new": "from a new plank", "hand": "from what is in hand"}
_TAPED = {"cut", "expect"}  # boxes at the end of a row: its last piece is measured on site
_FROM = {"right": "left", "left": "right"}


@dataclass(frozen=True, slots=True, kw_only=True)
class RowStretch:
    """What lies next in a row: one cut piece, or whole planks side by side.

    ``piece`` and its ``size`` are empty where nothing is cut.
    """

    piece: str
    size: str
    words: str


def in_order(row: StripRow, unit: str) -> tuple[RowStretch, ...]:
    """Return what lies in a row, from the end where it begins."""
    pieces = row.pieces if row.begin == "left" else row.pieces[::-1]
    walls = {wall.id: wall for wall in row.walls if wall.kind in _TAPED and not wall.part}
    return tuple(_stretches(pieces, walls, unit))


def width_words(row: StripRow) -> str:
    """Return how the width of a last row is taken on site, "" for any other row."""
    wall = next((wall for wall in row.walls if wall.kind == "rip"), None)
    if wall is None:
        return ""
    return (
        f"Before ripping, tape to the {wall.stop} left, middle and right, less {wall.gap}: "
        f"{wall.cut} as drawn, {wall.limits}"
    )


def with_wall_figures(row: StripRow) -> StripRow:
    """Return a row without boxes to write in: what they say is cut stands over its piece."""
    figures = {wall.id: wall.cut for wall in row.walls if wall.kind == "cut"}
    return replace(
        row,
        walls=(),
        tape=None,
        pieces=tuple(_with_figure(piece, figures.get(piece.id, "")) for piece in row.pieces),
    )


def _with_figure(piece: StripPiece, figure: str) -> StripPiece:
    cuts = tuple(
        replace(cut, far=StripMark(figure=figure, end=_FROM[cut.side]))
        if figure and cut.kind == "wall"
        else cut
        for cut in piece.cuts
    )
    return replace(piece, cuts=cuts)


def _stretches(
    pieces: Sequence[StripPiece], walls: dict[str, WallPiece], unit: str
) -> Iterator[RowStretch]:
    """Yield cut pieces one by one, whole planks that are alike counted where they lie."""
    for (whole, down, kind), run in groupby(pieces, lambda one: (one.whole, one.down, one.kind)):
        alike = [*run]
        if down:
            yield RowStretch(piece="", size="", words="what is down")
        elif whole:
            planks = f"{len(alike)} whole plank{'s' if len(alike) > 1 else ''}"
            taped = [_taped(walls[one.id]) for one in alike if one.id in walls]
            words = "; ".join([f"{planks}, {kind}" if kind else planks, *taped])
            yield RowStretch(piece="", size="", words=words)
        else:
            for piece in alike:
                yield _cut_piece(piece, walls.get(piece.id), unit)


def _cut_piece(piece: StripPiece, wall: WallPiece | None, unit: str) -> RowStretch:
    words = [_source(piece), *_shape(piece), *map(_rest, piece.rests)]
    if wall is not None:
        words.append(_taped(wall))
    cut = wall.cut if wall is not None and wall.kind == "cut" else ""
    return RowStretch(piece=piece.id, size=_size(piece, cut, unit), words="; ".join(words))


def _taped(wall: WallPiece) -> str:
    """Return how a last piece is measured on site, and what it may come to."""
    taped = f"tape it: {wall.to_wall} to the {wall.stop}, less {wall.gap}"
    return f"{taped}; {wall.limits} will do" if wall.limits else taped


def _size(piece: StripPiece, cut: str, unit: str) -> str:
    """Return how long a piece is, how wide where it is ripped, "at most" where more of it goes."""
    x0, y0, x1, y1 = piece.shape.bounds
    size = cut or bare_words(x1 - x0, unit)
    if piece.size[1] - (y1 - y0) > LENGTH_TOLERANCE[unit]:
        size = f"{size} × {bare_words(y1 - y0, unit)}"
    lacks = (x1 - x0) * (y1 - y0) - piece.shape.area
    return f"{size} at most" if lacks > BOX_TOLERANCE else size


def _source(piece: StripPiece) -> str:
    words = f"from stack {piece.stack}" if piece.stack else ""
    words = words or _SOURCES.get(piece.source, "from what is on hand")
    return f"{words}, {piece.kind}" if piece.kind else words


def _shape(piece: StripPiece) -> Iterator[str]:
    """Yield what else than square cuts and rips is done to a piece."""
    if any(cut.kind == "slant" for cut in piece.cuts):
        yield "cut at a slant"
    if piece.notched:
        yield "notched, as the sheet shows"


def _rest(rest: StripRest) -> str:
    where = f"to stack {rest.stack} for" if rest.stack else "for"
    return f"leaves {rest.size.replace(' x ', ' × ')} {where} {rest.name}"
