"""Loads: the old floor is driven to the dump on the day it comes out, a truck full at a time.

Once the truck has left no more old floor comes out that day: it would lie there overnight. Common
practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from jobs.domain.checks import ONE
from jobs.domain.schedule.halves import shared_halves
from jobs.domain.schedule.step import Step, at_one_go
from jobs.domain.schedule.trade import most_at, people_for
from jobs.domain.tasks import Task, in_shares


def loads_of(task: Task) -> Iterator[Step]:
    """Yield the runs to the dump, one after another; what is left of a run is one of its own."""
    shares: Sequence[Decimal] = in_shares(task.hours, (ONE,) * task.passes)
    for load, (hours, halves) in enumerate(zip(shares, shared_halves(shares), strict=True), 1):
        step = Step(
            key=f"{task.key}/{load}" if task.passes > 1 else task.key,
            task=task,
            halves=halves,
            exact=hours,
            people=people_for(task),
            most=most_at(task),
            load=load,
        )
        yield replace(step, stops=(at_one_go(step),)) if halves else step


class Truck:
    """What is on the truck: half hours of old floor that came out, and of those driven off."""

    def __init__(self, steps: Sequence[Step]) -> None:
        """Know the runs in their order, and what must be out before the last of them."""
        self.runs = tuple(step.key for step in steps if step.load and step.halves)
        by_key = {step.key: step for step in steps}
        befores = [by_key[key].waits_for for key in self.runs[-1:]]
        self.old_floor = frozenset(
            key
            for keys in befores
            for key in keys
            if by_key[key].task.code in ("tear_out", "dispose") and by_key[key].halves
        )
        self.all_of_it = sum(by_key[key].halves for key in self.old_floor)
        self.out, self.gone, self.out_at = 0, 0, 0

    def copy(self) -> "Truck":
        """Return a truck as far as this one."""
        other = Truck(())
        other.runs, other.old_floor, other.all_of_it = self.runs, self.old_floor, self.all_of_it
        other.out, other.gone, other.out_at = self.out, self.gone, self.out_at
        return other

    @property
    def loaded(self) -> bool:
        """Whether some old floor is on it."""
        return self.out > self.gone

    def advance(self, key: str, halves: int, now: int, *, begins: bool) -> None:
        """Load what came out; a run that begins takes all that is on it."""
        if key in self.old_floor:
            self.out, self.out_at = self.out + halves, now
        elif key in self.runs and begins:
            self.gone = self.out
