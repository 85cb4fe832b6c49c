"""An invented house for the help: a den of 14 by 10 ft with a closet, planned once a process."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from layout.planner.plan_floor import plan_floor
from layout.values.outline import Ring
from layout.values.plan import Plan
from layout.values.request import PlanRequest, read_request

DEN: Ring = ((0.0, 0.0), (168.0, 0.0), (168.0, 84.0), (128.0, 84.0), (128.0, 120.0), (0.0, 120.0))
HALL: Ring = ((172.5, 0.0), (212.5, 0.0), (212.5, 120.0), (172.5, 120.0))
PER_CARTON = 10


def den_request() -> PlanRequest:
    """Return what is planned: 7 x 48 in planks along the first wall."""
    form: dict[str, Any] = {
        "format": 1,
        "unit": "in",
        "zone": {"outline": [list(corner) for corner in DEN]},
        "product": {"length": 48, "width": 7, "per_carton": PER_CARTON},
        "rules": {
            "expansion_gap": 0.25,
            "saw_kerf": 0.125,
            "min_end_piece": 8,
            "min_joint_offset": 8,
            "min_row_width": 2,
            "direction_deg": 0,
        },
        "effort_iterations": 30,
        "seed": 0,
    }
    return read_request(form)


@lru_cache(maxsize=1)
def planned() -> tuple[PlanRequest, Plan]:
    """Return the den's request and plan, the same each time."""
    request = den_request()
    return request, plan_floor(request)
