"""The cautions of doorways and stairs: what the new height does to doors, appliances, risers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal

from jobs.domain.openings.stairs import (
    RISER_MOST_IN,
    ROUTE_SOURCE,
    SOURCE,
    TREAD_LEAST_IN,
    Flight,
    difference_in,
    is_narrow,
    is_steep,
    is_uneven,
    misses_route,
    risers_after,
)
from jobs.domain.openings.treatments import (
    BEVELED_IN,
    EXISTING_SILL_IN,
    LEVEL_SOURCE,
    VERTICAL_IN,
    WAY_OUT_IN,
)
from jobs.domain.quantities import PRACTICE
from jobs.domain.site.deferring import DEFER, ON_SITE
from jobs.domain.site.facts import Caution, LevelChange, VisitFacts

SILL = "the sill"
"""How a sill to the outside is named where floors meet."""
AMENDED = "Local amendments differ; the code of the place decides."
KEPT_SILL = (
    "Up to 3/4 in a threshold that is there already may stay in its doorway, beveled no steeper "
    "than 1:2 on both sides."
)


def edge_cautions(facts: VisitFacts) -> list[Caution]:
    """Return the cautions of level changes, doors, appliances and stairs, each code once."""
    return [
        *_levels(facts),
        *_ways_out(facts),
        *_doors(facts),
        *_appliances(facts),
        *_stairs(facts),
        *_stairs_on_route(facts),
    ]


def _levels(facts: VisitFacts) -> list[Caution]:
    steps = [change for change in facts.level_changes if change.rise_in > VERTICAL_IN]
    if not steps:
        return []
    high = any(change.rise_in > BEVELED_IN for change in steps)
    route = "An accessible route passes here. " if facts.accessible_route else ""
    may_stay = any(BEVELED_IN < change.rise_in <= EXISTING_SILL_IN for change in steps)
    stays = f"{KEPT_SILL} " if may_stay else ""
    return [
        Caution(
            code="level-change",
            title="A step between floors trips people",
            text=(
                f"{'; '.join(map(_step_said, steps))}. {route}In an accessible route a change of "
                "up to 1/4 in may be vertical, up to 1/2 in needs a bevel no steeper than 1:2, and "
                f"more needs a ramp. {stays}{DEFER}"
            ),
            source=LEVEL_SOURCE,
            severity="caution" if high or facts.accessible_route else "note",
        )
    ]


def _ways_out(facts: VisitFacts) -> list[Caution]:
    """Return the caution of sills at ways out that stand too high."""
    high = [
        change
        for change in facts.level_changes
        if change.beyond == SILL and change.rise_in > WAY_OUT_IN
    ]
    if not high:
        return []
    return [
        Caution(
            code="way-out",
            title="The sill of a way out is too high",
            text=(
                f"{'; '.join(map(_step_said, high))}. The threshold of the door that is the way "
                f"out stands 1-1/2 in at most. {AMENDED}"
            ),
            source="IRC R311.3.1, from memory",
            severity="caution",
            shown_on=ON_SITE,
        )
    ]


def _stairs_on_route(facts: VisitFacts) -> list[Caution]:
    """Return the caution of stairs that an accessible route could not have."""
    flights = [flight.name for flight in facts.stairs if misses_route(flight)]
    if not flights or not facts.accessible_route:
        return []
    return [
        Caution(
            code="route-stairs",
            title="Stairs on an accessible route",
            text=(
                f"{', '.join(flights)}: there a riser is 4 to 7 in high and a tread 11 in deep or "
                f"more, once the floor is laid. {AMENDED}"
            ),
            source=ROUTE_SOURCE,
            severity="caution",
            shown_on=ON_SITE,
        )
    ]


def _step_said(change: LevelChange) -> str:
    return f"{change.where}: {change.said or f'{change.rise_in} in'}"


def _doors(facts: VisitFacts) -> list[Caution]:
    if not facts.tight_doors:
        return []
    tight = "; ".join(
        f"{door.where}: {door.left} left, trim {door.trim}" for door in facts.tight_doors
    )
    fire = (
        "A fire-rated or self-closing door is affected on this site: it is not trimmed here."
        if facts.fire_door
        else "A fire-rated or self-closing door is not trimmed on site."
    )
    return [
        Caution(
            code="door-clearance",
            title="A door won't clear the new floor",
            text=f"{tight}. {fire} Take off, trim and test-swing before row one. {DEFER}",
            source=PRACTICE,
            severity="caution",
        )
    ]


def _appliances(facts: VisitFacts) -> list[Caution]:
    if not facts.trapped_appliances:
        return []
    trapped = "; ".join(
        f"{one.where}: {one.clear} above, the floor comes up {one.gained}"
        for one in facts.trapped_appliances
    )
    return [
        Caution(
            code="appliance-trapped",
            title="An appliance would be trapped",
            text=(
                f"{trapped}. It could not be pulled out again. Move it first and lay under it, or "
                f"raise what stands over it. {DEFER}"
            ),
            source=PRACTICE,
            severity="caution",
        )
    ]


def _stairs(facts: VisitFacts) -> list[Caution]:
    cautions: list[Caution] = []
    if uneven := _said(facts.stairs, is_uneven, lambda one: _inches(difference_in(one))):
        cautions.append(
            Caution(
                code="risers",
                title="Uneven risers",
                text=(
                    f"Once the floor is laid the tallest riser is taller than the lowest: {uneven}."
                    f" 3/8 in is the most in one flight. Correct it before the stairs are "
                    f"covered. {AMENDED}"
                ),
                source=f"{SOURCE}.1",
                severity="hold",
                blocks=("stairs",),
            )
        )
    if steep := _said(facts.stairs, is_steep, lambda one: _inches(max(risers_after(one)))):
        sentence = f"The tallest riser, once the floor is laid: {steep}"
        cautions.append(
            _limit("riser-height", "A riser is too high", sentence, RISER_MOST_IN, ".1")
        )
    if narrow := _said(facts.stairs, is_narrow, lambda one: _inches(one.tread_in or Decimal(0))):
        sentence = f"The depth of a tread: {narrow}"
        cautions.append(
            _limit("tread-depth", "A tread is too narrow", sentence, TREAD_LEAST_IN, ".2")
        )
    if unmeasured := [flight.name for flight in facts.stairs if not flight.risers_in]:
        cautions.append(_unmeasured(unmeasured))
    return cautions


def _limit(code: str, title: str, sentence: str, limit: Decimal, part: str) -> Caution:
    word = "at least" if part == ".2" else "at most"
    return Caution(
        code=code,
        title=title,
        text=f"{sentence}; {word} {limit.normalize():f} in is asked for. {AMENDED}",
        source=f"{SOURCE}{part}",
        severity="caution",
    )


def _unmeasured(names: list[str]) -> Caution:
    return Caution(
        code="risers-unmeasured",
        title="Measure every riser",
        text=f"{', '.join(names)}: risers are checked once all of a flight are entered.",
        source=f"{SOURCE}.1",
        severity="note",
        shown_on=ON_SITE,
    )


def _said(
    flights: Iterable[Flight], exceeds: Callable[[Flight], bool], by: Callable[[Flight], str]
) -> str:
    """Return the flights that exceed a limit, each with its figure; empty for none."""
    return "; ".join(f"{flight.name}, {by(flight)}" for flight in flights if exceeds(flight))


def _inches(length: Decimal) -> str:
    return f"{length.quantize(Decimal('0.001')).normalize():f} in"
