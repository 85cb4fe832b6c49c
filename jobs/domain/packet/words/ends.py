"""What is done at the end of a notched last piece where its own box says more or less. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from layout.cutsheet.strips.values import FloorStrips, WallPiece


@dataclass(frozen=True, kw_only=True, slots=True)
class PieceEnd:
    """The end of a notched last piece: which, and in words what is done there and when.

    ``line`` stands at the line across the plank; empty where that cut has a number already.
    """

    side: str
    line: str
    words: str


def ends_of(floor: FloorStrips) -> Mapping[str, PieceEnd]:
    """Return the ends of the notched pieces that are measured, by the piece."""
    ends: dict[str, PieceEnd] = {}
    for row in floor.rows:
        side = "right" if row.begin == "left" else "left"
        notched = {piece.id for piece in row.pieces if piece.notched}
        for wall in row.walls:
            if wall.id in notched and not wall.part and wall.kind in ("cut", "expect"):
                ends[wall.id] = _end(wall, side)
    return ends


def _end(wall: WallPiece, side: str) -> PieceEnd:
    over = f"Over {wall.limits.split()[-1]}: {_over_words(wall)}."
    if wall.kind == "cut":
        return PieceEnd(side=side, line="", words=over)
    return PieceEnd(
        side=side,
        line=f"cut across here first, if its box is under {wall.cut}",
        words=f"Its end box under {wall.cut}: cut it across at the {side} end first, by the box,"
        f" then the notch by its own boxes. {over}",
    )


def _over_words(wall: WallPiece) -> str:
    """Return what to do where the piece does not reach, the notch in it."""
    if wall.over == "a new plank":
        return "cut it from a new plank, with the same notch by the same boxes"
    if " new to " in wall.over:
        return f"{wall.over}; tape its end again, then the notch by its boxes"
    if wall.over.startswith("row up"):
        return f"{wall.over}; the new plank that ends the row takes the notch, by the same boxes"
    if wall.over.startswith("cut it"):
        return f"{wall.over.removesuffix(' new')} then from a new plank"
    return f"{wall.over}: cut nothing, call the office"
