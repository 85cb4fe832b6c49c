"""What is laid and by which rules: boards, products, laying rules, hands. Frozen and checked."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum


class Lock(StrEnum):
    """How one board is joined to the next."""

    ANGLE_ANGLE = "angle-angle"
    ANGLE_DROP = "angle-drop"
    TAP = "tap"
    GLUE = "glue"


class Stagger(StrEnum):
    """The step of end joints from row to row."""

    FREE = "free"
    HALF = "half"
    THIRD = "third"


class Side(StrEnum):
    """A long side of a board, or a side of the zone, in the direction frame."""

    LOW = "low"
    HIGH = "high"


class End(StrEnum):
    """An end of a board in the direction frame."""

    LEFT = "left"
    RIGHT = "right"


class Prefer(StrEnum):
    """What the last planks of the last carton are worth."""

    PLANKS = "planks"
    CARTONS = "cartons"


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One board size of a carton: laid cover (never tongue or lip) in the request's unit."""

    length: float
    width: float
    per_carton: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """A flooring product: its board sizes, the variants (prints, shades) of a carton, its lock.

    ``boards`` has one entry unless widths are mixed. ``variants`` maps a variant's name to its
    count in one carton; empty where all boards look alike.
    """

    boards: tuple[Board, ...]
    variants: dict[str, int] = field(default_factory=dict)
    lock: Lock | None = None

    @property
    def board(self) -> Board:
        """The first board size; the only one of a product that is not mixed."""
        return self.boards[0]

    @property
    def per_carton(self) -> int:
        """Boards in one carton, all sizes together."""
        return sum(board.per_carton for board in self.boards)


@dataclass(frozen=True, slots=True, kw_only=True)
class LayingRules:
    """The rules of laying, lengths in the request's unit.

    ``direction_deg`` is None for "best"; ``max_rack`` is None where the rack has no limit;
    ``wall_error`` is how far a wall may stand off its drawn place.
    """

    expansion_gap: float
    saw_kerf: float
    min_end_piece: float
    min_joint_offset: float
    min_row_width: float
    wall_error: float = 0.0
    max_rack: int | None = None
    stagger: Stagger = Stagger.FREE
    direction_deg: float | None = 0.0
    balance: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """The hands of laying: start side, end from which rows are built, side of the tongue."""

    start: Side = Side.LOW
    first_end: End = End.LEFT
    tongue: Side = Side.HIGH
