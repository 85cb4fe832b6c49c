"""What the trade does of itself: who works together, how many at most, what sets overnight.

All of it is common practice, no source.
"""

from collections.abc import Mapping

from jobs.domain.tasks import Task

MOST_AT_ONCE: Mapping[str, int] = {
    "load": 4,
    "setup": 3,
    "carry": 4,
    "acclimatise": 1,
    "fixtures_off": 2,
    "doors_off": 1,
    "tear_out": 3,
    "dump_run": 1,
    "undercut": 1,
    "lay": 3,
    "base": 3,
    "doors_on": 1,
    "transitions": 1,
    "clean": 3,
}
"""How many people find room at a task; where nothing stands here, two."""

OUT, BACK = "out", "back"
ODD, EVEN = "odd", "even"
TOGETHER = frozenset({"furniture", "carry", "stairs"})
"""What two people do together, where there are two."""

BEARS_STEPS_QUARTERS = 16
"""Four hours after it is poured leveler bears whoever paints above it; it cures for longer."""

GLUE_SETS_QUARTERS = 48
"""Twelve hours between the two passes of glued treads: nobody steps on them before the morning."""

BY_ROOM = frozenset(
    {
        "furniture",
        "fixtures_off",
        "base_off",
        "doors_off",
        "tear_out",
        "dispose",
        "undercut",
        "prep",
        "level",
        "paint",
        "transitions",
        "base",
        "shoe",
        "fixtures_on",
        "doors_on",
    }
)
"""What is done room by room, where the rooms of a floor are known."""

OPENS = frozenset({"furniture", "fixtures_off", "tear_out"})
"""From the first of these a room can't be lived in."""

BEFORE_TEAR_OUT = frozenset({"furniture", "fixtures_off", "base_off", "doors_off"})
"""What is done in a room before its old floor comes out."""

BEGINS_A_ROOM = frozenset({"undercut", "prep", "level", "paint"})
"""Where no old floor comes out, with the first of these a room is worked in."""

CLOSES = frozenset({"fixtures_on", "doors_on"})
"""With these, the furniture back and its last row a room can be lived in again."""

NOT_SOONER = frozenset({"doors_off"})
"""What is not done in a room that somebody lives by before it is opened."""

ALONG: Mapping[str, str] = {"lay": "underlay", "tear_out": "dispose"}
"""What goes along with a task: the pad with the rows, the hauling away with the tear-out."""

AT_ONE_GO = frozenset({"dump_run", "level"})
"""What is not left half done overnight: nobody drives half way to the dump, or splits a pour."""

LAY = "lay"
KEPT_AT = frozenset({"tear_out", LAY, "stairs"})
"""What the crew goes on with the next morning, once it is begun, before it begins anything else."""

LIVED_IN, READY_FOR_ROWS = 1, 3
PHASES: Mapping[str, int] = {
    "paint": 2,
    "lay": 4,
    "underlay": 4,
    "stairs": 5,
    "transitions": 5,
    "base": 5,
    "shoe": 5,
    "fixtures_on": 5,
    "doors_on": 5,
    "clean": 6,
}
"""After all that makes dust: paint, cartons, rows, and what comes after them."""

CLEAN_WORK = ("paint", "lay")
"""What no old floor comes out beside: neither wet paint nor fresh rows bear its dust."""


def phase_of(code: str, part: str) -> int:
    """Return the phase of a kind of work; furniture goes back in the last one."""
    return PHASES["base"] if part == BACK else PHASES.get(code, 0)


def people_for(task: Task) -> int:
    """Return how many people a task takes at once."""
    return 2 if task.code in TOGETHER else task.people


def most_at(task: Task) -> int:
    """Return how many people may be at a task at once."""
    return max(people_for(task), MOST_AT_ONCE.get(task.code, 2))
