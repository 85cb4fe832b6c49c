"""The cover of a job's packet: places, contacts, the gates and how moisture is read."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from math import ceil

from jobs.clock import day_of
from jobs.domain.days.placed.pieces import spells_of
from jobs.domain.formats import Fields
from jobs.domain.packet.cover import (
    MadeReading,
    ReadingRule,
    carry_words,
    cover_content,
    gate_contents,
    readings_of_room,
)
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import Caution, moisture_tests
from jobs.domain.site.moisture import METHODS, Reading, readings_of
from jobs.http import whole_address
from jobs.models import Job, SiteFacts, Subfloor, WorkDay
from jobs.qr import qr_drawing
from jobs.readers.site import heaviest_carton, moisture_limits, room_ft2, slab_ft2

_PLACES = (
    ("Parking", "parking"),
    ("Saw stands", "saw_spot"),
    ("Power", "power"),
    ("Waste goes", "disposal_place"),
)
NOT_NOTED = "not noted: ask, write it here"
PICK_UP = "pick_up"
QUARTERS = 4  # of an hour
_SUBFLOORS: dict[str, str] = {
    Subfloor.WOOD: "wood subfloor",
    Subfloor.SLAB: "concrete slab",
    Subfloor.UNKNOWN: "subfloor",
}


def cover_of(job: Job, scope: FrozenScope, *, with_access: bool) -> Fields:
    """Return the cover's own words; the way in only where that is wished for."""
    site = SiteFacts.objects.filter(job=job).first() or SiteFacts(job=job)
    cartons = sum(int(one.amount) for one in scope.quantities if one.code == "cartons")
    places = [(label, getattr(site, name) or NOT_NOTED) for label, name in _PLACES]
    if scope.has_crew and any(task.code == PICK_UP for task in scope.tasks):
        places.insert(0, ("Pick up at", NOT_NOTED))
    if drive := drive_words(scope, job.days.all()):
        places.append(("Drive", drive))
    return cover_content(
        places=places,
        contacts=_contacts(job),
        carry=carry_words(flights=site.flights, cartons=cartons, weight_lb=heaviest_carton(job)),
        today=code_of(whole_address("today"), "The day's page, for who is signed in"),
        access=(site.access or "Nothing is noted.") if with_access else None,
    )


def drive_words(scope: FrozenScope, days: Iterable[WorkDay]) -> str:
    """Return how long the drive is, one way; empty where none is counted or nobody has a lane."""
    people = {spell.person for day in days for spell in spells_of(day.date, day.lanes)}
    drive = sum((task.per_day for task in scope.crews_tasks), Decimal(0))
    if not drive or not people:
        return ""
    legs = ceil(drive / len(people) / 2 * QUARTERS)
    return f"{legs * 60 // QUARTERS} min each way, before and after the hours of a day"


def code_of(address: str, title: str) -> str:
    """Return the drawing that leads a phone to one of our pages: its address and nothing else."""
    return qr_drawing(address, title=title)


def gates_of(job: Job, cautions: tuple[Caution, ...], scope: FrozenScope) -> list[Fields]:
    """Return the gates of a job: every hold point, and the reading that precedes row one."""
    lays = scope.has_crew and any(task.code == "lay" for task in scope.tasks)
    return gate_contents(cautions, _clearances(job), reading_rule(job) if lays else None)


def reading_rule(job: Job) -> ReadingRule:
    """Return how the moisture of a job is read, where, and what was read already."""
    site = SiteFacts.objects.filter(job=job).first() or SiteFacts(job=job)
    limits, slab = moisture_limits(job), site.subfloor == Subfloor.SLAB
    code = next((one for one in ("rh", "mver") if one in limits), "rh") if slab else "wood"
    method = METHODS[code]
    made = tuple(_made(reading) for reading in readings_of(site.readings))
    places = _places(job, slab=slab)
    areas = {room.name: room_ft2(room) for room in job.rooms.all()}
    return ReadingRule(
        subfloor=_SUBFLOORS[site.subfloor],
        method=f"{method.label}{f', {method.standard}' if method.standard else ''}",
        unit=method.unit,
        limit=limits.get(code),
        places=places,
        counts=tuple(1 if slab else readings_of_room(areas[place]) for place in places),
        rest=_rest(job),
        made=made,
    )


def _places(job: Job, *, slab: bool) -> tuple[str, ...]:
    """Return where moisture is read: in so many places of a slab, else in every room."""
    area = slab_ft2(job) if slab else Decimal(0)
    if area:
        return tuple(f"place {number}" for number in range(1, moisture_tests(area) + 1))
    rooms = job.rooms.filter(zone__isnull=False).order_by("order", "pk")
    return tuple(rooms.values_list("name", flat=True))


def _rest(job: Job) -> str:
    """Return how long the cartons of a job lie in the room before row one."""
    hours = {zone.product.acclimate_hours for zone in job.zones.select_related("product")}
    if longest := max(hours, default=0):
        return f"Cartons lie in the room {longest} h before row one"
    return "Hours for cartons to lie in the room: none noted; the maker's sheet goes first"


def _made(reading: Reading) -> MadeReading:
    method = METHODS[reading.method]
    on = f"{reading.on:%b} {reading.on.day}" if reading.on else ""
    figure = f"{reading.value.normalize():f} {method.unit}".strip()
    return MadeReading(method=method.label, figure=figure, where=reading.where, on=on)


def _contacts(job: Job) -> list[tuple[str, str, str]]:
    """Return role, name and phone of everybody who may have to be called."""
    day = job.days.select_related("crew").order_by("date").first()
    crew = _crew(day) if day else []
    client, company = job.client, job.company
    return [
        *crew,
        ("Homeowner", client.name, client.phone),
        ("Office", company.name, company.phone),
    ]


def _crew(day: WorkDay) -> list[tuple[str, str, str]]:
    people = day.crew.members.all()
    return [("Crew", one.name, one.phone) for one in people]


def _clearances(job: Job) -> dict[str, dict[str, str]]:
    return {
        line.code: {
            "by": line.by,
            "note": line.note,
            "on": day_of(line.at, job.company).isoformat(),
        }
        for line in job.clearances.all()
    }
