"""A small floor to count: one 12 ft by 10 ft bedroom, click plank 48 in by 7 in, ten in a carton.

+----- 144 in -----+
|                  |
|      bedroom     | 120 in        17 280 in2 = 120 ft2, 528 in round
|                  |
+------------------+
"""

from decimal import Decimal
from typing import Any

from jobs.domain.quantities import Quantity
from jobs.domain.scope.inputs import (
    DoorwayTake,
    JobTake,
    PlanCounts,
    ProductTake,
    Roll,
    RoomTake,
    StairTake,
    ZoneTake,
)


def a_product(**changes: Any) -> ProductTake:
    given: dict[str, Any] = {
        "name": "test plank",
        "length_in": Decimal(48),
        "width_in": Decimal(7),
        "per_carton": 10,
        "carton_weight_lb": Decimal(36),
    }
    return ProductTake(**given | changes)


def a_plan(**changes: Any) -> PlanCounts:
    given: dict[str, Any] = {
        "planks": 54,
        "cartons": 6,
        "pieces": 63,
        "full_pieces": 36,
        "crosscuts": 20,
        "rips": 4,
        "notches": 2,
        "rows": 18,
        "area_in2": Decimal(17280),
    }
    return PlanCounts(**given | changes)


def a_zone(**changes: Any) -> ZoneTake:
    given: dict[str, Any] = {
        "name": "upstairs",
        "rooms": ("bedroom",),
        "product": a_product(),
        "plan": a_plan(),
        "area_in2": Decimal(17280),
        "perimeter_in": Decimal(528),
        "outline": ((0, 0), (144, 0), (144, 120), (0, 120)),
    }
    return ZoneTake(**given | changes)


def a_room(**changes: Any) -> RoomTake:
    given: dict[str, Any] = {
        "name": "bedroom",
        "area_in2": Decimal(17280),
        "perimeter_in": Decimal(528),
        "base_run_in": Decimal(480),
    }
    return RoomTake(**given | changes)


def a_doorway(**changes: Any) -> DoorwayTake:
    given: dict[str, Any] = {
        "name": "bedroom door",
        "width_in": Decimal(32),
        "treatment": "T-molding",
        "zone": "upstairs",
    }
    return DoorwayTake(**given | changes)


def a_stair(**changes: Any) -> StairTake:
    given: dict[str, Any] = {
        "name": "main stair",
        "zone": "upstairs",
        "treads": 12,
        "risers": 13,
        "nosings": 13,
        "width_in": Decimal(36),
    }
    return StairTake(**given | changes)


def a_job(**changes: Any) -> JobTake:
    given: dict[str, Any] = {"rooms": (a_room(),), "zones": (a_zone(),)}
    return JobTake(**given | changes)


def a_pad() -> Roll:
    return Roll(name="foam pad", width_in=Decimal(48), length_in=Decimal(300))


def a_barrier() -> Roll:
    return Roll(
        name="6 mil film", width_in=Decimal(120), length_in=Decimal(1200), lap_in=Decimal(8)
    )


def the(quantities: tuple[Quantity, ...], code: str, **marks: str) -> Quantity:
    """The one quantity with this code (and zone, room or item)."""
    alike = [
        entry
        for entry in quantities
        if entry.code == code
        and all(getattr(entry, name) == value for name, value in marks.items())
    ]
    assert len(alike) == 1, f"{len(alike)} quantities {code} {marks}"
    return alike[0]


def codes(quantities: tuple[Quantity, ...]) -> set[str]:
    """The codes that occur."""
    return {entry.code for entry in quantities}
