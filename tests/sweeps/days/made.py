"""Jobs drawn at random, from the same seed the same, and laid onto days by the schedule.

A job has one or two floors of one to four rooms, 60 to 280 ft2 each, one to three people of six to
nine hours, and of each kind of work some. In three of four something is torn out, leveled, painted,
and a holiday falls into its first two weeks. Two in five have bedrooms, kitchens or baths; in three
of four of these the homeowner agreed to the nights that they take, in three of four of those over
a weekend too.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from jobs.domain.days.crew import CrewDay, PlannedDay
from jobs.domain.days.days import plan_days
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.schedule.trade import BY_ROOM
from jobs.domain.scope.by_room.places import FloorFacts, RoomFacts
from jobs.domain.scope.hours import SiteWork, Work, work_from
from jobs.domain.scope.laid_for.basis import LaidFor
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.tasks import task_key
from tests.sweeps.days.held import Day, DayLine, Facts, Laid, OneOfCrew, RoomOf, TimeOn

USES = ("bedroom", "bedroom", "kitchen", "bath", "", "", "", "")
OLD = ("carpet", "carpet", "laminate", "wood", "tile")
CURE, DRY, BEARS = 24, 12, 4


def a_job(random: Random) -> Laid:
    """Return a job and its days."""
    busy = random.random() < 0.75  # tear-out, leveling, paint and a holiday
    monday = date(2027, 3, 1) + timedelta(days=random.randrange(0, 90))
    first = monday
    while first.weekday() > 4:
        first += timedelta(days=1)
    off = frozenset({first + timedelta(days=random.randrange(1, 11))} if busy else ())
    crew = CrewDay(
        people=random.randint(1, 3),
        hours_per_day=Decimal(random.choice(["6", "7", "7.5", "8", "8", "8", "9"])),
    )
    drive = Decimal(random.choice(["0.5", "1", "1", "2"])) * crew.people / 2
    uses = USES if random.random() < 0.4 else ("",)
    floors, rooms, counted = _floors(random, busy, uses)
    agreed = {room.name for room in rooms if room.use} if random.random() < 0.75 else set()
    acclimate = {name: 48 for name in floors if random.random() < 0.3}
    days_off = random.random() < 0.75
    may_be_open = dict.fromkeys(agreed, days_off)
    site = SiteWork(
        crew_hours_per_day=crew.capacity,
        crew=crew,
        trip_hours=drive,
        flights=random.choice([0, 0, 1]),
        acclimatize_hours={name: Decimal(hours) for name, hours in acclimate.items()},
        floors=floors,
        agreed=may_be_open,
        laid_for=LaidFor(crew=crew, start=first, off=tuple(off)),
    )
    work = work_from(counted, STARTING_RATES, site)
    working = working_but(off)
    days = plan_days(work.tasks, crew, first, working, today=first, agreed=may_be_open)
    laid = _laid(work, crew, first, off, rooms, acclimate, drive, days)
    facts = replace(laid.facts, agreed=frozenset(agreed), days_off=days_off and bool(agreed))
    return replace(laid, facts=facts)


def working_but(off: frozenset[date]) -> Callable[[date], bool]:
    """Return a calendar of weekdays without these."""
    return lambda day: day.weekday() < 5 and day not in off


def _floors(
    random: Random, busy: bool, uses: Sequence[str]
) -> tuple[dict[str, FloorFacts], list[RoomOf], list[Quantity]]:
    floors, rooms, counted = {}, [], []
    weight = Decimal(0)
    for number in range(random.choice([1, 1, 2])):
        zone = f"Floor {number + 1}"
        facts, drawn, quantities = _floor(random, zone, busy, uses)
        floors[zone] = facts
        rooms += drawn
        counted += quantities
        weight += sum((room.area for room in facts.rooms), Decimal(0)) * 2
    counted.append(quantity("carry", weight, "cartons"))
    counted.append(quantity("cartons", int(weight / 50) + 1, "cartons"))
    return floors, rooms, counted


def _floor(
    random: Random, zone: str, busy: bool, uses: Sequence[str]
) -> tuple[FloorFacts, list[RoomOf], list[Quantity]]:
    row, rooms, drawn, counted = 1, [], [], []
    for number in range(random.randint(1, 4)):
        name = f"{zone} room {number + 1}"
        area = Decimal(random.randint(60, 280))
        use = random.choice(uses)
        height = max(4, int(area / 10))
        begins = max(1, row - random.choice([0, 0, 3]))
        rows = (begins, begins + height - 1)
        row = rows[1] + 1
        rooms.append(RoomFacts(name=name, area=area, use=use, rows=rows))
        there, cures = _room(random, zone, name, area, use, busy, number == 0)
        counted += there
        drawn.append(RoomOf(name=name, floor=zone, use=use, rows=rows, cures=cures))
    last = max(room.rows[1] for room in drawn)
    figures = tuple(
        tuple(Decimal(n) for n in (random.randint(4, 14), random.randint(2, 6), 2, 0, 0, 0))
        for _ in range(last)
    )
    counted += _of_rows(zone, figures)
    if random.random() < 0.15:
        counted += [
            quantity(code, 13, "counted", zone=zone, room="stair")
            for code in ("treads", "risers", "nosings")
        ]
    rooms.sort(key=lambda room: room.rows or (0, 0))
    alternate = any(entry.code == "treads" for entry in counted)
    return FloorFacts(rooms=tuple(rooms), rows=figures, alternate=alternate), drawn, counted


def _of_rows(zone: str, figures: tuple[tuple[Decimal, ...], ...]) -> list[Quantity]:
    sums = [sum(row[place] for row in figures) for place in range(3)]
    return [
        quantity("rows", len(figures), "counted", zone=zone),
        quantity("floor_area", sums[0], "area", zone=zone),
        quantity("pieces", sums[1], "counted", zone=zone),
        quantity("crosscuts", sums[2], "counted", zone=zone),
        quantity("pad_area", sums[0], "area", zone=zone),
    ]


def _room(
    random: Random, zone: str, name: str, area: Decimal, use: str, busy: bool, first: bool
) -> tuple[list[Quantity], bool]:
    here = {"zone": zone, "room": name}
    around = Decimal(4) * area.sqrt()
    made: list[Quantity] = []
    if busy or random.random() < 0.3:
        old = random.choice(OLD)
        made += [quantity(code, area, "old", item=old, **here) for code in ("tear_out", "disposal")]
    level = busy and (first or random.random() < 0.3)
    paint = busy and (first or random.random() < 0.3)
    if level:
        made.append(quantity("leveller", random.randint(1, 4), "bags", **here))
    if paint:
        made.append(quantity("paint_area", around * 8, "walls", **here))
    if random.random() < 0.7:
        made += [quantity(code, around, "base", **here) for code in ("base_off", "base_on")]
    if random.random() < 0.6 or use == "bedroom":
        made.append(quantity("furniture", Decimal(random.choice(["0.5", "1"])), "some", **here))
    if use == "bath":
        made.append(quantity("toilets", 1, "one", **here))
    if use == "kitchen":
        made.append(quantity("appliances", random.randint(1, 3), "some", **here))
    made += [
        quantity(code, random.randint(1, 2), "counted", **here)
        for code in ("casings", "doors_off", "transitions")
        if random.random() < 0.6
    ]
    return made, level or paint


def _laid(
    work: Work,
    crew: CrewDay,
    first: date,
    off: frozenset[date],
    rooms: list[RoomOf],
    acclimate: dict[str, int],
    drive: Decimal,
    days: tuple[PlannedDay, ...],
) -> Laid:
    names = ["Lead", *(f"Installer {number}" for number in range(2, crew.people + 1))]
    facts = Facts(
        crew=tuple(OneOfCrew(name=name, hours=crew.hours_per_day) for name in names),
        starts=8,
        drive=drive,
        first=first,
        holidays=off,
        rooms=tuple(_with_hours(room, work) for room in rooms),
        by_row={task.zone: task.hours_by_row for task in work.tasks if task.code == "lay"},
        rows={task.zone: task.row_count for task in work.tasks if task.code == "lay"},
        hours={(task.code, task.zone): task.hours for task in work.tasks},
        cure=CURE,
        dry=DRY,
        bears=BEARS,
        acclimate=acclimate,
        passes=max(task.passes for task in work.tasks if task.code != "dump_run"),
        runs=max((task.passes for task in work.tasks if task.code == "dump_run"), default=1),
    )
    nights = {night.room: night.nights for day in days for night in day.nights}
    return Laid(facts=facts, days=tuple(_day(day, work) for day in days), nights=nights)


def _with_hours(room: RoomOf, work: Work) -> RoomOf:
    """Return a room with the exact hours of what is done room by room in it."""
    shares = {
        task.code: share.hours
        for task in work.tasks
        if task.code in BY_ROOM and task.zone == room.floor
        for share in task.rooms
        if share.room == room.name and share.hours
    }
    return replace(room, hours=shares)


def _day(day: PlannedDay, work: Work) -> Day:
    named = {task_key(task.code, task.zone): (task.code, task.zone) for task in work.tasks}
    strokes = [
        TimeOn(
            person=lane.person,
            work=named[lane.task][0],
            floor=named[lane.task][1],
            room=lane.room,
            part=lane.part,
            begins=_minutes(lane.begins),
            ends=_minutes(lane.ends),
            also=lane.also,
        )
        for lane in day.lanes
    ]
    lines = [
        DayLine(
            work=entry.task_code,
            floor=entry.zone,
            part=entry.part,
            hours=entry.hours,
            booked=entry.booked,
            rows=entry.rows,
            rooms=entry.rooms,
        )
        for entry in day.entries
    ]
    return Day(date=day.date, lines=tuple(lines), strokes=tuple(strokes))


def _minutes(clock: str) -> int:
    hour, minute = clock.split(":")
    return int(hour) * 60 + int(minute)
