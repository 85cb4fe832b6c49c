"""Gates of moisture: a reading before order and carry-in, one on the morning of row one. Pure.

A reading is asked for where the floor goes on concrete, where the subfloor is not known yet, and
on wood where a product has a limit for it or is wood itself. Wood boards wait until their moisture
is near the subfloor's, not by the clock.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from jobs.domain.quantities import PRACTICE
from jobs.domain.site.facts import Caution, MoistureReading, VisitFacts

BY_READING = frozenset({"moisture-open", "moisture-row-one", "moisture-boards"})
"""Holds that a reading opens by itself; they are no fact of the scope."""
OF_SUBFLOOR = BY_READING - {"moisture-boards"}
"""Those of them that a reading of the subfloor opens."""
BEFORE_CARRY_IN = ("pick_up", "load", "carry")
AT_ROW_ONE = ("underlay", "lay")
SUBFLOOR = frozenset({"rh", "mver", "wood", "other"})

STRIP_POINTS, PLANK_POINTS = Decimal(4), Decimal(2)
BOARDS_SOURCE = (
    "NWFA Installation Guidelines, 2008, as its adviser states them: within 4 points of the "
    "subfloor for strip, 2 for wider boards; the limit of 3 in between them from memory"
)
"""How far boards may read from a wood subfloor."""
ON_SLAB = (Decimal(6), Decimal(9))
"""What boards should read where the subfloor is no wood; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MoistureGates:
    """What the gates hang on, beside the readings.

    `limit_on_wood`: a product has a limit for a wood subfloor. `boards`: names of the wood products
    that wait by a reading, and whether they are strip, no wider than 3 in. `row_one`: the day on
    which the first row is to be laid; None: not on days, or begun.
    """

    limit_on_wood: bool = False
    boards: dict[str, bool] = field(default_factory=dict)
    row_one: date | None = None


def gates_for(facts: VisitFacts, gates: MoistureGates) -> Iterator[Caution]:
    """Yield the moisture gates that are closed."""
    read = [reading for reading in facts.readings if reading.code in SUBFLOOR]
    if _is_read(facts, gates):
        if not read:
            yield _open(facts)
        elif gates.row_one is not None and not _read_since(read, gates.row_one):
            yield _row_one(gates.row_one)
    if gates.boards and not _boards_in_range(facts, gates):
        yield _boards(facts, gates)


def _is_read(facts: VisitFacts, gates: MoistureGates) -> bool:
    """Whether a reading of the subfloor is asked for at all."""
    if facts.subfloor == "wood" and not facts.on_slab:
        return gates.limit_on_wood or bool(gates.boards)
    return True


def _read_since(readings: list[MoistureReading], day: date) -> bool:
    return any(reading.on is not None and reading.on >= day for reading in readings)


def _open(facts: VisitFacts) -> Caution:
    lies_on = "slab" if facts.on_slab else facts.subfloor
    where = {"slab": "concrete", "wood": "wood"}.get(lies_on, "not known yet")
    return Caution(
        code="moisture-open",
        title="No moisture reading yet",
        text=(
            f"The subfloor is {where}, and nobody has read its moisture. Nothing is ordered or "
            "carried in before it reads within the limit of the floor's maker."
        ),
        source=PRACTICE,
        severity="hold",
        blocks=BEFORE_CARRY_IN,
        shown_on=("packet", "job"),
    )


def _row_one(day: date) -> Caution:
    return Caution(
        code="moisture-row-one",
        title="Read the moisture on the morning of row one",
        text=(
            f"Row one is planned for {day:%b} {day.day}. The subfloor is read once more that "
            "morning, before the pad goes down; over the limit, nothing is laid."
        ),
        source=PRACTICE,
        severity="hold",
        blocks=AT_ROW_ONE,
        shown_on=("packet", "job"),
    )


def _boards(facts: VisitFacts, gates: MoistureGates) -> Caution:
    low, high = range_of_boards(facts, gates)
    names = ", ".join(gates.boards)
    return Caution(
        code="moisture-boards",
        title="The boards wait for their moisture",
        text=(
            f"{names}: wood lies in the room until it reads {low.normalize():f} to "
            f"{high.normalize():f} %, not by the clock. Take a reading of the boards and note it."
        ),
        source=BOARDS_SOURCE if facts.subfloor == "wood" else PRACTICE,
        severity="hold",
        blocks=AT_ROW_ONE,
        shown_on=("packet", "job"),
    )


def range_of_boards(facts: VisitFacts, gates: MoistureGates) -> tuple[Decimal, Decimal]:
    """Return what boards may read: near the newest reading of a wood subfloor, else 6 to 9 %."""
    wood = [reading.value for reading in facts.readings if reading.code == "wood"]
    if facts.subfloor != "wood" or not wood:
        return ON_SLAB
    points = STRIP_POINTS if all(gates.boards.values()) else PLANK_POINTS
    return max(Decimal(0), wood[-1] - points), wood[-1] + points


def _boards_in_range(facts: VisitFacts, gates: MoistureGates) -> bool:
    """Whether the newest reading of the boards is one that they may have."""
    boards = [reading.value for reading in facts.readings if reading.code == "boards"]
    low, high = range_of_boards(facts, gates)
    return bool(boards) and low <= boards[-1] <= high
