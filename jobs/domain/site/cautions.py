"""Cautions and hold points that follow from what is known of a site.

A *note* is good to know, a *caution* changes how the work is done, a *hold* stops the tasks that it
blocks until a named person clears it. The texts are ours; local codes, the maker's instructions
and people licensed for the work always go before them.
"""

from collections.abc import Iterable
from decimal import Decimal

from jobs.domain.quantities import PRACTICE
from jobs.domain.site.facts import (
    MINOR_PAINT_FT2,
    Caution,
    MoistureReading,
    Place,
    VisitFacts,
    lead_rule_applies,
    moisture_tests,
    presumed_asbestos,
)
from jobs.domain.site.level_changes import edge_cautions

ON_SITE: tuple[Place, ...] = ("packet", "job")
CARRYING = "Cartons one a trip, or by cart. Furniture, appliances and long stair parts: two people."
"""Who carries what, told alike on every page; common practice, no source."""
DEFER = "Local codes and licensed people go before this note."


def cautions_for(facts: VisitFacts) -> tuple[Caution, ...]:
    """Return the cautions for a site, holds first, each code once."""
    cautions = [
        *_asbestos(facts),
        *_lead(facts),
        *_moisture(facts),
        *_silica(facts),
        *_doors_and_fixtures(facts),
        *edge_cautions(facts),
        *_bodies(facts),
    ]
    ranks = {"hold": 0, "caution": 1, "note": 2}
    return tuple(sorted(cautions, key=lambda caution: ranks[caution.severity]))


def holds_from(cautions: Iterable[Caution]) -> tuple[tuple[str, str], ...]:
    """Return pairs of task code and caution code, as the tasks of a job are told of their holds."""
    return tuple((task, caution.code) for caution in cautions for task in caution.blocks)


ASBESTOS_SOURCE = (
    "29 CFR 1910.1001(j) and 1926.1101(k), flooring put in no later than 1980; "
    "OSHA letter of 1 August 1997"
)


def _asbestos(facts: VisitFacts) -> list[Caution]:
    if presumed_asbestos(facts):
        disturbed = facts.tear_out or facts.grinding
        year = facts.oldest_floor_year
        known = "of unknown age" if year is None else f"that may be from {year} or later"
        return [
            Caution(
                code="asbestos",
                title="The old floor may hold asbestos",
                text=(
                    f"A resilient or unknown floor {known} is presumed to hold asbestos, its "
                    "adhesive too. Nobody sands, grinds, scrapes, drills, breaks or removes it "
                    f"until a competent inspector has cleared it in writing. {DEFER}"
                ),
                source=ASBESTOS_SOURCE,
                severity="hold" if disturbed else "caution",
                blocks=("tear_out", "dispose", "prep") if disturbed else (),
            )
        ]
    if facts.existing_floor in ("resilient", "unknown", "other"):
        return [_asbestos_evidence()]
    below = facts.existing_floor in ("carpet", "tile", "wood", "laminate") and facts.tear_out
    if below and (facts.year_built is None or facts.year_built <= 1980):
        return [_hidden_floor()]
    return []


def _asbestos_evidence() -> Caution:
    return Caution(
        code="asbestos-evidence",
        title="Keep the proof of the old floor's age",
        text=(
            "A floor put in after 1980 is not presumed to hold asbestos, but its age alone does "
            "not clear it either. File the paper or photograph that shows when it was put in."
        ),
        source=ASBESTOS_SOURCE,
        severity="note",
        shown_on=("job",),
    )


def _hidden_floor() -> Caution:
    return Caution(
        code="hidden-floor",
        title="An older floor may lie underneath",
        text=(
            "In a house of 1980 or before, or of unknown age, lift one corner first. If resilient "
            f"floor or black adhesive shows, stop there and have it inspected. {DEFER}"
        ),
        source=ASBESTOS_SOURCE,
        severity="caution",
    )


LEAD_SOURCE = "40 CFR 745.83, housing built before 1978"


def _lead(facts: VisitFacts) -> list[Caution]:
    if not lead_rule_applies(facts):
        return []
    built = "of unknown age" if facts.year_built is None else f"built in {facts.year_built}"
    area = f"{facts.painted_ft2_per_room.normalize():f} ft2"
    if facts.painted_ft2_per_room > MINOR_PAINT_FT2:
        return [
            Caution(
                code="lead",
                title="Old paint may hold lead",
                text=(
                    f"The house is {built} and {area} of painted surface in a room will be "
                    "disturbed, more than the 6 ft2 of minor work. A certified firm does it, after "
                    "the pamphlet is handed over and with the work area contained, or a test shows "
                    f"that the paint is free of lead. {DEFER}"
                ),
                source=LEAD_SOURCE,
                severity="hold",
                blocks=("base_off", "undercut", "doors_off", "tear_out"),
            )
        ]
    return [
        Caution(
            code="lead-minor",
            title="Old paint: stay under the limit of minor work",
            text=(
                f"The house is {built}. No more than 6 ft2 of painted surface may be disturbed in "
                "a room within 30 days; a piece that is taken off counts whole. Now counted: "
                f"{area}. {DEFER}"
            ),
            source=LEAD_SOURCE,
            severity="caution",
            shown_on=ON_SITE,
        )
    ]


