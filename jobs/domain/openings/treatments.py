"""What is done where a floor meets an opening: the treatment, its reason, and where the joint lies.

Heights are inches, the floor beyond less this floor once it is laid: above nought it stands higher.
The table is common practice without a source; the limits of a change in level are published ones.
It is read from the top: the first row that fits is taken.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args

from jobs.domain.checks import ZERO, require_choice, require_number
from jobs.domain.quantities import PRACTICE

OpeningKind = Literal["door", "cased", "exterior", "slider", "closet", "stairs"]
BeyondKind = Literal[
    "", "same", "plank", "carpet", "tile", "wood", "resilient", "slab", "stairs", "outside"
]
Swing = Literal["none", "in", "out", "slides"]

LEVEL_IN = Decimal("0.125")
"""Up to here floors count as level: common practice, no source."""
LOW_STEP_IN = Decimal("0.5")
"""Up to here a reducer bridges a step: common practice, no source."""
VERTICAL_IN = Decimal("0.25")
"""A change in level up to here may be vertical. 2010 ADA Standards 303.2."""
BEVELED_IN = Decimal("0.5")
"""Up to here it is beveled, 1:2 at the steepest. 2010 ADA Standards 303.3; doors 404.2.5."""
EXISTING_SILL_IN = Decimal("0.75")
"""Up to here a threshold that is there already may stay, beveled on both sides. 404.2.5, exception,
from memory."""
WAY_OUT_IN = Decimal("1.5")
"""The most that the threshold of a way out stands up. IRC R311.3.1, from memory."""
BEVEL_RUN = Decimal(2)
LEVEL_SOURCE = (
    "2010 ADA Standards 303.2 to 303.4, 404.2.5; ICC A117.1, 303 and 404.2.4, has the same limits, "
    "from memory"
)

ANY: tuple[str, ...] = ()
_OUTSIDE = ("exterior", "slider")


@dataclass(frozen=True, kw_only=True, slots=True)
class Meeting:
    """An opening and what it leads to; ``rise_in`` as this module counts heights."""

    opening: OpeningKind = "door"
    beyond: BeyondKind = ""
    rise_in: Decimal = ZERO
    swing: Swing = "none"

    def __post_init__(self) -> None:
        """Refuse kinds that are not known and a height that is no number."""
        require_choice("meeting.opening", self.opening, get_args(OpeningKind))
        require_choice("meeting.beyond", self.beyond, get_args(BeyondKind))
        require_choice("meeting.swing", self.swing, get_args(Swing))
        require_number("meeting.rise_in", self.rise_in)


@dataclass(frozen=True, kw_only=True, slots=True)
class TreatmentRow:
    """A row of the table: which openings and floors beyond it is for, between which heights.

    Empty openings or floors: all of them; a height of None: no limit. Limits themselves fit.
    """

    openings: tuple[str, ...] = ANY
    beyond: tuple[str, ...] | None = None
    low_in: Decimal | None = None
    high_in: Decimal | None = None
    treatment: str
    reason: str
    source: str = PRACTICE

    def fits(self, meeting: Meeting) -> bool:
        """Whether the row is for this meeting."""
        return (
            (not self.openings or meeting.opening in self.openings)
            and (self.beyond is None or meeting.beyond in self.beyond)
            and (self.low_in is None or meeting.rise_in >= self.low_in)
            and (self.high_in is None or meeting.rise_in <= self.high_in)
        )


TABLE: tuple[TreatmentRow, ...] = (
    TreatmentRow(
        openings=("stairs",),
        treatment="stair nose",
        reason="The floor ends at the top of a stair; its edge must be fixed and rounded",
    ),
    TreatmentRow(
        beyond=("stairs",),
        treatment="stair nose",
        reason="A stair goes down beyond; the floor's edge must be fixed and rounded",
    ),
    TreatmentRow(
        openings=_OUTSIDE,
        low_in=-LEVEL_IN,
        treatment="end cap",
        reason="The floor stops short of the sill or track, and the cap hides the gap",
    ),
    TreatmentRow(
        openings=_OUTSIDE,
        treatment="threshold",
        reason="The sill lies lower than the floor; a threshold steps down to it",
    ),
    TreatmentRow(
        beyond=("outside",),
        low_in=-LEVEL_IN,
        treatment="end cap",
        reason="The floor stops short of the sill, and the cap hides the gap",
    ),
    TreatmentRow(
        beyond=("outside",),
        treatment="threshold",
        reason="The sill lies lower than the floor; a threshold steps down to it",
    ),
    TreatmentRow(
        beyond=("same",),
        low_in=ZERO,
        high_in=ZERO,
        treatment="carry through",
        reason="This floor goes on beyond at the same height",
    ),
    TreatmentRow(
        openings=("closet",),
        beyond=("",),
        low_in=ZERO,
        high_in=ZERO,
        treatment="carry through",
        reason="A closet gets the floor of its room",
    ),
    TreatmentRow(
        beyond=("carpet",),
        low_in=-LEVEL_IN,
        high_in=LOW_STEP_IN,
        treatment="end cap",
        reason="Carpet is tucked against a straight edge",
    ),
    TreatmentRow(
        beyond=("slab",),
        low_in=-LEVEL_IN,
        high_in=LEVEL_IN,
        treatment="end cap",
        reason="Nothing lies beyond that a strip could lap over",
    ),
    TreatmentRow(
        low_in=-LEVEL_IN,
        high_in=LEVEL_IN,
        treatment="T-molding",
        reason="Two floors meet level, and each must be free to move",
    ),
    TreatmentRow(
        low_in=-LOW_STEP_IN,
        high_in=LOW_STEP_IN,
        treatment="reducer",
        reason="One floor stands a little higher; a reducer slopes from it to the other",
    ),
    TreatmentRow(
        low_in=-LOW_STEP_IN,
        treatment="threshold",
        reason="The floor beyond stands more than 1/2 in higher; only a threshold bridges that",
    ),
    TreatmentRow(
        treatment="threshold",
        reason="The floor beyond lies more than 1/2 in lower; only a threshold bridges that",
    ),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class ProposedTreatment:
    """The treatment of an opening, why, and where that comes from."""

    treatment: str
    reason: str
    source: str


def propose(meeting: Meeting) -> ProposedTreatment:
    """Return the treatment that the table gives to a meeting; the last row fits all."""
    row = next(row for row in TABLE if row.fits(meeting))
    return ProposedTreatment(treatment=row.treatment, reason=f"{row.reason}.", source=row.source)


def joint_words(meeting: Meeting, treatment: str) -> str:
    """Return where in the opening the joint of the two floors lies, in a sentence."""
    if treatment == "carry through":
        return "No joint: the boards run through, and no end joint lies in the opening."
    if treatment == "stair nose" or meeting.opening == "stairs":
        return "At the edge of the landing, the nose flush with the riser below."
    if meeting.opening == "exterior":
        return "At the sill, with the gap left open under the strip."
    if meeting.opening == "slider":
        return "At the track, with the gap left open under the strip; no weight on the track."
    return "In the middle of the wall's depth, under the strip: the plan ends the floor there."


def bevel_run_in(rise_in: Decimal) -> Decimal | None:
    """Return how far a bevel of 1:2 reaches for a change in level: 0 to 1/4 in, None past 1/2.

    Source: 2010 ADA Standards 303.2 to 303.4; up to 1/4 in may be vertical, so only a higher change
    is beveled, here over its whole height.
    """
    rise = abs(rise_in)
    if rise <= VERTICAL_IN:
        return ZERO
    return rise * BEVEL_RUN if rise <= BEVELED_IN else None


def level_words(rise_in: Decimal) -> str:
    """Return what the published limits say of a change in level; empty for none."""
    rise, run = abs(rise_in), bevel_run_in(rise_in)
    if not rise:
        return ""
    if run is None:
        return "More than 1/2 in: an accessible route needs a ramp here."
    if run:
        reach = f"{run.normalize():f} in"
        return f"More than 1/4 in: beveled no steeper than 1:2, at least {reach} from edge to edge."
    return "Up to 1/4 in: it may be vertical."


def in_words(row: TreatmentRow) -> tuple[str, str, str, str]:
    """Return a row of the table as it stands in the documentation.

    Opening, floor beyond, height of that floor, treatment.
    """
    openings = " or ".join(_OPENINGS[kind] for kind in row.openings) or "any"
    beyond = "any" if row.beyond is None else " or ".join(_BEYOND[kind] for kind in row.beyond)
    return openings, beyond, _heights(row.low_in, row.high_in), row.treatment


_OPENINGS = {
    "door": "door",
    "cased": "opening without a door",
    "exterior": "outside door",
    "slider": "sliding door",
    "closet": "closet door",
    "stairs": "top of a stair",
}
_BEYOND = {
    "": "not known",
    "same": "this floor",
    "plank": "another floating floor",
    "carpet": "carpet",
    "tile": "tile",
    "wood": "wood",
    "resilient": "resilient",
    "slab": "bare slab",
    "stairs": "stair going down",
    "outside": "outside sill",
}
_FRACTIONS = {Decimal("0.125"): "1/8 in", Decimal("0.5"): "1/2 in"}


def _heights(low: Decimal | None, high: Decimal | None) -> str:
    if low is None or low == high:
        return "any" if high is None else "level"
    lower = f"{_FRACTIONS[-low]} lower"
    if high is None:
        return f"{lower}, or higher"
    same = -low == high
    return f"up to {_FRACTIONS[high]} either way" if same else f"{lower} to {_higher(high)}"


def _higher(high: Decimal) -> str:
    return f"{_FRACTIONS[high]} higher"
