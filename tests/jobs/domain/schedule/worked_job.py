"""A job worked by hand: 580 ft2 in three rooms, carpet out, one room leveled, plank, strips, base.

living  280 ft2, rows 1 to 20     two bags of leveler
hall     60 ft2, rows 21 to 24
office  240 ft2, rows 25 to 44
"""

from decimal import Decimal

from jobs.domain.days.crew import CrewDay
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.by_room.places import FloorFacts, RoomFacts
from jobs.domain.scope.hours import SiteWork, Work, work_from
from jobs.domain.scope.rates import STARTING_RATES

ROOMS = {"living": (280, (1, 20)), "hall": (60, (21, 24)), "office": (240, (25, 44))}


def counted() -> list[Quantity]:
    """What is counted of it."""
    made = [
        quantity("carry", 1200, "24 cartons of 50 lb"),
        quantity("cartons", 24, "from one lot"),
        quantity("floor_area", 580, "area", zone="down"),
        quantity("pieces", 220, "counted", zone="down"),
        quantity("crosscuts", 60, "counted", zone="down"),
        quantity("rows", 44, "counted", zone="down"),
        quantity("leveller", 2, "bags", zone="down", room="living"),
    ]
    for room, (area, _) in ROOMS.items():
        here = {"zone": "down", "room": room}
        around = {"living": 70, "hall": 30, "office": 60}[room]
        made += [
            quantity("tear_out", area, "old", item="carpet", **here),
            quantity("disposal", area, "old", item="carpet", **here),
            quantity("base_off", around, "base", **here),
            quantity("base_on", around, "base", **here),
            quantity("transitions", 1, "strips", **here),
        ]
    return made


def the_job(people: int, uses: dict[str, str] | None = None) -> tuple[Work, CrewDay]:
    """Return the work of the job and its crew of eight hours each, 15 minutes from the shop."""
    crew = CrewDay(people=people)
    figures = tuple(tuple(Decimal(n) for n in (580, 220, 60, 0, 0, 0)) for _ in range(44))
    rooms = tuple(
        RoomFacts(name=room, area=Decimal(area), rows=rows, use=(uses or {}).get(room, ""))
        for room, (area, rows) in ROOMS.items()
    )
    site = SiteWork(
        crew_hours_per_day=crew.capacity,
        crew=crew,
        trip_hours=Decimal(people) / 2,
        floors={"down": FloorFacts(rooms=rooms, rows=figures)},
    )
    return work_from(counted(), STARTING_RATES, site), crew
