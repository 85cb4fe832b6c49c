"""The strip of a doorway as one chain of figures, for the packet."""

from __future__ import annotations

from decimal import Decimal

from jobs.domain.formats import Fields
from jobs.domain.lengths import MM_PER_IN, length_words
from jobs.domain.openings.profiles import (
    PROFILES,
    BoughtStrip,
    Crossing,
    StripChain,
    chain_of,
    profile_of,
    refusal_of,
)
from jobs.domain.openings.said import strip_words
from jobs.models import Doorway
from jobs.readers.floors.rules import rule_mm
from jobs.readers.openings.doorways import inches_of, stands_words, step_of
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
        bought=_bought(doorway),
    )
    refused = _refusal(doorway, crossing)
    if refused:
        return {**empty, "refused": refused}
    chain = chain_of(crossing)
    ends, start, end = (
        _words(value, doorway.room.job.units)
        for value in (chain.floor_ends_in, chain.covers_from_in, chain.covers_to_in)
    )
    strip = f"{doorway.treatment[:1].upper()}{doorway.treatment[1:]}"
    covers = f"{strip} covers {start} to {end} from there"
    covers += "." if doorway.strip_covers_mm else "; measure the one you have."
    return {
        "chain": [f"Floor ends {ends} from {face}, as taped.", covers],
        "section": _section(doorway, chain, (ends, start, end)),
        "refused": "",
    }


def usual_strips(system: str) -> dict[str, str]:
    """Return what strips cover and hold as usual, a line for each field of a strip as bought."""

    def line(name: str) -> str:
        return ", ".join(
            f"{kind} {_words(abs(getattr(profile, name)), system)}"
            for kind, profile in PROFILES.items()
        )

    names = {"strip_covers": "covers_in", "strip_down": "low_in", "strip_up": "high_in"}
    return {field: line(name) for field, name in names.items()}


def _bought(doorway: Doorway) -> BoughtStrip:
    """Return what was measured of the strip as bought."""
    covers, down, up = (
        None if mm is None else inches_of(mm)
        for mm in (doorway.strip_covers_mm, doorway.strip_down_mm, doorway.strip_up_mm)
    )
    return BoughtStrip(covers_in=covers, down_in=down, up_in=up)


def _refusal(doorway: Doorway, crossing: Crossing) -> str:
    """Return why a strip can't go here; empty where it can."""
    why = refusal_of(crossing)
    if why == "rise":
        profile, units = profile_of(crossing), doorway.room.job.units
        stands = stands_words(doorway)
        low, high = (_words(abs(one), units) for one in (profile.low_in, profile.high_in))
        return (
            f"Stop: {stands[:1].lower()}{stands[1:]}; this {doorway.treatment} holds"
            f" {low} down to {high} up. Choose another strip before row one."
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
            strip=strip_words(doorway.treatment, str(doorway.kind), near_side(doorway).leads)[:40],
            figures=figures,
        )
    )


def _mm(inches: Decimal) -> float:
    return float(inches * MM_PER_IN)
