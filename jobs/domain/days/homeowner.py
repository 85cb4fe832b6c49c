"""What the homeowner does beside the crew's days, and before which of them it must be done. Pure.

That work takes none of the crew's hours, but it stands in the order: what comes after it is not
begun before it is done.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.tasks import GOES_ALONG, Task

FOR_THE_CREW = frozenset({"pick_up", "load", "setup", "carry", "travel"})
"""What the crew does for its own work alone: a homeowner waits for none of it."""

_ALONG = {along for codes in GOES_ALONG.values() for along in codes}


@dataclass(frozen=True, kw_only=True, slots=True)
class HomeownersTask:
    """One task that the homeowner does: the crew's days by number that it lies between.

    `after` is the last day of what must come before it, `before` the first of what comes after it;
    None where the crew does nothing of that kind.
    """

    name: str
    after: int | None
    before: int | None
    code: str = ""
    zone: str = ""

    @property
    def is_between(self) -> bool:
        """Whether the crew is on site on that very day both before it and after it."""
        return self.before is not None and self.before == self.after

    @property
    def said(self) -> str:
        """When it must be done, in words."""
        if self.is_between:
            return f"done by the homeowner on day {self.before}, between the crew's tasks"
        if self.before is not None:
            return f"done by the homeowner before day {self.before}"
        if self.after is not None:
            return f"done by the homeowner after day {self.after}"
        return "done by the homeowner"


def homeowners_tasks(
    tasks: Sequence[Task], left: Collection[str], days: Mapping[int, Collection[str]]
) -> tuple[HomeownersTask, ...]:
    """Return what the homeowner does of these tasks, in their order.

    `left` are codes of tasks; `days` the keys of the tasks that the crew works at, by the day.
    """
    before = {task.key: task.after for task in tasks}
    waits_for = {task.key for task in tasks if task.code not in FOR_THE_CREW}
    following: dict[str, list[str]] = {task.key: [] for task in tasks}
    for task in tasks:
        for key in task.after:
            following[key].append(task.key)
    rows = []
    for task in tasks:
        if task.code not in left or not task.hours or task.code in (*_ALONG, "travel"):
            continue
        name = f"{task.label} ({task.zone})" if task.zone else task.label
        last = _day_of(_reached(task.key, before) & waits_for, days, max)
        first = _day_of(_reached(task.key, following), days, min)
        rows.append(
            HomeownersTask(name=name, after=last, before=first, code=task.code, zone=task.zone)
        )
    return tuple(rows)


def _reached(key: str, arrows: Mapping[str, Collection[str]]) -> set[str]:
    """Return all keys that the arrows lead to from this one, over any number of them."""
    reached: set[str] = set()
    waiting = list(arrows[key])
    while waiting:
        one = waiting.pop()
        if one not in reached:
            reached.add(one)
            waiting += arrows[one]
    return reached


def _day_of(
    keys: Collection[str],
    days: Mapping[int, Collection[str]],
    pick: Callable[[Sequence[int]], int],
) -> int | None:
    numbers = [number for number, worked in days.items() if set(keys).intersection(worked)]
    return pick(numbers) if numbers else None


def notes_for(tasks: Sequence[HomeownersTask], day: int, *, last: bool) -> tuple[str, ...]:
    """Return what a day says of the homeowner's work; the `last` one also what follows it."""
    between = [task.name for task in tasks if task.is_between and task.before == day]
    before = [task.name for task in tasks if task.before == day and not task.is_between]
    after = [task.name for task in tasks if last and task.before is None]
    said = (
        (before, "The homeowner does: {}; must be done before this day."),
        (between, "The homeowner does on this day, between the crew's tasks: {}."),
        (after, "The homeowner does once the crew is done: {}."),
    )
    return tuple(words.format(", ".join(names)) for names, words in said if names)
