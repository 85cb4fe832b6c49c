"""Cautions and hold points that follow from what is known of a site.

A *note* is good to know, a *caution* changes how the work is done, a *hold* stops the tasks that it
blocks until a named person clears it. The texts are ours; local codes, the maker's instructions
and people licensed for the work always go before them.
"""

from collections.abc import Iterable

from jobs.domain.quantities import PRACTICE
from jobs.domain.site.bodies import body_cautions
from jobs.domain.site.deferring import DEFER, ON_SITE
from jobs.domain.site.dust import dust_cautions
from jobs.domain.site.facts import (
    Caution,
    MoistureReading,
    VisitFacts,
    moisture_tests,
    most_by_one_method,
)
from jobs.domain.site.level_changes import edge_cautions
from jobs.domain.site.moisture_gates import BY_READING, MoistureGates, gates_for
from jobs.domain.site.old_floor import old_floor_cautions
from jobs.domain.site.paint import paint_cautions


def cautions_for(facts: VisitFacts, gates: MoistureGates | None = None) -> tuple[Caution, ...]:
    """Return the cautions for a site, holds first, each code once.

    `gates` add those of moisture; None: nobody plans the floor yet.
    """
    cautions = [
        *(gates_for(facts, gates) if gates is not None else ()),
        *old_floor_cautions(facts),
        *paint_cautions(facts),
        *_moisture(facts),
        *dust_cautions(facts),
        *_doors_and_fixtures(facts),
        *edge_cautions(facts),
        *body_cautions(facts),
    ]
    ranks = {"hold": 0, "caution": 1, "note": 2}
    return tuple(sorted(cautions, key=lambda caution: ranks[caution.severity]))


def holds_from(cautions: Iterable[Caution]) -> tuple[tuple[str, str], ...]:
    """Return pairs of task code and caution code, as the tasks of a job are told of their holds.

    What a reading opens by itself is left out: it comes and goes while the scope stands.
    """
    return tuple(
        (task, caution.code)
        for caution in cautions
        if caution.code not in BY_READING
        for task in caution.blocks
    )


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
    if any(reading.limit is None for reading in facts.readings if reading.code != "boards"):
        cautions.append(_no_limit())
    wanted = max(moisture_tests(facts.slab_ft2), 1)
    made = most_by_one_method(facts)
    if facts.on_slab and made < wanted:
        cautions.append(_too_few_readings(made, wanted))
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
        text=(
            f"Moisture readings by one method: {made}. A slab of this size asks for {wanted}, all "
            "by the same: relative humidity in the slab, a probe read 24 h after it is set; or "
            "calcium chloride, a dish weighed after 60 to 72 h."
        ),
        source="ASTM F2170 and F1869, number of tests and hours, from memory",
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