def _moisture(facts: VisitFacts) -> list[Caution]:
    over = [reading for reading in facts.readings if reading.over]
    cautions: list[Caution] = []
    if over:
        said = "; ".join(_reading_said(reading) for reading in over)
        cautions.append(
            Caution(
                code="moisture",
                title="The subfloor is too wet",
                text=(
                    f"{said}. Nothing is rolled out or laid until it is dry, or a system that the "
                    "maker of the floor accepts is in place and the readings are taken again."
                ),
                source="limit of the floor's maker; ASTM F710 and F2170 for concrete, from memory",
                severity="hold",
                blocks=("underlay", "lay"),
            )
        )
    if any(reading.limit is None for reading in facts.readings):
        cautions.append(_no_limit())
    wanted = moisture_tests(facts.slab_ft2) if facts.subfloor == "slab" else 0
    if facts.subfloor == "slab" and len(facts.readings) < max(wanted, 1):
        cautions.append(_too_few_readings(len(facts.readings), max(wanted, 1)))
    if facts.heated_floor:
        cautions.append(_heated())
    return cautions


def _reading_said(reading: MoistureReading) -> str:
    where = f", {reading.where}" if reading.where else ""
    return f"{reading.method}{where}: {reading.value} read, {reading.limit} allowed"


def _no_limit() -> Caution:
    return Caution(
        code="moisture-limit",
        title="No moisture limit to hold a reading against",
        text="Look up the limit in the floor maker's instructions and enter it beside the reading.",
        source=PRACTICE,
        severity="caution",
        shown_on=("job",),
    )


def _too_few_readings(made: int, wanted: int) -> Caution:
    return Caution(
        code="moisture-tests",
        title="Test the slab before the floor goes on",
        text=f"Moisture readings taken: {made}. A slab of this size asks for {wanted}.",
        source="ASTM F2170, number of tests, from memory",
        severity="caution",
        shown_on=ON_SITE,
    )


def _heated() -> Caution:
    return Caution(
        code="heated-floor",
        title="Heated floor",
        text=(
            "Nothing is nailed or screwed into it. The floor's maker limits its surface "
            "temperature and says how it is warmed up and cooled down before and after laying."
        ),
        source=PRACTICE,
        severity="caution",
    )


def _silica(facts: VisitFacts) -> list[Caution]:
    if not facts.grinding:
        return []
    return [
        Caution(
            code="silica",
            title="Silica dust",
            text=(
                "Concrete, stone and tile are cut or ground wet, or with a shroud and a dust "
                "collector whose filter holds 99 % or more; never dry swept. Others stay out. The "
                "table of the rule says which respirator goes with which tool."
            ),
            source="29 CFR 1926.1153(c), Table 1",
            severity="caution",
        )
    ]


def _doors_and_fixtures(facts: VisitFacts) -> list[Caution]:
    cases = (
        (
            facts.fire_door,
            "fire-door",
            "Fire-rated or self-closing door",
            "It is not trimmed on site, and it must close by itself over the new floor. " + DEFER,
        ),
        (
            facts.gas_appliance,
            "gas",
            "Gas appliance",
            "A licensed person disconnects and reconnects it and tests for leaks. " + DEFER,
        ),
        (
            facts.toilets > 0,
            "toilet",
            "Toilet to lift",
            "The flange must suit the new height. One toilet stays usable each night. " + DEFER,
        ),
    )
    return [
        Caution(code=code, title=title, text=text, source=PRACTICE, severity="caution")
        for applies, code, title, text in cases
        if applies
    ]


def _bodies(facts: VisitFacts) -> list[Caution]:
    heavy = facts.carton_weight_lb >= 25 or facts.flights > 0
    stairs = f" Flights of stairs: {facts.flights}." if facts.flights else ""
    weight = (
        f"A carton weighs {facts.carton_weight_lb.quantize(Decimal(1))} lb. "
        if facts.carton_weight_lb
        else ""
    )
    lifting = Caution(
        code="lifting",
        title="Heavy cartons",
        text=f"{weight}{CARRYING}{stairs}",
        source=PRACTICE,
        severity="note",
        shown_on=ON_SITE,
    )
    always = Caution(
        code="work",
        title="Eyes, ears, lungs, knees, hands",
        text=(
            "Glasses and hearing protection at the saw, a mask in dust, knee pads, a sharp knife "
            "drawn away from the body. Children and pets stay out of the work area."
        ),
        source=PRACTICE,
        severity="note",
        shown_on=("packet",),
    )
    return [lifting, always] if heavy else [always]
