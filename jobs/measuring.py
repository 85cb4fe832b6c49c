"""From what was typed in a room to its outline: pure.

Walls are walked in either direction, wall after wall; the first runs along +x from (0, 0). A turn
is to the left or to the right, square unless the angle between the two walls is given. Holes are
measured from the first corner: along the first wall, and square to it into the room.

      (3)<---2---(2)
       |          ^        1, 2, ... the walls; (0) the first corner;
       3          1        here every corner turns to the left
       v          |
      (0)---0--->(1)
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from shapely.geometry import LineString, Polygon

from jobs.words import core_length_words
from layout.errors import InputError
from layout.outline import (
    LENGTH_TOLERANCE,
    Hole,
    HoleKind,
    Ring,
    edges_of,
    ring_area,
)
from layout.units import Unit, parse_length
from layout.walk import Leg, Suspect, Walk, suspects, walk_outline

CLOSES_IN = 200  # a walk may miss by one part in so many; common practice, no source
CLOSES_WITHIN = {"in": 0.5, "mm": 13.0}  # and by this much at any rate

TURNS = [("left", "Left"), ("right", "Right")]

# What stands in a room, and how the layout core calls it.
HOLE_KINDS: Mapping[str, tuple[str, str]] = {
    "column": ("Column or post", "post"),
    "pipe": ("Pipe", "post"),
    "hearth": ("Hearth", "post"),
    "flange": ("Toilet flange", "post"),
    "cabinet": ("Island or fixed cabinet", "cabinet"),
    "register": ("Floor register", "register"),
}


class MeasureError(ValueError):
    """What was typed makes no room: at which row, which field, and why, in a sentence.

    ``part`` is "wall", "hole", or "room" for the outline as a whole; ``row`` counts from 0.
    """

    def __init__(self, sentence: str, *, part: str = "room", row: int = 0, field: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.part = part
        self.row = row
        self.field = field


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A room as drawn, in the job's unit: by how much the walk missed, and what was spread."""

    outline: Ring
    holes: tuple[Hole, ...]
    unit: str
    misclosure: float
    walked: float

    @property
    def area(self) -> float:
        """Floor area less the holes."""
        return float(Polygon(self.outline, [hole.ring for hole in self.holes]).area)

    @property
    def perimeter(self) -> float:
        """Length of all walls as drawn."""
        return sum(math.dist(a, b) for a, b in edges_of(self.outline))

    @property
    def walls(self) -> list[float]:
        """Length of each wall as drawn."""
        return [math.dist(a, b) for a, b in edges_of(self.outline)]

    @property
    def misclosure_words(self) -> str:
        """The closing error as length and ratio; empty where the walk closes."""
        if self.misclosure < LENGTH_TOLERANCE[self.unit]:
            return ""
        ratio = round(self.walked / self.misclosure)
        return f"{core_length_words(self.misclosure, self.unit)}, 1 in {ratio:,}"


def draw_room(measured: Mapping[str, Any], *, unit: str) -> Drawn:
    """Return the room that was typed; see `jobs.models.Room.measured` for the form.

    Raises MeasureError naming the row and what would be accepted.
    """
    walk = _walk(measured.get("walls", []), close=bool(measured.get("close_last")), unit=unit)
    _refuse_crossed(walk.outline)
    holes: list[Hole] = []
    for row, typed in enumerate(measured.get("holes", [])):
        holes.append(_hole(typed, walk.outline, holes, row, unit))
    return Drawn(
        outline=walk.outline,
        holes=tuple(holes),
        unit=unit,
        misclosure=walk.gap,
        walked=walk.walked,
    )


def _walk(walls: Sequence[Mapping[str, Any]], *, close: bool, unit: str) -> Walk:
    """Return the outline of the walk, a small closing error spread over its walls."""
    least = 2 if close else 3
    if len(walls) < least:
        accepted = f"{least} or more, or length and width of a rectangle"
        found = f"{len(walls)} wall{'' if len(walls) == 1 else 's'} typed"
        raise MeasureError(f"{found}; accepted: {accepted}.")
    legs = [_leg(wall, row, unit) for row, wall in enumerate(walls)]
    walk = walk_outline(legs, close=close)
    if close:
        _refuse_closed(legs, unit)
    else:
        _refuse_open(legs, walk, unit)
    return walk


