"""What a plan wants of every plank, in the plank's coordinates: its pieces and its leftovers.

Read from the JSON of a request and its plan by arithmetic of its own, so that nothing is shared
with what makes plans and sheets, or judges them.

        high side
    +----------------+
    | left     right |      a plank lies as in the floor, its lower-left corner at 0, 0
    +----------------+
        low side
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Any

import shapely
from shapely.geometry import Polygon, box

Json = dict[str, Any]
Point = tuple[float, float]
SIDES = ("left end", "right end", "low side", "high side")


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWanted:
    """One piece that a plank must give; ``order`` is its place in the order of laying."""

    id: str
    row: int
    order: int
    shape: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftoverListed:
    """One leftover that the plan lists."""

    id: str
    shape: Polygon
    keeps: frozenset[str]
    used_by: str | None
    stack: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlankWanted:
    """One plank: what is there of it before the first cut, and what the plan wants of it.

    ``blanks`` are the whole plank, or what is at hand of one that was begun before.
    """

    number: int
    size: tuple[float, float]
    blanks: tuple[Polygon, ...]
    pieces: tuple[PieceWanted, ...]
    leftovers: tuple[LeftoverListed, ...]

    def piece(self, name: str) -> PieceWanted | None:
        """Return a piece by its id, None where the plank gives no such piece."""
        return next((piece for piece in self.pieces if piece.id == name), None)

    @property
    def first(self) -> int:
        """The place in the order of laying of the first piece."""
        return min(piece.order for piece in self.pieces)


def turned_back(ring: Sequence[Sequence[float]], direction_deg: float) -> list[Point]:
    """Return room points in the direction frame."""
    c, s = cos(radians(direction_deg)), sin(radians(direction_deg))
    return [(x * c + y * s, y * c - x * s) for x, y in ring]


def shape_in_plank(piece: Json, direction_deg: float) -> Polygon:
    """Return the shape of a piece in the coordinates of its plank."""
    ((x0, y0),) = turned_back([piece["origin"]], direction_deg)
    outline, *holes = [
        [(x - x0, y - y0) for x, y in turned_back(ring, direction_deg)]
        for ring in (piece["outline"], *piece.get("holes", []))
    ]
    return Polygon(outline, holes)


def planks_wanted(request: Json, plan: Json) -> dict[int, PlankWanted]:
    """Return every plank that a plan cuts a piece from, by number, in the order of laying.

    Pieces that were down before the plan are none of them.
    """
    turn = float(plan["direction_deg"])
    laid = {piece["id"]: piece for piece in request.get("laid", [])}
    pieces: dict[int, list[PieceWanted]] = defaultdict(list)
    sizes: dict[int, tuple[float, float]] = {}
    for order, piece in enumerate(plan["pieces"]):
        if piece["id"] in laid:
            continue
        length, width = piece["size"]
        sizes[piece["plank"]] = (length, width)
        wanted = PieceWanted(
            id=piece["id"], row=piece["row"], order=order, shape=shape_in_plank(piece, turn)
        )
        pieces[piece["plank"]].append(wanted)
    return {
        number: PlankWanted(
            number=number,
            size=sizes[number],
            blanks=tuple(_blanks(request, number, sizes[number], turn)),
            pieces=tuple(of_plank),
            leftovers=tuple(
                leftover(entry) for entry in plan["offcuts"] if entry["plank"] == number
            ),
        )
        for number, of_plank in pieces.items()
    }


def leftover(entry: Json) -> LeftoverListed:
    """Return a leftover as the plan lists it."""
    return LeftoverListed(
        id=entry["id"],
        shape=_outline(entry),
        keeps=frozenset(entry["keeps"]),
        used_by=entry.get("used_by"),
        stack=entry.get("stack"),
    )


def _outline(entry: Json) -> Polygon:
    """Return the outline of a leftover, its bounds where it has none."""
    if entry.get("outline"):
        return Polygon(entry["outline"])
    x, y = entry.get("at", (0.0, 0.0))
    return box(x, y, x + entry["length"], y + entry["width"])


def _blanks(request: Json, number: int, size: tuple[float, float], turn: float) -> list[Polygon]:
    """Return what is there of a plank before its first cut."""
    laid = [piece for piece in request.get("laid", []) if piece["plank"] == number]
    at_hand = (request.get("on_hand") or {}).get("offcuts", [])
    held = [entry for entry in at_hand if entry["plank"] == number]
    if not laid and not held:
        return [box(0.0, 0.0, *size)]
    gone = shapely.union_all([shape_in_plank(piece, turn) for piece in laid])
    rests = [_outline(entry).difference(gone) for entry in held]
    return [largest(rest) for rest in rests]


def largest(shape: Any) -> Polygon:
    """Return the largest part of a shape."""
    return max(polygons(shape), key=lambda part: part.area, default=Polygon())


def polygons(shape: Any) -> list[Polygon]:
    """Return the polygons that a shape consists of."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, Polygon) and not part.is_empty]
