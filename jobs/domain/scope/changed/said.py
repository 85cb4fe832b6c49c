"""What an older scope says of its rates in the sentences of its tasks, read back as values.

Before scopes kept their rates, each task told them in its basis: "Floor laid: 186.23 ft2 at 2 h
per 100 ft2 (common practice, no source)". Pure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal

from jobs.domain.checks import ONE
from jobs.domain.quantities import Quantity, in_units
from jobs.domain.scope.rates_used import RateUsed
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS, Task

_RATE = re.compile(
    r"(?P<hours>\d+(?:\.\d+)?) h (?:each|per (?P<per>\d+(?:\.\d+)?)? ?[^()]*?)"
    r" \((?P<source>.*?)\)(?=; |$)"
)
_BESIDE_TRAVEL = re.compile(r"(?P<room>\d+(?:\.\d+)?) h a day beside travel")


def rates_said(scope: FrozenScope) -> tuple[RateUsed, ...]:
    """Return the rates that the tasks of a scope tell in words, each once."""
    said = (rate for task in scope.tasks for rate in _rates_of(task, scope.quantities))
    return tuple({rate.key: rate for rate in said}.values())


def trip_hours_said(scope: FrozenScope) -> Decimal | None:
    """Return what a trip takes, out and home, by the words of a scope; None where it has none."""
    trips = (rate for rate in rates_said(scope) if rate.task == "travel")
    return next((rate.hours / rate.per for rate in trips), None)


def crew_hours_said(scope: FrozenScope) -> Decimal | None:
    """Return the crew's hours a day, the trip with them, by the words of a scope; None without."""
    trip = trip_hours_said(scope)
    words = (entry.basis for entry in scope.quantities if entry.code == "trips")
    beside = (_BESIDE_TRAVEL.search(basis) for basis in words)
    room = next((Decimal(match["room"]) for match in beside if match), None)
    return None if trip is None or room is None else room + trip


def said_over(today: Iterable[RateUsed], said: Iterable[RateUsed]) -> tuple[RateUsed, ...]:
    """Return the rates that were told, and of ``today`` those for work that none was told of.

    A trip is no work: what it takes is said with the crew.
    """
    kept = {rate.key: rate for rate in said if rate.counts and rate.task != "travel"}
    return (*kept.values(), *(rate for rate in today if rate.key not in kept))


def _rates_of(task: Task, quantities: Iterable[Quantity]) -> Iterator[RateUsed]:
    """Yield the rate of each quantity that drives a task, where its sentence tells one."""
    kind = TASKS.get(task.code)
    for entry in quantities:
        if kind is None or entry.code not in kind.drivers:
            continue
        named = f"{entry.label}, {entry.item}" if entry.item else entry.label
        start = f"{named}: {in_units(entry.amount, entry.unit)} at "
        _, here, rest = task.basis.partition(start)
        match = _RATE.match(rest) if here else None
        if match:
            yield RateUsed(
                task=task.code,
                driver=entry.code,
                item=entry.item,
                hours=Decimal(match["hours"]),
                per=Decimal(match["per"]) if match["per"] else ONE,
                source=match["source"],
                jobs=0,
                since="",
            )
