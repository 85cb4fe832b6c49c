"""What every crew minds for its own bodies: heavy cartons, noise, eyes, lungs, nails. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from jobs.domain.quantities import PRACTICE
from jobs.domain.site.deferring import ON_SITE
from jobs.domain.site.facts import Caution, VisitFacts

CARRYING = "Cartons one a trip, or by cart. Furniture, appliances and long stair parts: two people."
"""Who carries what, told alike on every page; common practice, no source."""
HEAVY_LB = 25

NOISE_HOURS: Mapping[int, str] = {
    90: "8",
    92: "6",
    95: "4",
    97: "3",
    100: "2",
    102: "1-1/2",
    105: "1",
    110: "1/2",
    115: "1/4",
}
"""The most hours a day at a noise in dBA. 29 CFR 1926.52, Table D-2."""
NOISE_ACTION_DBA = 85
"""From here over 8 h ears are looked after. 29 CFR 1910.95(c), from memory."""
BODY_SOURCE = (
    "29 CFR 1926.52, Table D-2 (noise); from memory 29 CFR 1910.95(c), 29 CFR 1926.102(b) and "
    "OSHA/NIOSH 2011-202; the rest common practice"
)


def body_cautions(facts: VisitFacts) -> list[Caution]:
    """Return what a crew minds on every site, and what it carries where that is heavy."""
    heavy = facts.carton_weight_lb >= HEAVY_LB or facts.flights > 0
    return [_lifting(facts), _always()] if heavy else [_always()]


def _lifting(facts: VisitFacts) -> Caution:
    stairs = f" Flights of stairs: {facts.flights}." if facts.flights else ""
    weight = (
        f"A carton weighs {facts.carton_weight_lb.quantize(Decimal(1))} lb. "
        if facts.carton_weight_lb
        else ""
    )
    return Caution(
        code="lifting",
        title="Heavy cartons",
        text=f"{weight}{CARRYING}{stairs}",
        source=PRACTICE,
        severity="note",
        shown_on=ON_SITE,
    )


def _always() -> Caution:
    hours = ", ".join(f"{hours} at {level}" for level, hours in NOISE_HOURS.items())
    return Caution(
        code="work",
        title="Eyes, ears, lungs, knees, hands",
        text=(
            "Glasses to ANSI Z87.1 and hearing protection at the saw, a mask in dust, knee pads, a "
            "sharp knife drawn away from you. Noise: protection from "
            f"{NOISE_ACTION_DBA} dBA; hours a day without: {hours} dBA. A nailer has a "
            "full sequential trigger. Children and pets stay out."
        ),
        source=BODY_SOURCE,
        severity="note",
        shown_on=("packet",),
    )
