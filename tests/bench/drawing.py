"""How long a drawing takes and how large it is. Figures as found.

    python -m tests.bench.drawing

The floors of `tests.bench.speed`, each planned until a first plan stands and drawn five times; the
least processor time counts. Limits: 0.3 s and 1.5 MB for 2,500 ft2.
"""

from __future__ import annotations

import sys
import time

from layout.drawing.plan import draw_plan
from layout.planner.effort import Progress
from layout.planner.plan_floor import plan_floor
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request
from tests.bench.speed import FLOORS, request_of

TIMES = 5


def first_plan(area_ft2: float, rooms: int) -> tuple[PlanRequest, Plan]:
    """Return the request and the first plan of one floor."""
    request = read_request(request_of(area_ft2, rooms))
    stands: list[Progress] = []
    return request, plan_floor(request, stop=lambda: bool(stands), progress=stands.append)


def measure(request: PlanRequest, plan: Plan) -> tuple[float, int]:
    """Return the seconds that a drawing takes and its bytes."""
    seconds, size = [], 0
    for _ in range(TIMES):
        began = time.process_time()
        size = len(draw_plan(request, plan, title="Floor").encode())
        seconds.append(time.process_time() - began)
    return min(seconds), size


def main() -> None:
    """Print the table."""
    sys.stdout.write(f"{'floor':<12}{'ft2':>7}{'pieces':>8}{'draw s':>9}{'kB':>7}\n")
    for name, area, rooms in FLOORS:
        request, plan = first_plan(area, rooms)
        seconds, size = measure(request, plan)
        figures = f"{len(plan.pieces):>8}{seconds:>9.3f}{size / 1000:>7.0f}"
        sys.stdout.write(f"{name:<12}{area:>7}{figures}\n")


if __name__ == "__main__":
    main()
