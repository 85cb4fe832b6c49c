"""What an opening takes: saw cut, strip, track and fixing, and what a door and an appliance clear.

Lengths are inches. All figures are common practice without a source and stand here by name.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Literal, get_args

from jobs.domain.checks import ZERO, require_choice, require_number, require_text

Subfloor = Literal["unknown", "wood", "slab"]
Fixing = Literal["track", "screws", "adhesive"]

SAW_CLEARANCE_IN = Decimal("0.0625")
"""Room left above the floor under an undercut casing."""
TRACK_SHORT_IN = Decimal("0.25")
"""A track is cut shorter than its strip, so that it binds at neither jamb."""
PASSES_IN = Decimal("0.125")
"""Least room under a door, and above an appliance that has to come out."""
TRIM_STEP_IN = Decimal("0.0625")
STANDS_IN = {
    "carry through": ZERO,
    "T-molding": Decimal("0.25"),
    "reducer": Decimal("0.25"),
    "end cap": Decimal("0.25"),
    "threshold": Decimal("0.5"),
    "stair nose": Decimal("0.25"),
}
"""How far a strip stands above the higher of the two floors."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FlooredOpening:
    """An opening with its floor: what is put on it and what stands around it.

    ``floor_in``: plank and pad, None where no floor is chosen yet; ``rise_in``: how much higher the
    floor beyond stands; ``clearance_in``: under the door before this floor, None: not measured.
    """

    treatment: str
    width_in: Decimal
    floor_in: Decimal | None = None
    rise_in: Decimal = ZERO
    casings: int = 0
    metal_frame: bool = False
    clearance_in: Decimal | None = None
    subfloor: Subfloor = "unknown"
    heated: bool = False

    def __post_init__(self) -> None:
        """Refuse an unknown treatment and subfloor, no width, negative counts and heights."""
        require_choice("opening.treatment", self.treatment, STANDS_IN)
        require_choice("opening.subfloor", self.subfloor, get_args(Subfloor))
        require_number("opening.width_in", self.width_in, above=0)
        require_number("opening.casings", self.casings, least=0)
        for name in ("floor_in", "clearance_in"):
            value = getattr(self, name)
            if value is not None:
                require_number(f"opening.{name}", value, least=0)


def saw_cut_in(opening: FlooredOpening) -> Decimal | None:
    """Return how high above the subfloor the casing is cut; None without casing or floor."""
    if opening.floor_in is None or not opening.casings or opening.metal_frame:
        return None
    return opening.floor_in + SAW_CLEARANCE_IN


def blade_words(opening: FlooredOpening) -> str:
    """Return what the frame asks of the saw; empty where an undercut saw does."""
    if not opening.metal_frame:
        return ""
    return (
        "Metal frame: cut it with a metal-cutting blade, or stop the floor short of it by the gap "
        "and fill that."
    )


def fixing_of(opening: FlooredOpening) -> Fixing:
    """Return what holds the strip: a track screwed into wood, adhesive on a slab or a heated floor.

    A stair nose is screwed to a wood subfloor without a track.
    """
    if opening.subfloor == "slab" or opening.heated:
        return "adhesive"
    return "screws" if opening.treatment == "stair nose" else "track"


def fixing_words(opening: FlooredOpening) -> str:
    """Return the fixing in a sentence; empty where there is no strip."""
    if opening.treatment == "carry through":
        return ""
    how = fixing_of(opening)
    if how == "adhesive":
        why = "the floor is heated" if opening.heated else "on a slab"
        return f"Adhesive, to the subfloor only and never to the planks: {why}."
    into = "wood" if opening.subfloor == "wood" else "a wood subfloor; on a slab adhesive"
    if how == "screws":
        return f"Screws every 8 in and a bead of adhesive, into {into}."
    return f"Track screwed every 8 in, through the gap and never through the planks, into {into}."


def strip_in(opening: FlooredOpening) -> Decimal | None:
    """Return the length of the strip, None where the floor is carried through.

    It fills the clear width, which is measured to the back of the cut where jambs are undercut.
    """
    return None if opening.treatment == "carry through" else opening.width_in


def track_in(opening: FlooredOpening) -> Decimal | None:
    """Return the length of the track, None where the strip needs none."""
    strip = strip_in(opening)
    if strip is None or fixing_of(opening) != "track":
        return None
    return max(strip - TRACK_SHORT_IN, TRIM_STEP_IN)


def under_door_in(opening: FlooredOpening) -> Decimal | None:
    """Return what is left under the door over floor and strip; None where it can't be told.

    Less than nought: the door would not close.
    """
    if opening.clearance_in is None or opening.floor_in is None:
        return None
    higher = max(opening.rise_in, ZERO)
    stands = STANDS_IN[opening.treatment]
    return opening.clearance_in - opening.floor_in - higher - stands


def door_trim_in(opening: FlooredOpening) -> Decimal:
    """Return how much to trim off the door so that it clears, in sixteenths upward; often 0."""
    left = under_door_in(opening)
    if left is None or left >= PASSES_IN:
        return ZERO
    steps = ((PASSES_IN - left) / TRIM_STEP_IN).to_integral_value(ROUND_CEILING)
    return steps * TRIM_STEP_IN


def traps_appliance(clear_in: Decimal | None, floor_in: Decimal | None) -> bool:
    """Whether an appliance could no longer come out once the floor stands before it."""
    if clear_in is None or floor_in is None:
        return False
    return clear_in - floor_in < PASSES_IN


@dataclass(frozen=True, kw_only=True, slots=True)
class TightDoor:
    """A door that would not clear: where, what is left under it, what to trim off, in words."""

    where: str
    left: str
    trim: str

    def __post_init__(self) -> None:
        """Refuse a door without place or figures."""
        for name in ("where", "left", "trim"):
            require_text(f"tight door.{name}", getattr(self, name))


@dataclass(frozen=True, kw_only=True, slots=True)
class TrappedAppliance:
    """A room whose appliance could not come out: room above it and height gained, in words."""

    where: str
    clear: str
    gained: str

    def __post_init__(self) -> None:
        """Refuse a room without name or figures."""
        for name in ("where", "clear", "gained"):
            require_text(f"trapped appliance.{name}", getattr(self, name))
