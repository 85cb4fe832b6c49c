"""What is read of a strip on paper: pieces, their cuts, where rests go, and a last piece."""

from __future__ import annotations

import re
from dataclasses import dataclass, field


class NotReadError(Exception):
    """A page that can't be followed; the text says where and why."""


@dataclass(slots=True, kw_only=True)
class CutReading:
    """A cut: its kind, the side that goes, its figures as they stand there.

    ``figure`` is measured from ``base``; ``near`` is the mark on the near edge of a slant.
    """

    kind: str
    side: str = ""
    n: int | None = None
    figure: str = ""
    base: str = ""
    near: str = ""
    near_base: str = ""


@dataclass(slots=True, kw_only=True)
class RestReading:
    """Where the part that a cut takes off goes."""

    name: str
    stack: str | None
    long: str
    wide: str | None
    n: int | None


@dataclass(slots=True, kw_only=True)
class WallReading:
    """A box at the end of a row.

    ``begin``: what is taped from where it lies across the row; ``base``: where a notch is marked.
    """

    name: str
    to_wall: str
    gap: str
    cut: str
    least: str | None = None
    most: str = ""
    over: str = ""
    n: int | None = None
    kind: str = "cut"
    under: str = ""
    begin: str = ""
    base: str = ""


@dataclass(slots=True, kw_only=True)
class PieceReading:
    """A piece: where it stands on the page, its source, its cuts, where rests go."""

    name: str
    row: int
    span: tuple[float, float]
    source: str = "new"
    stack: str | None = None
    notched: bool = False
    cuts: list[CutReading] = field(default_factory=list)
    rests: list[RestReading] = field(default_factory=list)
    wall: WallReading | None = None
    notch_walls: list[WallReading] = field(default_factory=list)


ACROSS = {"left": "right", "right": "left", "near": "far", "far": "near"}
"""The other side of each."""


def rip_reading(read: re.Match[str], number: int | None) -> CutReading:
    """Return the cut along a plank that stands in these words."""
    edge = read["edge"]
    side = ACROSS[edge] if read["stays"] else edge
    figure = read["stays"] or read["off"]
    return CutReading(kind="rip", side=side, n=number, figure=figure, base=edge)


def wall_reading(head: re.Match[str], gap: str, limit: re.Match[str]) -> WallReading:
    """Return the box at the end of a row that stands in these words."""
    return WallReading(
        name=limit["name"],
        to_wall=head["to_wall"],
        gap=gap,
        cut=head["cut"],
        least=limit["least"] or limit["only"],
        most=limit["most"] or limit["top"] or limit["only"] or "",
        over=limit["over"] or "",
        n=int(head["n"]) if head["n"] else None,
        kind=head["what"],
    )


def notch_reading(head: re.Match[str], gap: re.Match[str]) -> WallReading:
    """Return the box of a notch that stands in these words."""
    return WallReading(
        name=head["notch"],
        to_wall=head["to_wall"],
        gap=gap["gap"],
        cut=head["cut"],
        kind=head["what"],
        begin=head["begin"] or "",
        base=gap["base"],
    )
