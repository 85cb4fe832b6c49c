"""Moisture readings on the rooms they were taken in, as SVG.

A reading says its room in words and no place in it, so the values stand in the room's middle, as in
a list, and no dot claims a spot. What is over a limit is known by the word "over".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from layout.drawing.lettering import lettering_width
from layout.drawing.pictures.frame import FIGURE_MM, RoomFrame
from layout.values.outline import Ring

_LINE = 1.35 * FIGURE_MM
_MOST_LINES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadRoom:
    """A room where it lies, and its readings in words, the highest first."""

    name: str
    ring: Ring
    readings: tuple[str, ...]


def draw_readings(rooms: Sequence[ReadRoom], *, title: str) -> str:
    """Return the rooms with their readings written in them; a room without one says so."""
    frame = RoomFrame([room.ring for room in rooms], name="readings")
    for room in rooms:
        frame.walls(room.ring)
    for room in rooms:
        _write(frame, room)
    listed = "; ".join(f"{one.name}: {', '.join(one.readings) or 'no reading'}" for one in rooms)
    return frame.sheet.svg(title, f"{listed}.")


def _write(frame: RoomFrame, room: ReadRoom) -> None:
    """Write name and readings of a room in its middle, turned where it is too narrow for them."""
    lines = [room.name, *lines_of(room)]
    x, y = frame.at(Polygon(room.ring).representative_point().coords[0])
    left, low, right, high = Polygon(room.ring).bounds
    widest = max(lettering_width(line, FIGURE_MM) for line in lines) + 2
    turned = (right - left) * frame.scale < widest and high - low > right - left
    for place, line in enumerate(lines):
        off = (place - (len(lines) - 1) / 2) * _LINE
        at = (x - off, y) if turned else (x, y + off)
        # A line that is turned clockwise by 90 degrees has what follows it to its left.
        frame.sheet.words(
            at,
            line,
            size=FIGURE_MM,
            anchor="middle",
            turn=90 if turned else 0,
            name="room-name" if place == 0 else "reading",
            bold=place > 0,
        )


def lines_of(room: ReadRoom) -> list[str]:
    """Return what is written in a room: its readings, as many as a room holds."""
    if not room.readings:
        return ["no reading"]
    rest = len(room.readings) - _MOST_LINES
    if rest <= 0:
        return list(room.readings)
    return [*room.readings[: _MOST_LINES - 1], f"and {rest + 1} lower"]
