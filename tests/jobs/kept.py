"""Documents as they were written in an older format, and the values that they were written from.

A kept text is never edited: a changed form gets a file of its own beside the old one.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from jobs.domain.documents import digest
from jobs.domain.load_list import load_list
from jobs.domain.packet.checks import FloorChecks
from jobs.domain.packet.content import packet_content
from jobs.domain.packet.cover import ReadingRule, cover_content, gate_contents
from jobs.domain.packet.day import DayFloor, DayTask, PacketDay
from jobs.domain.packet.goods import phases_content
from jobs.domain.quantities import Quantity, quantity
from jobs.domain.scope.rates_used import RateUsed
from jobs.domain.scope.schedule import DayPart, RoomAgreed, RoomNights, ScopeSchedule, SiteDay
from jobs.domain.scope.scope import FrozenScope, ScopePlace, ScopeZone
from jobs.domain.tasks import RoomShare, Task
from jobs.models import Company, Document

FOLDER = Path(__file__).parent / "kept_texts"

TOOLS = {
    "Every day": (
        "glasses; ear muffs; dust masks; knee pads; gloves; knife; tape measure; pencil; "
        "masking tape; vacuum; broom; trash bags; extension cord; lamp; first-aid kit; cart; "
        "paper and tape to protect; ramp strip for the night"
    ),
    "Before the floor": "moisture meter; thermometer, humidity",
    "The floor": (
        "saw; rip guide; jigsaw; T-square; clamps; story stick; chalk line; "
        "straightedge, 10 ft; tapping block; hammer; pull bar; spacers; wedges; wood glue; "
        "rags; block plane; chisel; hole saw"
    ),
}


def kept(name: str, folder: Path = FOLDER) -> str:
    """Return a kept text; its file ends with a line feed that the text hasn't."""
    return (folder / f"{name}.json").read_text(encoding="utf-8").removesuffix("\n")


def a_scope() -> FrozenScope:
    """120 ft2 in 18 rows: what is bought, a fact, and tasks with every field of theirs in use."""
    zone = ScopeZone(
        name="Den", rows=18, area_ft2=Decimal("120.00"), plan_sha256=digest("Den"), product="Oak"
    )
    setup = Task(code="setup", label="Set up", hours=Decimal("1.50"), basis="one job")
    lay = Task(
        code="lay",
        zone="Den",
        label="Lay the floor",
        hours=Decimal("12.00"),
        basis="120 ft2",
        after=("setup",),
        wait_hours_after=Decimal(24),
        rows=(1, 18),
        hold_points=("moisture",),
    )
    travel = Task(
        code="travel",
        label="Travel",
        hours=Decimal("1.00"),
        basis="1 trip",
        helper=True,
        per_day=Decimal("0.50"),
    )
    return FrozenScope(zones=(zone,), quantities=tuple(quantities()), tasks=(setup, lay, travel))


def a_scheduled_scope() -> FrozenScope:
    """The same scope as format 2 keeps it: on two days of two people, with its rates and places."""
    scope = a_scope()
    lay = RateUsed(
        task="lay",
        driver="floor_area",
        item="",
        hours=Decimal(10),
        per=Decimal(100),
        source="our own, timed on three jobs",
        jobs=3,
        since="2027-01-04",
    )
    schedule = ScopeSchedule(
        people=2,
        hours_per_day=Decimal(4),
        trip_hours=Decimal("0.50"),
        days=(
            a_site_day("1", **{"travel": "0.50", "setup": "1.50", "lay:Den": "6.00"}),
            a_site_day("1", **{"travel": "0.50", "lay:Den": "6.00"}),
        ),
    )
    return replace(
        scope,
        zones=tuple(replace(zone, key="floor-1") for zone in scope.zones),
        places=(ScopePlace(key="room-1", name="Den"),),
        schedule=schedule,
        rates=(lay,),
    )


def a_split_scope() -> FrozenScope:
    """The same scope as format 3 keeps it: the homeowner sets up, the crew lays."""
    scope = a_scheduled_scope()
    days = (
        a_site_day("1", **{"travel": "0.50", "lay:Den": "6.00"}),
        a_site_day("1", **{"travel": "0.50", "lay:Den": "6.00"}),
    )
    assert scope.schedule is not None
    schedule = replace(scope.schedule, days=days)
    return replace(scope, schedule=schedule, left_to_homeowner=("setup",))


def a_scope_by_room() -> FrozenScope:
    """The same scope as format 4 keeps it: half hours, rows and rooms of its days, and a night."""
    scope = a_split_scope()
    den = RoomShare(room="Den", hours=Decimal("12.00"), use="bedroom", rows=(1, 18))
    by_row = tuple([Decimal("0.70")] * 12 + [Decimal("0.60")] * 6)
    setup, lay, travel = scope.tasks
    lay = replace(lay, rooms=(den,), row_hours=by_row, people=2)
    days = (_half_day("6.30", (1, 9)), _half_day("5.70", (10, 18)))
    night = RoomNights(room="Den", use="bedroom", day=1, nights=1)
    assert scope.schedule is not None
    schedule = replace(scope.schedule, days=days, nights=(night,))
    return replace(scope, tasks=(setup, lay, travel), schedule=schedule)