def _leg(wall: Mapping[str, Any], row: int, unit: str) -> Leg:
    """Return a typed wall as a leg of the walk."""
    length = _length(wall["length"], unit, part="wall", row=row, field="length")
    turn = 180.0 - float(Decimal(wall.get("angle") or 90))
    return Leg(length=length, turn=-turn if wall.get("turn") == "right" else turn)


def _refuse_open(legs: Sequence[Leg], walk: Walk, unit: str) -> None:
    """Refuse a walk that ends too far from where it began, at the wall most likely wrong."""
    most = max(walk.walked / CLOSES_IN, CLOSES_WITHIN[unit])
    if walk.gap <= most:
        return
    found = f"{core_length_words(walk.gap, unit)} from the first corner, 1 in {walk.one_in:.0f}"
    accepted = f"accepted: up to {core_length_words(most, unit)}, which is spread over the walls"
    sentence = f"The walk ends {found}; {accepted}."
    likely = suspects(legs, within=most)
    if not likely:
        more = "Check lengths and turns, or close the outline with one more wall."
        raise MeasureError(f"{sentence} {more}")
    raise MeasureError(
        f"{sentence} {_suspicion(likely[0], unit)}",
        part="wall",
        row=likely[0].leg,
        field=likely[0].what,
    )


def _suspicion(suspect: Suspect, unit: str) -> str:
    """Return what would close the walk, in a sentence."""
    wall = f"wall {suspect.leg + 1}"
    if suspect.what == "turn":
        side = "left" if suspect.instead > 0 else "right"
        return f"It would close with a turn to the {side} after {wall}."
    return f"It would close with {core_length_words(suspect.instead, unit)} for {wall}."


def _refuse_closed(legs: Sequence[Leg], unit: str) -> None:
    """Refuse one wall more where the walk is back at its first corner already."""
    if len(legs) > 2 and walk_outline(legs).gap <= CLOSES_WITHIN[unit]:
        raise MeasureError(
            "The walk is back at its first corner; accepted: the outline without one more wall."
        )


def _refuse_crossed(ring: Ring) -> None:
    """Refuse an outline that meets itself, naming the walls."""
    walls = [LineString(pair) for pair in edges_of(ring)]
    for j, wall in enumerate(walls):
        for i in range(j):
            shared = walls[i].intersection(wall)
            neighbours = j - i in (1, len(walls) - 1)
            if shared.is_empty or (neighbours and shared.length < 1e-3):
                continue
            raise MeasureError(
                f"Wall {j + 1} meets wall {i + 1}; accepted: an outline that never meets itself. "
                "Check lengths and turns.",
                part="wall",
                row=j,
                field="length",
            )


def _hole(
    typed: Mapping[str, Any], outline: Ring, others: Sequence[Hole], row: int, unit: str
) -> Hole:
    """Return one hole, clear of the walls and of the other holes."""
    x, y, width, depth = (
        _length(typed[name], unit, part="hole", row=row, field=name)
        for name in ("x", "y", "width", "depth")
    )
    hand = 1.0 if ring_area(outline) > 0 else -1.0
    sides = ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))
    ring = tuple((round(px, 6), round(py * hand, 6) + 0.0) for px, py in sides)
    shape, room = Polygon(ring), Polygon(outline)
    label = HOLE_KINDS[typed["name"]][0]
    if not room.contains_properly(shape):
        found = "touches a wall" if room.intersects(shape) else "lies outside the room"
        accepted = "a place clear of every wall; what stands against one is walked round with it"
        raise MeasureError(
            f"{label} {found}; accepted: {accepted}.", part="hole", row=row, field="x"
        )
    for i, other in enumerate(others):
        if Polygon(other.ring).intersects(shape):
            raise MeasureError(
                f"{label} meets what stands in row {i + 1}; accepted: places clear of each other.",
                part="hole",
                row=row,
                field="x",
            )
    return Hole(ring=ring, kind=HoleKind(typed["kind"]))


def _length(text: str, unit: str, *, part: str, row: int, field: str) -> float:
    """Return typed text as a length in the job's unit."""
    try:
        length = parse_length(text, bare=Unit(unit))
    except InputError as bad:
        raise MeasureError(f"“{text}” is no length.", part=part, row=row, field=field) from bad
    return float(length.mm if unit == "mm" else length.inches)
