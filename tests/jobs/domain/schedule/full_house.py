"""A house in which everything occurs that once was laid out as nobody does it.

living  200 ft2, rows 1 to 16, furniture, a doorway with casings, two bags of leveler, painted
hall     40 ft2, rows 17 to 24, short ones
bedroom 140 ft2, rows 25 to 38, furniture
bath     40 ft2, rows 39 to 44, a toilet
"""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.days.crew import CrewDay
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.by_room.places import FloorFacts, RoomFacts
from jobs.domain.scope.hours import SiteWork, Work, work_from
from jobs.domain.scope.rates import STARTING_RATES

ROOMS = {
    "living": (200, "", (1, 16)),
    "hall": (40, "", (17, 24)),
    "bedroom": (140, "bedroom", (25, 38)),
    "bath": (40, "bath", (39, 44)),
}
LONG, SHORT = (Decimal(12), Decimal(4), Decimal(1)), (Decimal(3), Decimal(1), Decimal(1))


def _counted() -> list[Quantity]:
    made = [
        quantity("carry", 900, "18 cartons of 50 lb"),
        quantity("cartons", 18, "from one lot"),
        quantity("floor_area", 420, "area", zone="up"),
        quantity("pieces", 160, "counted", zone="up"),
        quantity("crosscuts", 50, "counted", zone="up"),
        quantity("pad_area", 420, "area", zone="up"),
        quantity("rows", 44, "counted", zone="up"),
        quantity("leveller", 2, "bags", zone="up", room="living"),
        quantity("paint_area", 300, "walls", zone="up", room="living"),
        quantity("toilets", 1, "one", zone="up", room="bath"),
    ]
    for room, (area, _, _) in ROOMS.items():
        here = {"zone": "up", "room": room}
        made += [
            quantity("tear_out", area, "old", item="carpet", **here),
            quantity("disposal", area, "old", item="carpet", **here),
            quantity("base_off", 40, "base", **here),
            quantity("base_on", 40, "base", **here),
            quantity("casings", 2, "door", **here),
            quantity("doors_off", 1, "door", **here),
        ]
        if room in ("living", "bedroom"):
            made.append(quantity("furniture", 1, "some", **here))
    return made


def full_house(people: int) -> tuple[Work, CrewDay]:
    """Return its work, and a crew of eight hours each, half an hour from the shop."""
    rows = tuple(
        (*(SHORT if 17 <= row <= 24 else LONG), Decimal(0), Decimal(0), Decimal(0))
        for row in range(1, 45)
    )
    rooms = tuple(
        RoomFacts(name=name, area=Decimal(area), use=use, rows=span)
        for name, (area, use, span) in ROOMS.items()
    )
    crew = CrewDay(people=people)
    site = SiteWork(
        crew_hours_per_day=crew.capacity,
        crew=crew,
        trip_hours=Decimal(people),
        floors={"up": FloorFacts(rooms=rooms, rows=rows)},
    )
    return work_from(_counted(), STARTING_RATES, site), crew
