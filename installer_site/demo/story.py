"""The scenario: invented people, places and prices. Nothing here is anybody's real data."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from jobs.domain.rooms.typed import TypedThing

COMPANY = {
    "name": "Wren Hollow Floors",
    "address": "18 Mill Race Road\nHarrow Glen, PA 19000",
    "phone": "555-0100",
    "email": "office@example.com",
    "licence": "HG-0420",
    "insurance": "Harrow Mutual, policy 77-0193",
    "time_zone": "America/New_York",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who signs in."""

    name: str
    email: str
    role: str
    phone: str


OWNER = Person(name="Mara Quill", email="mara@example.com", role="owner", phone="555-0101")
ESTIMATOR = Person(name="Theo Banks", email="theo@example.com", role="estimator", phone="555-0102")
LEAD = Person(name="Lio Hart", email="lio@example.com", role="crew", phone="555-0103")
HELPER = Person(name="Sam Perrin", email="sam@example.com", role="crew", phone="555-0104")
PEOPLE = (OWNER, ESTIMATOR, LEAD, HELPER)
CREW = "Mill Race crew"

# Rules that the sheets of the demo products don't name: common practice.
OUR_OWN_RULES = ("saw_kerf_mm", "min_row_mm")

# Lengths as typed; a bare number is in the unit system of the product.
PRODUCTS: tuple[dict[str, Any], ...] = (
    {
        "name": "Slate Oak plank, 7 x 48",
        "units": "imperial",
        "core": "rigid",
        "length": "48",
        "width": "7",
        "thickness": "1/4",
        "per_carton": 10,
        "carton_weight_kg": "14.50",
        "attached_pad": True,
        "gap": "1/4",
        "saw_kerf": "0.125",
        "min_end": "8",
        "min_offset": "8",
        "min_row": "2",
        "max_run": "40'",
        "max_run_width": "40'",
        "price": "61.00",
        "sheet": {
            "laid_over": ["slab", "wood subfloor", "resilient", "tile"],
            "wettest": "damp",
            "heated_floor": "yes",
            "separate_pad": "no",
            "tilt_deg": Decimal(25),
            "tapping": "block",
            "both_ways": True,
            "most_rh_pct": Decimal(85),
            "most_mver": Decimal(6),
            "most_wood_mc_pct": Decimal(12),
            "sheet_edition": "sheet 7, March 2026",
        },
    },
    {
        "name": "River Ash board, 192 x 1285",
        "units": "metric",
        "core": "laminate",
        "length": "1285",
        "width": "192",
        "thickness": "10",
        "per_carton": 8,
        "carton_weight_kg": "15.20",
        "attached_pad": False,
        "gap": "8",
        "saw_kerf": "3",
        "min_end": "300",
        "min_offset": "300",
        "min_row": "60",
        "max_run": "10 m",
        "max_run_width": "8 m",
        "acclimatise_hours": 48,
        "price": "58.40",
        "sheet": {
            "laid_over": ["slab", "wood subfloor", "resilient", "tile", "wood floor"],
            "wettest": "dry",
            "heated_floor": "no",
            "separate_pad": "yes",
            "tilt_deg": Decimal(20),
            "tapping": "no",
            "most_rh_pct": Decimal(75),
            "most_wood_mc_pct": Decimal(12),
            "variants": {"A": 3, "B": 3, "C": 2},
            "sheet_edition": "edition 4, 2025",
        },
    },
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoDoorway:
    """An opening: from a room's wall (counted from 1) to another room's, or to some floor."""

    wall: int
    offset: str
    width: str
    depth: str
    beyond: str = ""
    beyond_wall: int = 0
    beyond_offset: str = ""
    beyond_floor: str = ""
    beyond_kind: str = ""
    beyond_high: str = ""
    kind: str = "door"
    swing: str = "none"
    clearance: str = ""
    casings: int = 2
    doors_off: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoRoom:
    """A room as walked: length and turn, wall after wall."""

    name: str
    walls: tuple[tuple[str, str], ...]
    holes: tuple[TypedThing, ...] = ()
    doorways: tuple[DemoDoorway, ...] = ()
    values: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoJob:
    """A job and how far it has come: rooms, planned, quoted."""

    title: str
    client: dict[str, str]
    address: str
    units: str
    stage: str
    product: int
    floor: str
    rooms: tuple[DemoRoom, ...]
    site: dict[str, Any]
    stairs: tuple[dict[str, Any], ...] = ()


BAY_ROOM = DemoRoom(
    name="Living room",
    walls=(
        ("15' 6", "left"),
        ("11'", "left"),
        ("3' 4", "angle 229.764"),
        ("34 1/16", "angle 130.236"),
        ("5' 2", "angle 130.236"),
        ("34 1/16", "angle 229.764"),
        ("3' 4", "left"),
        ("11'", "left"),
    ),
    doorways=(
        DemoDoorway(
            wall=1,
            offset="8' 2",
            width="36",
            depth="4 1/2",
            beyond_floor="Hall, tile",
            beyond_kind="tile",
            beyond_high="5/16",
            kind="cased",
            doors_off=0,
        ),
    ),
    values={"furniture": "full", "base": "reinstall"},
)

STUDY = DemoRoom(
    name="Study",
    walls=(("4380", "left"), ("3215", "left"), ("4380", "left"), ("3215", "left")),
    doorways=(
        DemoDoorway(
            wall=2,
            offset="1120",
            width="820",
            depth="115",
            beyond="Landing",
            beyond_wall=6,
            beyond_offset="310",
        ),
    ),
    values={"furniture": "some", "base": "replace"},
)
LANDING = DemoRoom(
    name="Landing",
    walls=(
        ("1900", "left"),
        ("2450", "left"),
        ("1100", "left"),
        ("850", "right"),
        ("800", "left"),
        ("1600", "left"),
    ),
    values={"base": "replace"},
)

KITCHEN = DemoRoom(
    name="Kitchen",
    walls=(
        ("19' 4", "left"),
        ("9' 10", "left"),
        ("7' 7", "right"),
        ("7' 3 1/2", "left"),
        ("11' 9", "left"),
        ("17' 1 1/2", "left"),
    ),
    holes=(TypedThing(name="column", x="9' 2", y="6' 4", width="5 1/2", depth="5 1/2"),),
    values={"moisture": "damp", "appliances": 2, "base": "reinstall", "shoe": True},
)

BEDROOM = DemoRoom(
    name="Bedroom",
    walls=(("18' 8", "left"), ("15' 4 1/2", "left"), ("18' 8", "left"), ("15' 4 1/2", "left")),
    doorways=(
        DemoDoorway(
            wall=2,
            offset="2' 6",
            width="32",
            depth="4 1/2",
            beyond="Hall",
            beyond_wall=4,
            beyond_offset="3' 4",
        ),
    ),
    values={"furniture": "full"},
)
HALL = DemoRoom(
    name="Hall",
    walls=(("46", "left"), ("21' 2", "left"), ("46", "left"), ("21' 2", "left")),
    doorways=(
        DemoDoorway(
            wall=3,
            offset="5",
            width="30",
            depth="4 1/2",
            beyond_floor="Bathroom, tile",
            beyond_kind="tile",
            beyond_high="5/8",
            swing="out",
            clearance="7/8",
        ),
    ),
)
SUNROOM = DemoRoom(
    name="Sunroom",
    walls=(("13' 1 1/2", "left"), ("10' 7", "left"), ("13' 1 1/2", "left"), ("10' 7", "left")),
    doorways=(
        DemoDoorway(
            wall=1,
            offset="4' 3",
            width="60",
            depth="4 1/2",
            beyond_floor="Dining room, wood",
            beyond_kind="wood",
            kind="cased",
            doors_off=0,
        ),
    ),
    values={"furniture": "some", "base": "replace", "leveller_bags": 2},
)

STAIR: dict[str, Any] = {
    "name": "Stair to the landing",
    "treads": 13,
    "riser_boards": 14,
    "nosings": 14,
    "width_mm": Decimal(880),
    "tread_mm": Decimal(265),
    "risers": [*["185"] * 13, "184"],
    "treads_raised_mm": Decimal(10),
    "below_raised_mm": Decimal(10),
    "above_raised_mm": Decimal("13.175"),
}

JOBS: tuple[DemoJob, ...] = (
    DemoJob(
        title="Living room with a bay",
        client={"name": "Ines Okafor", "phone": "555-0142", "email": "ines@example.com"},
        address="4 Cooper Lane\nHarrow Glen, PA 19000",
        units="imperial",
        stage="quoted",
        product=0,
        floor="Living room",
        rooms=(BAY_ROOM,),
        site={
            "year_built": 1994,
            "existing_floor": "carpet",
            "floor_year": 2006,
            "tear_out": True,
            "subfloor": "wood",
            "access": "Parking in the drive. Saw on the porch. One dog, kept upstairs.",
        },
    ),
    DemoJob(
        title="Study and landing",
        client={"name": "Jonas Weller", "phone": "555-0143", "email": "jonas@example.com"},
        address="77 Quarry Street, second floor\nHarrow Glen, PA 19000",
        units="metric",
        stage="planned",
        product=1,
        floor="Upstairs",
        rooms=(STUDY, LANDING),
        stairs=(STAIR,),
        site={
            "year_built": 1968,
            "existing_floor": "resilient",
            "floor_year": 1984,
            "subfloor": "wood",
            "flights": 1,
            "painted_ft2_per_room": "5",
            "access": "Street parking until 4. Buzzer 2.",
        },
    ),
    DemoJob(
        title="Kitchen, ell with a column",
        client={"name": "Priya Raman", "phone": "555-0144", "email": "priya@example.com"},
        address="Lot 9, Fallow Road\nHarrow Glen, PA 19000",
        units="imperial",
        stage="measured",
        product=0,
        floor="",
        rooms=(KITCHEN,),
        site={"existing_floor": "unknown", "subfloor": "slab"},
    ),
    DemoJob(
        title="Bedroom and hall",
        client={"name": "Dara Voss", "phone": "555-0145", "email": "dara@example.com"},
        address="230 Locust Bend\nHarrow Glen, PA 19000",
        units="imperial",
        stage="laying",
        product=0,
        floor="Bedroom and hall",
        rooms=(BEDROOM, HALL),
        site={
            "year_built": 2001,
            "existing_floor": "carpet",
            "floor_year": 2001,
            "tear_out": True,
            "subfloor": "wood",
            "flights": 1,
            "access": "Key under the third pot. Two cats, kept in the kitchen.",
        },
    ),
    DemoJob(
        title="Sunroom",
        client={"name": "Emil Sato", "phone": "555-0146", "email": "emil@example.com"},
        address="12 Orchard Rise\nHarrow Glen, PA 19000",
        units="imperial",
        stage="closed",
        product=0,
        floor="Sunroom",
        rooms=(SUNROOM,),
        site={
            "year_built": 1988,
            "existing_floor": "none",
            "subfloor": "slab",
            "readings": [
                {"method": "rh", "value": value, "where": where, "on": "2026-09-01"}
                for value, where in (("71", "by the slider"), ("68", "middle"), ("70", "far wall"))
            ],
            "access": "Side gate. Saw spot on the patio.",
        },
    ),
)
