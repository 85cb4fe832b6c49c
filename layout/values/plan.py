"""A plan: every piece with its plank, cuts, offcuts, totals. Frozen values; see `plan_form`."""

from __future__ import annotations

from dataclasses import dataclass, field

from layout.values.advice import (
    DirectionCost,
    Relaxation,
    ShortPile,
    Spent,
    SpreadRule,
    StartChoice,
)
from layout.values.material import GoesIn, Lay
from layout.values.outline import Point, Ring

FORMAT = 2
FORMATS = (1, 2)  # all that can be read; plans of format 1 are shown, never judged
SIDES = ("left end", "right end", "low side", "high side")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut of a piece.

    ``kind``: crosscut, rip, notch, angle or hole. ``measure_from``: left end, right end, low side
    or high side of the plank in the direction frame; ``at`` is the distance from there to the cut,
    the figure that stays on the piece's side named by ``keeps`` (an end or side).
    ``final``: exact or measure on site, with ``limits`` (least, most) in the latter case.
    ``detail`` carries what a kind needs beyond that (a notch's corner, depth and length).
    """

    kind: str
    measure_from: str
    at: float
    final: str = "exact"
    limits: tuple[float, float] | None = None
    tool: str = "saw"
    detail: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What is left of one plank after cutting, where it lies in the room.

    ``outline`` and ``holes`` are rings in room coordinates. ``origin`` is the lower-left corner
    (direction frame) of the uncut plank, in room coordinates; ``size`` is the uncut plank.
    ``split``: it passes a post by a declared split; ``goes_in``: how a trapped piece goes in.
    """

    id: str
    row: int
    place: int
    plank: int
    size: tuple[float, float]
    outline: Ring
    origin: Point
    holes: tuple[Ring, ...] = ()
    variant: str | None = None
    trapped: bool = False
    goes_in: GoesIn | None = None
    split: bool = False
    cuts: tuple[Cut, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A usable leftover: the plank it belongs to, its shape, the factory edges it keeps.

    ``length``, ``width`` and ``at``, the lower-left corner, are its bounds in the plank's own
    coordinates, ``outline`` its true shape there (plans of format 1 have none: a box). ``used_by``
    is the id of the first piece cut from it, None for what is left over at the end; ``stack`` the
    letter of the stack where it waits, None where it is used in the row that it comes from.
    """

    id: str
    plank: int
    length: float
    width: float
    keeps: tuple[str, ...]
    at: Point = (0.0, 0.0)
    outline: Ring = ()
    used_by: str | None = None
    stack: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleWarning:
    """A rule that the shape makes impossible to keep: where, the value and the limit."""

    rule: str
    where: str
    value: float
    limit: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What the eye sees: H-joints, staircases, smallest offset of touching rows (None: no pair)."""

    h_joints: int
    staircases: int
    smallest_offset: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Counted from the pieces. Areas in square units; ``waste`` is a ratio (0.042 = 4.2 %).

    ``fewest``: planks of the most sparing plan found, ``fewest_plan`` its digest (sha256); both
    differ from this plan's where planks were spent on looks. ``short_piles``: what is missing, by
    width and shade, where piles were counted.
    """

    planks: int
    fewest: int
    cartons: int
    lower_bound: int
    floor_area: float
    laid_area: float
    rack_max: int
    waste: float
    crosscuts: int
    rips: int
    notches: int
    full_pieces: int
    look: Look
    shortage_planks: int = 0
    shortage_cartons: int = 0
    short_piles: tuple[ShortPile, ...] = ()
    fewest_plan: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RowMarks:
    """Row lines measured from one edge of the zone (the story stick).

    Where the wall is bowed or leans from the rows, they are measured from the straight line
    through its outermost point, and ``scribe`` holds (along, offset) of every corner of it: how
    far from its end where rows begin, and how far in from that line.
    """

    source: str
    marks: tuple[float, ...]
    scribe: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A whole plan of one zone, in the request's unit; ``pieces`` in the order of laying.

    ``relax``: what to give up where rules had to break; ``bought``: what planks paid for already
    went into; ``spread``: how to spread shades where a carton's mix isn't known. ``format`` is the
    form it was read from: a plan of an older one is shown and drawn, never judged.
    """

    unit: str
    direction_deg: float
    lay: Lay
    status: str
    proof: dict[str, object]
    pieces: tuple[Piece, ...]
    offcuts: tuple[Offcut, ...]
    totals: Totals
    row_marks: tuple[RowMarks, ...] = ()
    directions: tuple[DirectionCost, ...] = ()
    starts: tuple[StartChoice, ...] = ()
    warnings: tuple[RuleWarning, ...] = ()
    relax: tuple[Relaxation, ...] = ()
    bought: Spent | None = None
    spread: SpreadRule | None = None
    format: int = FORMAT
