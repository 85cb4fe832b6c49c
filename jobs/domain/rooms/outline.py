"""From what was typed in a room to its outline: pure.

Walls are walked in either direction, wall after wall; the first runs along +x from (0, 0). A turn
is to the left or to the right, square unless the angle between the two walls is given. Holes are
measured from the first corner: along the first wall, and square to it into the room.

      (3)<---2---(2)
       |          ^        1, 2, ... the walls; (0) the first corner;
       3          1        here every corner turns to the left
       v          |
      (0)---0--->(1)

In this order, each in the module of its name beside this one: the walk with its diagonals and its
closing error (`wall_walk`), bowed walls (`sides`), what stands in the room and against its walls
(`obstacles`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely.geometry import Polygon

from jobs.domain.lengths import core_length_words
from jobs.domain.rooms.obstacles import with_standing
from jobs.domain.rooms.sides import OutlineSide, Sided, bent, sides_of
from jobs.domain.rooms.typed import TypedRoom
from jobs.domain.rooms.wall_walk import walked
from layout.values.outline import Hole, Ring, edges_of
from layout.values.tolerances import LENGTH_TOLERANCE

TAPES_IN = 500  # a tape misses by one part in so many at most; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A room as drawn, in the job's unit: by how much the walk missed, and what was spread.

    ``sides`` tells what each side of the outline is, all plain walls where it is empty; ``corners``
    are those of the walls as walked, unbent and whole; ``notes`` are sentences about what was
    typed.
    """

    outline: Ring
    holes: tuple[Hole, ...]
    unit: str
    misclosure: float
    walked: float
    sides: tuple[OutlineSide, ...] = ()
    corners: Ring = ()
    notes: tuple[str, ...] = ()

    @property
    def sided(self) -> Sided:
        """The outline with what each of its sides is."""
        plain = tuple(OutlineSide(wall=n) for n in range(len(self.outline)))
        return Sided(ring=self.outline, sides=self.sides or plain)

    @property
    def area(self) -> float:
        """Floor area less the holes."""
        return float(Polygon(self.outline, [hole.ring for hole in self.holes]).area)

    @property
    def perimeter(self) -> float:
        """Length of all walls as drawn, without the sides of what stands against them."""
        pairs = zip(self.sided.sides, self.walls, strict=True)
        return sum(length for side, length in pairs if side.wall is not None)

    @property
    def walls(self) -> list[float]:
        """Length of each side of the outline as drawn."""
        return [math.dist(a, b) for a, b in edges_of(self.outline)]

    @property
    def misclosure_words(self) -> str:
        """The closing error as length and ratio; empty where the walk closes."""
        if self.misclosure < LENGTH_TOLERANCE[self.unit]:
            return ""
        ratio = round(self.walked / self.misclosure)
        return f"{core_length_words(self.misclosure, self.unit)}, 1 in {ratio:,}"

    @property
    def misses_much(self) -> bool:
        """Whether a wall is more likely misread than the tape is out."""
        is_closed = self.misclosure < LENGTH_TOLERANCE[self.unit]
        return not is_closed and self.misclosure * TAPES_IN > self.walked


def draw_room(room: TypedRoom, *, unit: str) -> Drawn:
    """Return the room as drawn from what was typed.

    Raises MeasureError naming the row and what would be accepted.
    """
    closed = walked(room, unit=unit)
    plain = Sided(ring=closed.outline, sides=sides_of(room.walls, len(closed.outline)))
    floor = with_standing(bent(plain, room.bows, unit), room.holes, unit)
    return Drawn(
        outline=floor.outline.ring,
        holes=floor.holes,
        unit=unit,
        misclosure=closed.walk.gap,
        walked=closed.walk.walked,
        sides=floor.outline.sides,
        corners=closed.outline,
        notes=closed.notes,
    )
