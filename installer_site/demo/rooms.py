"""The rooms of the demo's jobs as they were measured, their doorways, and a stair."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from jobs.domain.rooms.typed import TypedThing
from jobs.models.base import Values


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
    values: Values = field(default_factory=dict)


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
    values={"furniture": "some", "base": "replace", "leveler_bags": 2},
)

STAIR: Values = {
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
