"""The scenario: an invented company, its people and its jobs. Nobody's real data."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from installer_site.demo.rooms import (
    BAY_ROOM,
    BEDROOM,
    HALL,
    KITCHEN,
    LANDING,
    STAIR,
    STUDY,
    SUNROOM,
    DemoRoom,
)
from jobs.models.base import Values

COMPANY = {
    "name": "Example Floors",
    "address": "18 Example Road\nExample Town, PA 00000",
    "phone": "555-0100",
    "email": "office@example.com",
    "license": "EX-0000",
    "registration": "PA000000",
    "insurance": "Example insurer, policy 00-0000",
    "time_zone": "America/New_York",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who signs in."""

    name: str
    email: str
    role: str
    phone: str


SECOND_WAYS = ("base_new", "base_old", "tear_out", "lay_over")
"""Ways of which a quote of the demo offers the first there is."""
EXTRA: Values = {
    "text": "Take the closet shelf down and put it back up.",
    "asked_by": "Dara Voss",
    "hours": Decimal("1.5"),
}

OWNER = Person(name="Mara Quill", email="mara@example.com", role="owner", phone="555-0101")
ESTIMATOR = Person(name="Theo Banks", email="theo@example.com", role="estimator", phone="555-0102")
LEAD = Person(name="Lio Hart", email="lio@example.com", role="crew", phone="555-0103")
HELPER = Person(name="Sam Perrin", email="sam@example.com", role="crew", phone="555-0104")
PEOPLE = (OWNER, ESTIMATOR, LEAD, HELPER)
CREW = "Example crew"


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
    site: Values
    stairs: tuple[Values, ...] = ()
    direction_deg: int = 0


WOOD_READ = [{"method": "wood", "value": "8", "where": "by the window", "on": "2026-09-01"}]
"""What the wood subfloors read at the visit; the products allow 12 %."""

JOBS: tuple[DemoJob, ...] = (
    DemoJob(
        title="Living room with a bay",
        client={"name": "Ines Okafor", "phone": "555-0142", "email": "ines@example.com"},
        address="4 Example Lane\nExample Town, PA 00000",
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
            "readings": WOOD_READ,
            "access": "Parking in the drive. Saw on the porch. One dog, kept upstairs.",
        },
    ),
    DemoJob(
        title="Study and landing",
        client={"name": "Jonas Weller", "phone": "555-0143", "email": "jonas@example.com"},
        address="77 Example Street, second floor\nExample Town, PA 00000",
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
            "readings": WOOD_READ,
            "flights": 1,
            "painted_ft2_per_room": "5",
            "access": "Street parking until 4. Buzzer 2.",
        },
    ),
    DemoJob(
        title="Kitchen, ell with a column",
        client={"name": "Priya Raman", "phone": "555-0144", "email": "priya@example.com"},
        address="Lot 9, Example Field\nExample Town, PA 00000",
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
        address="230 Example Bend\nExample Town, PA 00000",
        units="imperial",
        stage="laying",
        product=0,
        floor="Bedroom and hall",
        rooms=(BEDROOM, HALL),
        direction_deg=90,
        site={
            "year_built": 2001,
            "existing_floor": "carpet",
            "floor_year": 2001,
            "tear_out": True,
            "subfloor": "wood",
            "readings": WOOD_READ,
            "flights": 1,
            "access": "Key under the third pot. Two cats, kept in the kitchen.",
        },
    ),
    DemoJob(
        title="Sunroom",
        client={"name": "Emil Sato", "phone": "555-0146", "email": "emil@example.com"},
        address="12 Example Rise\nExample Town, PA 00000",
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
