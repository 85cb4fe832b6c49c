"""What the old floor of a room may hold: asbestos in it, in a layer below, in its adhesive. Pure.

A floor put in no later than 1980 is presumed to hold asbestos. The year of a house speaks for all
that may lie below a newer floor. What nobody knows is presumed, or looked for before it is broken.
"""

from __future__ import annotations

from collections.abc import Iterable

from jobs.domain.site.deferring import DEFER
from jobs.domain.site.facts import (
    Caution,
    SiteRoom,
    VisitFacts,
    oldest_presumed_year,
    presumed_asbestos,
)

ASBESTOS_SOURCE = (
    "29 CFR 1910.1001(j) and 1926.1101(k), flooring put in no later than 1980; "
    "OSHA letter of 1 August 1997"
)
ADHESIVE_SOURCE = (
    "RFCI, Recommended Work Practices for Removal of Resilient Floor Coverings; 29 CFR 1926.1101(k)"
)


def old_floor_cautions(facts: VisitFacts) -> list[Caution]:
    """Return the cautions of the old floors, each code once, with the rooms that it is for."""
    rooms = facts.each_room
    presumed = [room for room in rooms if presumed_asbestos(room, facts)]
    others = [room for room in rooms if room not in presumed]
    newer = [room for room in others if room.existing_floor in ("resilient", "unknown", "other")]
    hidden = [room for room in others if _may_hide_a_floor(room, facts)]
    stuck = [room for room in others if _may_be_stuck(room, facts)]
    return [
        *([_asbestos(facts, presumed)] if presumed else []),
        *([_evidence(newer)] if newer else []),
        *([_hidden_floor(hidden)] if hidden else []),
        *([_old_adhesive(stuck)] if stuck else []),
    ]


def named(rooms: Iterable[SiteRoom]) -> str:
    """Return the rooms at the head of a sentence; nothing where the house is one."""
    names = ", ".join(room.name for room in rooms if room.name)
    return f"{names}: " if names else ""


def _may_hide_a_floor(room: SiteRoom, facts: VisitFacts) -> bool:
    """Whether an older floor may lie under one that comes out, and nobody has looked."""
    disturbed = facts.tear_out and room.existing_floor != "none"
    return disturbed and room.layer_below == "unknown" and facts.house_may_hold_asbestos


def _may_be_stuck(room: SiteRoom, facts: VisitFacts) -> bool:
    """Whether old adhesive would be ground or scraped: seen, or not looked for where one grinds."""
    if room.adhesive == "black":
        return facts.grinding or facts.tear_out
    not_seen = room.adhesive == "unknown" and room.subfloor != "wood"
    return not_seen and facts.grinding and facts.house_may_hold_asbestos


def _asbestos(facts: VisitFacts, rooms: list[SiteRoom]) -> Caution:
    disturbed = facts.tear_out or facts.grinding
    oldest = oldest_presumed_year(facts)
    known = "of unknown age" if oldest is None else f"that may be from {oldest} or later"
    below = any(room.layer_below == "resilient" or room.adhesive == "black" for room in rooms)
    also = " So are an older layer below it and black adhesive." if below else ""
    return Caution(
        code="asbestos",
        title="The old floor may hold asbestos",
        text=(
            f"{named(rooms)}A resilient or unknown floor {known} is presumed to hold asbestos, its "
            f"adhesive too.{also} Nobody sands, grinds, scrapes, drills, breaks or removes it "
            f"until a competent inspector has cleared it in writing. {DEFER}"
        ),
        source=ASBESTOS_SOURCE,
        severity="hold" if disturbed else "caution",
        blocks=("tear_out", "dispose", "prep") if disturbed else (),
    )


def _evidence(rooms: list[SiteRoom]) -> Caution:
    return Caution(
        code="asbestos-evidence",
        title="Keep the proof of the old floor's age",
        text=(
            f"{named(rooms)}A floor put in after 1980 is not presumed to hold asbestos, but its "
            "age alone does not clear it either. File the paper or photograph that shows when it "
            "was put in."
        ),
        source=ASBESTOS_SOURCE,
        severity="note",
        shown_on=("job",),
    )


def _hidden_floor(rooms: list[SiteRoom]) -> Caution:
    return Caution(
        code="hidden-floor",
        title="An older floor may lie underneath",
        text=(
            f"{named(rooms)}In a house of 1980 or before, or of unknown age, lift one corner first."
            " If resilient floor or black adhesive shows, stop there and have it inspected. "
            f"{DEFER}"
        ),
        source=ASBESTOS_SOURCE,
        severity="caution",
    )


def _old_adhesive(rooms: list[SiteRoom]) -> Caution:
    return Caution(
        code="old-adhesive",
        title="Old black adhesive may hold asbestos",
        text=(
            f"{named(rooms)}Look at the adhesive before anything is ground or scraped. If it is "
            "black, stop there: it is neither ground nor sanded before a competent inspector has "
            f"cleared it in writing. {DEFER}"
        ),
        source=ADHESIVE_SOURCE,
        severity="caution",
    )
