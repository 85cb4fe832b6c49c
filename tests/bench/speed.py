"""How fast a first plan stands, how the time grows, what memory it takes. Figures as found.

    python -m tests.bench.speed

Each floor is a suite: a hall 48 in wide with rooms on both sides, joined through doorways 36 in
wide and 4 1/2 in deep. The first line is an ell-like room of 12 corners and 600 ft2.

    +----+----+----+
    |    |    |    |        rooms above and below the hall
    +-  -+-  -+-  -+
    |     hall     |
    +-  -+-  -+-  -+
    |    |    |    |
    +----+----+----+

Every floor is planned in a process of its own, so that its peak memory is its own.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import time
from math import sqrt
from typing import Any

from shapely.geometry import box
from shapely.ops import unary_union

from layout.planner.effort import Progress
from layout.planner.plan_floor import plan_floor
from layout.values.request import read_request

HALL_IN, WALL_IN, DOOR_IN = 48.0, 4.5, 36.0
FLOORS = (
    ("12 corners", 600, 0),
    ("8 rooms", 2500, 8),
    ("16 rooms", 5000, 16),
    ("32 rooms", 10000, 32),
)


def suite(area_ft2: float, rooms: int) -> list[list[float]]:
    """Return the outline of a suite of about this area, an even number of rooms."""
    side = sqrt(area_ft2 * 144 / rooms) * 0.93
    pitch, parts = side + WALL_IN, []
    for place in range(rooms // 2):
        x = place * pitch
        door = x + (side - DOOR_IN) / 2
        top, low = HALL_IN + WALL_IN, -WALL_IN
        parts += [box(x, top, x + side, top + side), box(x, low - side, x + side, low)]
        parts += [box(door, HALL_IN, door + DOOR_IN, top), box(door, low, door + DOOR_IN, 0)]
    parts.append(box(0, 0, pitch * (rooms // 2) - WALL_IN, HALL_IN))
    return [list(corner) for corner in unary_union(parts).exterior.coords[:-1]]


def stepped() -> list[list[float]]:
    """Return a room of 12 corners and about 600 ft2: a rectangle with four corners cut out."""
    whole = box(0, 0, 330, 282)
    corners = (box(0, 0, 40, 30), box(300, 0, 330, 40), box(290, 250, 330, 282))
    cut = unary_union([*corners, box(0, 240, 50, 282)])
    return [list(corner) for corner in whole.difference(cut).exterior.coords[:-1]]


def request_of(area_ft2: float, rooms: int) -> dict[str, Any]:
    """Return the plan request of one floor of the bench."""
    rules = {"expansion_gap": 0.25, "saw_kerf": 0.125, "min_end_piece": 8, "min_joint_offset": 8}
    return {
        "format": 1,
        "unit": "in",
        "zone": {"outline": suite(area_ft2, rooms) if rooms else stepped()},
        "product": {"length": 48, "width": 7, "per_carton": 10},
        "rules": {**rules, "min_row_width": 2, "direction_deg": 0},
    }


def measure(area_ft2: float, rooms: int) -> dict[str, float]:
    """Return seconds to a first valid plan, its pieces and planks, and the peak memory in MB."""
    request = read_request(request_of(area_ft2, rooms))
    stands: list[Progress] = []
    began = time.perf_counter()
    plan = plan_floor(request, stop=lambda: bool(stands), progress=stands.append)
    taken = time.perf_counter() - began
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {
        "seconds": taken,
        "pieces": len(plan.pieces),
        "planks": plan.totals.planks,
        "peak_mb": peak,
    }


def in_fresh_process(area_ft2: float, rooms: int) -> dict[str, float]:
    """Return what `measure` finds in a fresh process."""
    command = [sys.executable, "-m", "tests.bench.speed", str(area_ft2), str(rooms)]
    figures: dict[str, float] = json.loads(subprocess.check_output(command, text=True))
    return figures


def say(line: str) -> None:
    """Write one line of the table."""
    sys.stdout.write(f"{line}\n")


def main(words: list[str]) -> None:
    """Print the table, or for a child process one floor as JSON."""
    if words:
        say(json.dumps(measure(float(words[0]), int(words[1]))))
        return
    say(f"{'floor':<12}{'ft2':>7}{'pieces':>8}{'planks':>8}{'first s':>9}{'ms/piece':>10}{'MB':>6}")
    for name, area, rooms in FLOORS:
        took = in_fresh_process(area, rooms)
        each = 1000 * took["seconds"] / took["pieces"]
        figures = f"{took['pieces']:>8}{took['planks']:>8}{took['seconds']:>9.2f}{each:>10.2f}"
        say(f"{name:<12}{area:>7}{figures}{took['peak_mb']:>6.0f}")


if __name__ == "__main__":
    main(sys.argv[1:])
