"""A room on a small sheet: points of the room, y up, become points of the sheet, y down."""

from __future__ import annotations

from collections.abc import Iterable

from layout.drawing.true_size import THICK, TrueSize
from layout.values.outline import Point, Ring
from layout.values.tolerances import TOUCHING_TOLERANCE

SHEET_MM = 100.0
"""How wide a small picture is; on a phone a millimeter of it is about 3.4 pixels."""
FIGURE_MM = 3.7
"""How high the letters are that a small picture carries: 12 pixels on a phone."""
_TALLEST = 90.0


class RoomFrame:
    """The sheet of some rooms, with room left round them; ``sheet`` is drawn on."""

    def __init__(
        self, rings: Iterable[Ring], *, name: str, margin: float = 6.0, foot: float = 0.0
    ) -> None:
        points = [point for ring in rings for point in ring]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        self._left, self._top, self._margin = min(xs), max(ys), margin
        wide = max(max(xs) - self._left, TOUCHING_TOLERANCE)
        tall = max(self._top - min(ys), TOUCHING_TOLERANCE)
        self.scale = min((SHEET_MM - 2 * margin) / wide, _TALLEST / tall)
        self._aside = (SHEET_MM - wide * self.scale) / 2
        self.bottom = tall * self.scale + 2 * margin
        self.sheet = TrueSize(SHEET_MM, self.bottom + foot, name=name)

    def at(self, point: Point) -> Point:
        """Return a point of the room on the sheet."""
        x, y = point
        across = self._aside + (x - self._left) * self.scale
        return across, self._margin + (self._top - y) * self.scale

    def walls(self, ring: Ring) -> None:
        """Draw the walls of a room."""
        self.sheet.line([self.at(point) for point in (*ring, ring[0])], name="wall", weight=THICK)
