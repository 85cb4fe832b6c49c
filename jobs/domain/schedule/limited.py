"""The least time that activities take with few people or machines, as far as it is known here.

Each activity takes some of what there is while it lasts. Serial generation: one activity after
another, each as early as what comes before it and what is free allow; the order is bettered by
passes from the end and from the start, in turn (double justification, Valls, Ballestin and
Quintanilla, European Journal of Operational Research 165 (2005), from memory), begun from several
orders of priority. The length found is one that can be kept; the least may be shorter, but never
shorter than the critical path.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.checks import BadValueError, require_choice, require_number
from jobs.domain.days.critical_path import in_working_order

ROUNDS = 20
"""Passes to and fro at most; each must shorten."""
SHIFT, SPREAD = 7919, 100


@dataclass(frozen=True, kw_only=True, slots=True)
class Lasting:
    """An activity: how long it lasts, what comes before it, and what it takes of each kind.

    `lag` is what must pass after it before what follows begins.
    """

    name: str
    lasts: int
    after: tuple[str, ...] = ()
    takes: tuple[int, ...] = ()
    lag: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Timetable:
    """When each activity begins, and when all are done."""

    begins: Mapping[str, int]
    length: int


def limited(demands: Sequence[Lasting], there_is: Sequence[int], *, tries: int = 400) -> Timetable:
    """Return the shortest timetable found that never takes more than there is of each kind.

    It is begun `tries` times at most, from orders each shifted a little otherwise, the same ones
    every time; none is shorter than the critical path, where it ends.

    Raises BadValueError for a ring of waiting, an unknown name, or one that takes too much.
    """
    for demand in demands:
        require_number(f"{demand.name}.lasts", demand.lasts, least=0)
        for kind, (takes, most) in enumerate(zip(demand.takes, there_is, strict=True)):
            if takes > most:
                field = f"{demand.name}.takes {kind + 1}"
                raise BadValueError(field=field, value=takes, accepted=f"at most {most}")
    by_name = {demand.name: demand for demand in demands}
    order = in_working_order({demand.name: demand.after for demand in demands})
    forward = _Network(by_name, order, there_is)
    least = forward.critical_length
    best = forward.bettered(forward.priority(0))
    for number in range(1, tries):
        if best.length <= least:
            break
        table = forward.bettered(forward.priority(number))
        if table.length < best.length:
            best = table
    return best


class _Network:
    """Activities with what comes before and after each."""

    def __init__(
        self, demands: Mapping[str, Lasting], order: Sequence[str], there_is: Sequence[int]
    ) -> None:
        self.demands, self.order, self.there_is = demands, order, there_is
        self.before = {name: demands[name].after for name in order}
        self.following: dict[str, list[str]] = {name: [] for name in order}
        for name in order:
            for other in demands[name].after:
                require_choice(f"{name}.after", other, demands)
                self.following[other].append(name)

    @property
    def critical_length(self) -> int:
        """How long it takes by the order alone."""
        ends: dict[str, int] = {}
        for name in self.order:
            begins = max((ends[b] + self.demands[b].lag for b in self.before[name]), default=0)
            ends[name] = begins + self.demands[name].lasts
        return max(ends.values(), default=0)

    def priority(self, number: int) -> dict[str, int]:
        """Return an order to begin from: the longest way to the end first, shifted by a number."""
        tail: dict[str, int] = {}
        for name in reversed(self.order):
            demand = self.demands[name]
            rest = max((tail[other] for other in self.following[name]), default=0)
            tail[name] = demand.lasts + demand.lag + rest
        shifts = {name: (place + 1) * number * SHIFT for place, name in enumerate(self.order)}
        most = max(tail.values(), default=0)
        return {
            name: -tail[name] * SPREAD + shifts[name] % (most * SPREAD // 3 + 1)
            for name in self.order
        }

    def bettered(self, priority: Mapping[str, int]) -> Timetable:
        """Return the timetable of a priority, justified to the right and to the left in turn."""
        table = self._serial(priority, backwards=False)
        for _ in range(ROUNDS):
            ends = {n: table.begins[n] + self.demands[n].lasts for n in self.order}
            late = self._serial({n: -ends[n] for n in self.order}, backwards=True)
            early = self._serial(
                {n: -(late.begins[n] + self.demands[n].lasts) for n in self.order}, backwards=False
            )
            if early.length >= table.length:
                break
            table = early
        return table

    def _serial(self, priority: Mapping[str, int], *, backwards: bool) -> Timetable:
        """Return each as early as may be, by priority; backwards, time runs from the end."""
        before = self.following if backwards else self.before
        used: list[list[int]] = []
        begins: dict[str, int] = {}
        ranked = sorted(self.order, key=lambda name: priority[name])
        while len(begins) < len(self.order):
            name = next(
                n for n in ranked if n not in begins and all(b in begins for b in before[n])
            )
            begins[name] = self._place(name, begins, before[name], used, backwards=backwards)
        length = max((begins[n] + self.demands[n].lasts for n in begins), default=0)
        return Timetable(begins=begins, length=length)

    def _place(
        self,
        name: str,
        begins: Mapping[str, int],
        before: Sequence[str],
        used: list[list[int]],
        *,
        backwards: bool,
    ) -> int:
        demand = self.demands[name]
        lag = demand.lag if backwards else 0
        at = max(
            (
                begins[b] + self.demands[b].lasts + (lag if backwards else self.demands[b].lag)
                for b in before
            ),
            default=0,
        )
        while not self._fits(demand, at, used):
            at += 1
        for moment in range(at, at + demand.lasts):
            for kind, takes in enumerate(demand.takes):
                used[moment][kind] += takes
        return at

    def _fits(self, demand: Lasting, at: int, used: list[list[int]]) -> bool:
        while len(used) < at + demand.lasts:
            used.append([0] * len(self.there_is))
        return all(
            used[moment][kind] + takes <= self.there_is[kind]
            for moment in range(at, at + demand.lasts)
            for kind, takes in enumerate(demand.takes)
        )
