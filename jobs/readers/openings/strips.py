"""The strip of a doorway as one chain of figures, for the packet."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.formats import Fields
from jobs.domain.lengths import MM_PER_IN, length_words
from jobs.domain.openings.profiles import (
    PROFILES,
    Crossing,
    StripChain,
    chain_of,
    refusal_of,
)
from jobs.models import Doorway
from jobs.readers.floors.rules import rule_mm
from jobs.readers.openings.doorways import inches_of, step_of, step_words
from jobs.readers.openings.openings import near_side
from layout.drawing.section import StripSection, draw_section

_OUTSIDE = ("exterior", "slider", "stairs")


def chain_content(doorway: Doorway) -> Fields:
    """Return where the floor ends and what the strip covers: ``chain`` in words, ``section``.

    ``refused`` says why the strip can't go here; all are empty where there is no chain: the floor
    runs through, ends at a sill or a stair, or no floor is chosen.
    """
    empty: Fields = {"chain": [], "section": "", "refused": ""}
    zone = doorway.room.zone
    if doorway.treatment not in PROFILES or zone is None or doorway.kind in _OUTSIDE:
        return empty
    face = f"the face of the wall in {doorway.room.name}"
    if not doorway.depth_mm:
        return {**empty, "chain": [f"The wall's depth is not known: measure it from {face}."]}
    crossing = Crossing(
        treatment=doorway.treatment,
        depth_in=inches_of(doorway.depth_mm),
        gap_in=inches_of(rule_mm(zone, "gap_mm")),
        rise_in=inches_of(step_of(doorway)),
    )
    refused = _refusal(doorway, refusal_of(crossing))
    if refused:
        return {**empty, "refused": refused}
    chain = chain_of(crossing)
    ends, start, end = (
        _words(value, doorway.room.job.units)
        for value in (chain.floor_ends_in, chain.covers_from_in, chain.covers_to_in)
    )
    strip = f"{doorway.treatment[:1].upper()}{doorway.treatment[1:]}"
    covers = f"{strip} covers {start} to {end} from there; measure the one you have."
    return {
        "chain": [f"Floor ends {ends} from {face}.", covers],
        "section": _section(doorway, chain, (ends, start, end)),
        "refused": "",
    }


def _refusal(doorway: Doorway, why: str) -> str:
    """Return why a strip can't go here; empty where it can."""
    if why == "rise":
        profile, units = PROFILES[doorway.treatment], doorway.room.job.units
        low, high = (_words(abs(one), units) for one in (profile.low_in, profile.high_in))
        return (
            f"Stop: the floor beyond stands {step_words(doorway)}; a {doorway.treatment} holds"
            f" {low} lower to {high} higher. Choose another strip before row one."
        )
    if why == "narrow":
        return f"Stop: a {doorway.treatment} would not cover the gap here. Choose a wider strip."
    return ""


def _words(inches: Decimal, system: str) -> str:
    if system == "metric":
        return f"{inches * MM_PER_IN:.0f} mm"
    sign = "minus " if inches < 0 else ""
    return f"{sign}{length_words(abs(inches) * MM_PER_IN, system)}"


def _section(doorway: Doorway, chain: StripChain, figures: tuple[str, str, str]) -> str:
    """Return the section through a strip with the chain under it."""
    return draw_section(
        StripSection(
            depth=float(doorway.depth_mm),
            joint=_mm(chain.joint_in),
            floor_ends=_mm(chain.floor_ends_in),
            covers=(_mm(chain.covers_from_in), _mm(chain.covers_to_in)),
            rise=float(step_of(doorway)),
            near_face=f"{doorway.room.name} face"[:22],
            far_face="far face",
            strip=f"{doorway.treatment}, to {near_side(doorway).leads}"[:40],
            figures=figures,
        )
    )


def _mm(inches: Decimal) -> float:
    return float(inches * MM_PER_IN)
