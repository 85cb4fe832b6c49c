"""The working frame: the room turned back by the laying direction, mirrored to one hand.

Rows start at the low side and are built from the left end. A board mirrored with its room is still
that board, so a plan found here is turned back without further thought.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import shapely
from shapely.geometry import Polygon

from layout.values.material import End, Lay, Side
from layout.values.outline import Point, Region, Ring, from_frame, region_to_frame, to_frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The working frame of a direction and a pair of hands."""

    direction_deg: float
    lay: Lay = field(default_factory=Lay)

    def region(self, region: Region) -> Region:
        """Return a region of the room in the working frame."""
        turned = region_to_frame(region, self.direction_deg)
        return shapely.transform(turned, lambda points: points * self._signs)

    def inward(self, points: Iterable[Point]) -> Ring:
        """Return room points in the working frame."""
        sx, sy = self._signs
        return tuple((sx * x, sy * y) for x, y in to_frame(points, self.direction_deg))

    def outward(self, points: Iterable[Point]) -> Ring:
        """Return points of the working frame in room coordinates."""
        sx, sy = self._signs
        return from_frame(((sx * x, sy * y) for x, y in points), self.direction_deg)

    def corner(self, corner: Point, size: tuple[float, float]) -> Point:
        """Return, in the room, the lower-left corner (direction frame) of a board laid here."""
        x, y = self._turned_corner(*corner, *size)
        return from_frame([(x, y)], self.direction_deg)[0]

    def plank_shape(self, shape: Polygon, size: tuple[float, float]) -> Polygon:
        """Return a shape cut from a plank in that plank's own coordinates."""
        if not (self.mirrored_x or self.mirrored_y):
            return shape
        dx = size[0] if self.mirrored_x else 0.0
        dy = size[1] if self.mirrored_y else 0.0
        return shapely.transform(shape, lambda points: points * self._signs + (dx, dy))

    def _turned_corner(self, x: float, y: float, length: float, width: float) -> Point:
        """Return the low corner, in the direction frame, of a box given in this frame."""
        return (
            -(x + length) if self.mirrored_x else x,
            -(y + width) if self.mirrored_y else y,
        )

    @property
    def mirrored_x(self) -> bool:
        """Whether left and right trade places: rows built from the right end."""
        return self.lay.first_end is End.RIGHT

    @property
    def mirrored_y(self) -> bool:
        """Whether low and high trade places: rows numbered from the high side."""
        return self.lay.start is Side.HIGH

    @property
    def _signs(self) -> tuple[float, float]:
        return (-1.0 if self.mirrored_x else 1.0, -1.0 if self.mirrored_y else 1.0)
