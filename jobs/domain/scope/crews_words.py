"""What a crew calls its tasks, where a scope calls them otherwise: Tear out carpet, Acclimate 48 h.

A subfloor is screwed where screws for it were counted: nobody screws a slab.

A scope keeps the names it was issued with; days, log and packet say what stands here.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from jobs.domain.openings.transitions import STANDS_IN
from jobs.domain.quantities import Quantity
from jobs.domain.tasks import TASKS, Task

CREWS: Mapping[str, str] = {
    "acclimatise": "Acclimate",
    "furniture": "Furniture",
    "fixtures_off": "Pull toilets, move appliances",
    "base_off": "Base off",
    "doors_off": "Doors off",
    "tear_out": "Tear out the old floor",
    "dispose": "Haul away",
    "prep": "Clean and check the subfloor",
    "transitions": "Set the strips",
    "base": "Base on",
    "shoe": "Shoe on",
    "doors_on": "Doors on, test-swing",
    "clean": "Clean, hand over",
    "travel": "Drive",
}
"""By kind of task."""

OLD_FLOORS: Mapping[str, str] = {
    "wood": "wood floor",
    "resilient": "resilient floor",
    "other": "the old floor",
}
"""What an old floor is called that comes out, where its name alone would not do."""


def crews_word(code: str, label: str) -> str:
    """Return what a crew calls a task that still has the name of its kind; others as they are."""
    kind = TASKS.get(code)
    return CREWS.get(code, label) if kind is not None and label == kind.label else label


def in_crews_words(tasks: Sequence[Task], quantities: Sequence[Quantity]) -> tuple[Task, ...]:
    """Return the tasks by the crew's names: with what comes out, which strips, how many hours."""
    return tuple(replace(task, label=_named(task, quantities)) for task in tasks)


def _named(task: Task, quantities: Sequence[Quantity]) -> str:
    if task.label != TASKS[task.code].label:
        return task.label
    if task.code == "acclimatise" and task.wait_hours_after:
        return f"Acclimate {task.wait_hours_after.normalize():f} h"
    here = _counted(task.code, task, quantities)
    if task.code == "tear_out":
        out = _names([OLD_FLOORS.get(e.item, e.item) for e in here])
        return f"Tear out {out}" if out else CREWS["tear_out"]
    if task.code == "prep" and any(e.amount for e in _counted("subfloor_screws", task, quantities)):
        return task.label
    if task.code == "transitions":
        strips = _names([_strip(e) for e in here if e.amount])
        return f"Set the {strips}" if strips else CREWS["transitions"]
    return crews_word(task.code, task.label)


def _counted(code: str, task: Task, quantities: Sequence[Quantity]) -> list[Quantity]:
    """Return what was counted by a name in the zone of a task."""
    return [entry for entry in quantities if (entry.code, entry.zone) == (code, task.zone)]


def _strip(counted: Quantity) -> str:
    """Return which strip was counted; scopes that don't name it as an item say it first in words.

    Empty where neither says a strip that there is.
    """
    named = counted.item or counted.basis.partition(",")[0]
    return named if named in STANDS_IN else ""


def _names(names: Sequence[str]) -> str:
    """Return each name once, in a sentence; empty where one of them is unknown."""
    once = tuple(dict.fromkeys(names))
    return "" if not all(once) else " and ".join(filter(None, (", ".join(once[:-1]), *once[-1:])))
