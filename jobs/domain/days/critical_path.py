"""The critical path of activities that come one after another, with the slack of each.

Method: forward and backward pass over activities on nodes, as in Hendrickson and Au, Project
Management for Construction, ch. 10. Durations may be any unit of time.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from graphlib import CycleError, TopologicalSorter

from jobs.domain.checks import ZERO, BadValueError, require_number


@dataclass(frozen=True, kw_only=True, slots=True)
class Activity:
    """One activity in the network: its earliest and latest times from the start at 0."""

    name: str
    duration: Decimal
    earliest_start: Decimal
    earliest_finish: Decimal
    latest_start: Decimal
    latest_finish: Decimal

    @property
    def slack(self) -> Decimal:
        """How long it may slip without delaying the end."""
        return self.latest_start - self.earliest_start

    @property
    def critical(self) -> bool:
        """Whether any delay delays the end."""
        return self.slack == 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Network:
    """Activities in working order, and the time from start to end."""

    activities: tuple[Activity, ...]
    length: Decimal

    @property
    def critical(self) -> tuple[str, ...]:
        """Names of the critical activities, by their start."""
        critical = [entry for entry in self.activities if entry.critical]
        return tuple(entry.name for entry in sorted(critical, key=lambda e: e.earliest_start))

    def activity(self, name: str) -> Activity:
        """Return the activity of this name; raises BadValueError where there is none."""
        for entry in self.activities:
            if entry.name == name:
                return entry
        accepted = "one of " + ", ".join(entry.name for entry in self.activities)
        raise BadValueError(field="activity", value=name, accepted=accepted)


def in_working_order(before: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Return the names so that each comes after all that stand before it, else in given order.

    Raises BadValueError for an unknown name and for names that wait for each other in a ring.
    """
    for name, earlier in before.items():
        for other in earlier:
            if other not in before:
                accepted = "one of " + ", ".join(before)
                raise BadValueError(field=f"before {name}", value=other, accepted=accepted)
    sorter = TopologicalSorter(before)
    try:
        sorter.prepare()
    except CycleError as ring:
        shown = ", ".join(reversed(ring.args[1]))
        raise BadValueError(field="order", value=shown, accepted="no ring of waiting") from None
    place = {name: number for number, name in enumerate(before)}
    ready: list[str] = []
    done: list[str] = []
    while sorter.is_active():
        ready.extend(sorter.get_ready())
        ready.sort(key=place.__getitem__)
        first = ready.pop(0)
        sorter.done(first)
        done.append(first)
    return tuple(done)


def critical_path(activities: Mapping[str, tuple[Decimal, Sequence[str]]]) -> Network:
    """Return earliest and latest times of activities given as name: (duration, before).

    Raises BadValueError for negative durations, unknown names and rings.
    """
    for name, (duration, _) in activities.items():
        require_number(f"duration of {name}", duration, least=0)
    order = in_working_order({name: before for name, (_, before) in activities.items()})
    finish: dict[str, Decimal] = {}
    for name in order:
        duration, before = activities[name]
        finish[name] = max((finish[other] for other in before), default=ZERO) + duration
    length = max(finish.values(), default=ZERO)
    latest = dict.fromkeys(order, length)
    for name in reversed(order):
        duration, before = activities[name]
        for other in before:
            latest[other] = min(latest[other], latest[name] - duration)
    return Network(
        activities=tuple(
            Activity(
                name=name,
                duration=activities[name][0],
                earliest_start=finish[name] - activities[name][0],
                earliest_finish=finish[name],
                latest_start=latest[name] - activities[name][0],
                latest_finish=latest[name],
            )
            for name in order
        ),
        length=length,
    )
