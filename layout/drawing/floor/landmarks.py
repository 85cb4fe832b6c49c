"""What a crew names a place by, on the drawing of a floor: walls by number, doorways, rooms.

     wall 3
+--------------+
|     Hall     | wall 2
+---|    |-----+
  door to the bathroom
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout.drawing.lettering import Spot, spots_along, spots_around
from layout.drawing.paper import OBJECT, SMALL, DrawingPaper
from layout.values.outline import Point

_JAMB = 16.0  # how far a jamb is drawn out of the wall
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)


@dataclass(frozen=True, slots=True, kw_only=True)
class Landmark:
    """A wall, a doorway or a room by name, in the coordinates of the floor.

    ``ends``: from where to where a wall or a doorway runs, the floor on its left; one point for a
    room: where its name stands.
    """

    words: str
    ends: tuple[Point, ...]
    doorway: bool = False


def draw_jambs(paper: DrawingPaper, landmarks: Sequence[Landmark]) -> None:
    """Draw both sides of every doorway, out of the floor."""
    for one in landmarks:
        if one.doorway and len(one.ends) > 1:
            (ax, ay), (bx, by) = (paper.at(end) for end in one.ends)
            long = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1.0)
            out = (-(by - ay) / long * _JAMB, (bx - ax) / long * _JAMB)
            for x, y in ((ax, ay), (bx, by)):
                paper.stroke((x, y), (x + out[0], y + out[1]), weight=OBJECT, name="jamb")


def letter_landmarks(paper: DrawingPaper, landmarks: Sequence[Landmark]) -> None:
    """Write the words of all landmarks where there is room: rooms, doorways, then walls."""
    for one in sorted(landmarks, key=lambda mark: (len(mark.ends), not mark.doorway)):
        if len(one.ends) == 1:
            name = "room-name"
            paper.letter(paper.at(one.ends[0]), one.words, size=SMALL, name=name, backed=True)
        else:
            name = "doorway" if one.doorway else "wall-number"
            paper.word(one.words, list(_spots(paper, one)), name=name)


def _spots(paper: DrawingPaper, one: Landmark) -> Iterator[Spot]:
    """Yield where words may stand: along the wall outside it, inside it, at a leader."""
    a, b = (paper.at(end) for end in one.ends)
    off = SMALL * paper.letters * 0.62 + 6
    for side in (off, off + 2 * SMALL * paper.letters, -off):  # beyond the rings of rows, inside
        yield from spots_along(a, b, side)
        for share in _SHARES:
            yield _level(a, b, side, share)
    yield from spots_around(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))


def _level(a: Point, b: Point, off: float, share: float) -> Spot:
    """Return a spot beside a wall for words that are not turned with it."""
    x, y = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
    long = max(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5, 1.0)
    out = (-(b[1] - a[1]) / long, (b[0] - a[0]) / long)
    anchor = "middle" if abs(out[0]) < 0.3 else "start" if out[0] * off > 0 else "end"
    return Spot(at=(x + out[0] * off, y + out[1] * off), anchor=anchor)
