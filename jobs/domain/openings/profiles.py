"""Where a floor ends in an opening and what the strip over it covers: one chain of figures. Pure.

    face of this room's wall                            far face
    |<------- floor ends ------>|   gap   :   gap
    |        |<---- strip covers, from here to there ---->|
    |        |                            : middle of the wall's depth: the plan's joint

Figures are inches from the face of the wall in the room that is laid. What a strip covers and
which change in level it holds: common practice, no source; the strip as bought goes first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, require_choice, require_number

OVERLAP_IN = Decimal("0.25")
"""What a strip covers of the floor at least, so that its gap stays hidden in every season."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StripProfile:
    """A kind of strip: how wide it covers, and between which heights of the floor beyond.

    ``over``: the part of its width that lies on this floor's side of the joint.
    """

    covers_in: Decimal
    over: Decimal
    low_in: Decimal
    high_in: Decimal


_HALF, _EIGHTH = Decimal("0.5"), Decimal("0.125")
PROFILES: Mapping[str, StripProfile] = {
    "T-molding": StripProfile(
        covers_in=Decimal("1.75"), over=_HALF, low_in=-_EIGHTH, high_in=_EIGHTH
    ),
    "reducer": StripProfile(covers_in=Decimal("1.75"), over=_HALF, low_in=-_HALF, high_in=_HALF),
    "end cap": StripProfile(
        covers_in=Decimal("1.375"), over=Decimal(1), low_in=-_EIGHTH, high_in=_HALF
    ),
    "threshold": StripProfile(
        covers_in=Decimal("3.5"), over=_HALF, low_in=Decimal(-1), high_in=Decimal(1)
    ),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class BoughtStrip:
    """What was measured of a strip as bought: its width, how far down and up the floor may stand.

    None: not measured, as usual for its kind.
    """

    covers_in: Decimal | None = None
    down_in: Decimal | None = None
    up_in: Decimal | None = None

    def __post_init__(self) -> None:
        """Refuse a strip that covers nothing, and negative heights."""
        if self.covers_in is not None:
            require_number("strip.covers_in", self.covers_in, above=0)
        for name in ("down_in", "up_in"):
            if getattr(self, name) is not None:
                require_number(f"strip.{name}", getattr(self, name), least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Crossing:
    """An opening in which the floor ends: its wall, the gap, the strip, the floor beyond.

    ``bought``: the strip as it was measured, None where nobody has it yet.
    """

    treatment: str
    depth_in: Decimal
    gap_in: Decimal
    rise_in: Decimal = ZERO
    bought: BoughtStrip | None = None

    def __post_init__(self) -> None:
        """Refuse a strip that has no profile, and negative lengths."""
        require_choice("crossing.treatment", self.treatment, PROFILES)
        for name in ("depth_in", "gap_in"):
            require_number(f"crossing.{name}", getattr(self, name), least=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class StripChain:
    """Where the floor ends and what the strip covers, from the face of this room's wall."""

    floor_ends_in: Decimal
    covers_from_in: Decimal
    covers_to_in: Decimal
    joint_in: Decimal


def profile_of(crossing: Crossing) -> StripProfile:
    """Return the strip of a crossing: as bought, where that was measured, else as usual."""
    usual, bought = PROFILES[crossing.treatment], crossing.bought or BoughtStrip()
    return StripProfile(
        covers_in=usual.covers_in if bought.covers_in is None else bought.covers_in,
        over=usual.over,
        low_in=usual.low_in if bought.down_in is None else -bought.down_in,
        high_in=usual.high_in if bought.up_in is None else bought.up_in,
    )


def chain_of(crossing: Crossing) -> StripChain:
    """Return the chain of a crossing: the plan ends a floor in the middle of the wall's depth."""
    profile, joint = profile_of(crossing), crossing.depth_in / 2
    start = joint - profile.covers_in * profile.over
    return StripChain(
        floor_ends_in=joint - crossing.gap_in,
        covers_from_in=start,
        covers_to_in=start + profile.covers_in,
        joint_in=joint,
    )


def refusal_of(crossing: Crossing) -> str:
    """Return why this strip can't go here, in a code word: "" where it can.

    "rise": the change in level lies out of its range; "narrow": it would cover too little floor.
    """
    profile, chain = profile_of(crossing), chain_of(crossing)
    if not profile.low_in <= crossing.rise_in <= profile.high_in:
        return "rise"
    return "narrow" if chain.floor_ends_in - chain.covers_from_in < OVERLAP_IN else ""
