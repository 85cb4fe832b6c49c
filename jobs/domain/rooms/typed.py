"""What was typed in a room, as one value. Pure.

Lengths and angles stay the text that was typed, so that a page shows them again as they were;
`jobs.domain.rooms.outline` draws the room from them. Corners and walls count from 1, as people do.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

TURNS: Mapping[str, str] = {"left": "Left", "right": "Right"}
# What may stand at a wall, as a room names it and as it is called.
EDGE_KINDS: Mapping[str, str] = {
    "wall": "Wall",
    "casing": "Undercut casing",
    "toe kick": "Toe kick",
    "radiator": "Radiator",
    "slider": "Slider track",
    "stair": "Stair edge",
    "cabinet": "Cabinet",
}
TYPED_KINDS = tuple(kind for kind in EDGE_KINDS if kind != "cabinet")
# What stands in a room, how it is called, and as what the layout core knows it. What may stand
# against a wall is in `obstacles.AGAINST`; what may be round is also known to sketch-tools.js.
HOLE_KINDS: Mapping[str, tuple[str, str]] = {
    "column": ("Column or post", "post"),
    "pipe": ("Pipe", "post"),
    "hearth": ("Hearth", "post"),
    "flange": ("Toilet flange", "post"),
    "cabinet": ("Island or fixed cabinet", "cabinet"),
    "register": ("Floor register", "register"),
}
ROUND = ("column", "pipe", "flange")
_SQUARE_DEG = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedWall:
    """A wall: its length, the turn after it, and what stands at it, of `EDGE_KINDS`.

    ``angle``: degrees between it and the next wall; empty where that corner is square.
    """

    length: str
    turn: str = "left"
    angle: str = ""
    edge: str = "wall"

    @property
    def corner_deg(self) -> float:
        """The angle between it and the next wall."""
        return float(Decimal(self.angle)) if self.angle else _SQUARE_DEG


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedDiagonal:
    """A length across the room, from corner to corner."""

    start: int
    end: int
    length: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BowReading:
    """How far a wall is off the straight line ``along`` it: ``into`` the room, or out with a minus.

    The place is counted from the wall's first corner.
    """

    wall: int
    along: str
    into: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedThing:
    """What the floor goes round, of `HOLE_KINDS`: along the first wall and square to it.

    A box is measured to its corner nearest to the room's first corner, a round thing, which has no
    ``depth``, to its middle.
    """

    name: str
    x: str
    y: str
    width: str
    depth: str = ""

    @property
    def label(self) -> str:
        """How it is called."""
        return HOLE_KINDS[self.name][0]

    @property
    def kind(self) -> str:
        """As what the layout core knows it."""
        return HOLE_KINDS[self.name][1]


TypedRow = TypedWall | TypedDiagonal | BowReading | TypedThing


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedRoom:
    """Everything that was typed to draw a room, in the order of its rows.

    ``close_last``: the last wall was not measured and runs straight back to the first corner.
    ``sure_last``: the last wall is known well, so none of what the walk misses is spread onto it.
    """

    walls: tuple[TypedWall, ...] = ()
    close_last: bool = False
    sure_last: bool = False
    diagonals: tuple[TypedDiagonal, ...] = ()
    bows: tuple[BowReading, ...] = ()
    holes: tuple[TypedThing, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomTreatment:
    """What a room is called and what is done in it, field by field as its row keeps it."""

    name: str
    moisture: str
    base: str
    shoe: bool
    furniture: str
    toilets: int
    appliances: int
    leveler_bags: int
    appliance_clear_mm: Decimal | None
