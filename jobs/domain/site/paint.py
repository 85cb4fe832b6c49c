"""Old paint: how much of it the work disturbs in a room, against the limit of minor work. Pure."""

from __future__ import annotations

from decimal import ROUND_UP, Decimal

from jobs.domain.site.deferring import DEFER, ON_SITE
from jobs.domain.site.facts import (
    MINOR_PAINT_FT2,
    Caution,
    VisitFacts,
    lead_rule_applies,
    most_painted,
)

LEAD_SOURCE = "40 CFR 745.83, housing built before 1978"
_CENT = Decimal("0.01")


def paint_cautions(facts: VisitFacts) -> list[Caution]:
    """Return the caution of old paint: a stop above the limit of minor work, a note up to it."""
    if not lead_rule_applies(facts):
        return []
    painted, room = most_painted(facts)
    built = "of unknown age" if facts.year_built is None else f"built in {facts.year_built}"
    area = f"{painted.quantize(_CENT, ROUND_UP).normalize():f} ft2"
    if painted > MINOR_PAINT_FT2:
        return [_stop(built, area, room)]
    return [_minor(built, area, room)]


def _stop(built: str, area: str, room: str) -> Caution:
    return Caution(
        code="lead",
        title="Old paint may hold lead",
        text=(
            f"The house is {built} and {area} of painted surface in {room or 'a room'} will be "
            "disturbed, more than the 6 ft2 of minor work. A certified firm does it, after the "
            "pamphlet is handed over and with the work area contained, or a test shows that the "
            f"paint is free of lead. {DEFER}"
        ),
        source=LEAD_SOURCE,
        severity="hold",
        blocks=("base_off", "undercut", "doors_off", "tear_out"),
    )


def _minor(built: str, area: str, room: str) -> Caution:
    where = f", in {room}" if room else ""
    return Caution(
        code="lead-minor",
        title="Old paint: stay under the limit of minor work",
        text=(
            f"The house is {built}. No more than 6 ft2 of painted surface may be disturbed in a "
            "room within 30 days; a piece that is taken off counts whole. Now counted: "
            f"{area}{where}. {DEFER}"
        ),
        source=LEAD_SOURCE,
        severity="caution",
        shown_on=ON_SITE,
    )