def an_agreed_scope() -> FrozenScope:
    """The same scope as format 5 keeps it: its homeowner agreed to nights without the den."""
    scope = a_scope_by_room()
    assert scope.schedule is not None
    agreed = (RoomAgreed(room="Den", days_off=True),)
    return replace(scope, schedule=replace(scope.schedule, agreed=agreed))


def _half_day(hours: str, rows: tuple[int, int]) -> SiteDay:
    """A day of 6 half hours of laying by two people, and of the road."""
    lay = DayPart(
        task="lay:Den", hours=Decimal(hours), booked=Decimal("6.0"), rooms=("Den",), rows=rows
    )
    travel = DayPart(task="travel", hours=Decimal("0.50"), booked=Decimal("0.5"))
    return SiteDay(booked=Decimal(1), parts=(travel, lay))


def as_format_3(scope: FrozenScope) -> FrozenScope:
    """Return a scope without what one of format 3 did not keep: its days are older."""
    assert scope.schedule is not None
    return replace(scope, schedule=replace(scope.schedule, older=True))


def as_format_2(scope: FrozenScope) -> FrozenScope:
    """Return a scope without what one of format 2 did not keep."""
    return replace(scope, left_to_homeowner=None)


def as_format_1(scope: FrozenScope) -> FrozenScope:
    """Return a scope without what one of format 1 did not keep."""
    zones = tuple(replace(zone, key="") for zone in scope.zones)
    return replace(as_format_2(scope), zones=zones, places=(), schedule=None, rates=())


def a_site_day(booked: str, **hours: str) -> SiteDay:
    """A day on site with so many hours of each task."""
    parts = (DayPart(task=task, hours=Decimal(figure)) for task, figure in hours.items())
    return SiteDay(booked=Decimal(booked), parts=tuple(parts))


def quantities() -> list[Quantity]:
    """Flooring, a carton of it, and the planks it was counted from."""
    return [
        quantity("cartons", 6, "54 planks in the plan", zone="Den", item="Oak"),
        quantity("floor_area", Decimal("120.00"), "area of the zone", zone="Den", room="Den"),
        quantity("planks", 54, "54 planks in the plan"),
    ]


def a_packet() -> dict[str, Any]:
    """The content of packet 2: one day, one load, no floor (its drawings change with the pen)."""
    lay = DayTask(
        code="lay",
        name="Lay the floor (Den)",
        hours=Decimal("12.00"),
        clock="12 h",
        rows="rows 1 to 18",
        stop="",
        helper=False,
        holds=("Moisture",),
        begins="8:15",
        ends="3:30",
        people=("Ada", "Ben"),
    )
    checks = FloorChecks(
        name="Den",
        rows=(1, 18),
        finishes=True,
        gap='1/4"',
        gap_source="Maker's sheet",
        offset='8"',
        offset_source="Maker's sheet",
        marks={5: "3'", 10: "6'", 15: "9'", 18: "10' 8\""},
    )
    cartons = "Open cartons 1 to 6 together, of one lot; take from each in turn."
    day = PacketDay(
        number=1,
        date=date(2027, 3, 1),
        crew="First crew",
        people=("Ada, 555-0101", "Ben"),
        hours=Decimal("12.00"),
        clock="12 h",
        goal="Lay the floor (Den rows 1 to 18)",
        arrives="8:15",
        leaves="3:30",
        tasks=(lay,),
        floors=(DayFloor(checks=checks, cartons=cartons, offcuts=('stack A, 3-1: 24"',)),),
        notes=("Wait for the leveler.",),
        cautions=("Eyes, ears, lungs, knees, hands",),
    )
    return _packet_of(day) | {"number": 2, "issued_on": "2027-02-26"}


def _packet_of(day: PacketDay) -> dict[str, Any]:
    """The content of a packet of this one day: cover, a gate, loads and tools."""
    rule = ReadingRule(
        subfloor="wood subfloor",
        method="Moisture content of a wood subfloor",
        unit="%",
        limit=Decimal(12),
        places=("Den",),
        made=(),
    )
    return packet_content(
        job={"number": 7, "title": "Den", "address": "4 Cooper Lane"},
        client={"name": "Ines Okafor", "phone": "555-0102"},
        company={"name": "Fernwood Floors", "phone": "555-0103"},
        scope={"number": 1, "sha256": digest("scope")},
        cover=cover_content(
            places=[("Parking", "In the drive")],
            contacts=[("Homeowner", "Ines Okafor", "555-0102")],
            carry="No stairs, 6 cartons",
            today="",
            access=None,
        ),
        gates=gate_contents([], {}, rule),
        cautions=[],
        phases=_phases(),
        floors=[],
        days=[day],
        edges={},
    )


def _phases() -> list[dict[str, Any]]:
    """The loads in today's form, with the tools that were named when the text was kept."""
    phases = phases_content(load_list(quantities()), {"lay"}, readings=True)
    return [phase | {"tools": TOOLS[phase["phase"]].split("; ")} for phase in phases]


def kept_document(company: Company, kind: str, text: str) -> Document:
    """Return a stored document with a kept text."""
    return Document.objects.create(company=company, kind=kind, text=text, sha256=digest(text))
