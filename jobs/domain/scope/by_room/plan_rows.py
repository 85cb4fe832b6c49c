"""What each row of a plan takes, and which rows lie in which room. Pure.

+------+-----+     the bedroom has rows 1 to 9, the hall rows 4 to 9
| bed  |hall |
|      +-----+
+------+
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import shapely
from shapely.geometry import Polygon

from jobs.domain.lengths import IN2_PER_FT2, MM_PER_IN
from jobs.domain.scope.by_room.places import ROW_DRIVERS
from layout.values.outline import Ring

IN_ROOM = 0.05
"""A row lies in a room where so much of a plank of it, or more, does: ours, no source."""
_CENT = Decimal("0.01")
_KINDS = {"crosscut": "crosscuts", "rip": "rips", "notch": "notches"}


# Any: pieces of a plan document, as they are parsed.
def row_figures(pieces: Sequence[Mapping[str, Any]], unit: str) -> tuple[tuple[Decimal, ...], ...]:
    """Return the figures of each row in the order of `ROW_DRIVERS`, from row 1 on."""
    scale = MM_PER_IN if unit == "mm" else Decimal(1)
    square_feet = scale * scale * IN2_PER_FT2
    rows: dict[int, dict[str, Decimal]] = defaultdict(
        lambda: dict.fromkeys(ROW_DRIVERS, Decimal(0))
    )
    for piece in pieces:
        row = rows[int(piece["row"])]
        row["floor_area"] += Decimal(repr(Polygon(piece["outline"]).area)) / square_feet
        row["pieces"] += 1
        row["trapped"] += bool(piece.get("trapped"))
        for cut in piece.get("cuts", ()):
            if cut["kind"] in _KINDS:
                row[_KINDS[cut["kind"]]] += 1
    last = max(rows, default=0)
    return tuple(
        tuple(rows[number][driver].quantize(_CENT) for driver in ROW_DRIVERS)
        for number in range(1, last + 1)
    )


def rows_in_rooms(
    pieces: Sequence[Mapping[str, Any]], rooms: Mapping[str, Ring]
) -> dict[str, tuple[int, int] | None]:
    """Return the first and last row that lie in each room; None where none does."""
    shapes = [Polygon(piece["outline"]).buffer(0) for piece in pieces]
    whole = max((shape.area for shape in shapes), default=0.0)
    numbers = [int(piece["row"]) for piece in pieces]
    rows: dict[str, tuple[int, int] | None] = {}
    for name, ring in rooms.items():
        shared = shapely.area(shapely.intersection(shapes, Polygon(ring).buffer(0)))
        inside = [row for row, part in zip(numbers, shared, strict=True) if part > whole * IN_ROOM]
        rows[name] = (min(inside), max(inside)) if inside else None
    return rows
