"""The cuts of a row whose rip is each piece's last: told once, the others numbered on their own.

32-1 crosscut 1, rip 2; 32-5 crosscut 3, rip 4   ->   32-1: 1; 32-5: 2; rip each, last

A row that is measured at its end is told so too: its last piece is taped and cut, then ripped.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace

from layout.cutsheet.strips.values import StripCut, StripRow


def with_rip_last(row: StripRow, planks: Mapping[str, int]) -> StripRow:
    """Return a row whose rip is told last where a piece of it is cut to length before.

    Only where it is the last cut of each of its pieces; ``planks`` are those that pieces are of.
    """
    rip = row.rip_all
    if rip is None:
        return row

    def is_rip(cut: StripCut) -> bool:
        return cut.kind == "rip" and cut.far == rip.far

    ripped = [piece for piece in row.pieces if any(is_rip(cut) for cut in piece.cuts)]
    numbered_rips = any(cut.n for piece in ripped for cut in piece.cuts if is_rip(cut))
    if not (numbered_rips or row.walls) or not all(is_rip(p.cuts[-1]) for p in ripped):
        return row
    others: dict[int, list[int]] = defaultdict(list)
    for piece in row.pieces:
        others[planks[piece.id]] += [c.n for c in piece.cuts if c.n and not is_rip(c)]
    new = {
        (plank, n): place
        for plank, of_plank in others.items()
        for place, n in enumerate(sorted(of_plank), start=1)
    }

    def numbered(name: str, n: int | None) -> int | None:
        return new.get((planks[name], n)) if n else None

    return replace(
        row,
        rip_last=True,
        pieces=tuple(
            replace(
                piece,
                cuts=tuple(replace(cut, n=numbered(piece.id, cut.n)) for cut in piece.cuts),
                rests=tuple(replace(rest, n=numbered(piece.id, rest.n)) for rest in piece.rests),
            )
            for piece in row.pieces
        ),
        walls=tuple(
            replace(wall, n=numbered(wall.id, wall.n)) if wall.n else wall for wall in row.walls
        ),
    )
