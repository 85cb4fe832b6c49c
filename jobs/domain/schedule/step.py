"""A step: what one crew does of one task in one room, with what it waits for."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.schedule.halves import halves_of
from jobs.domain.tasks import Task


@dataclass(frozen=True, kw_only=True, slots=True)
class StepNeed:
    """What must be done first: the whole step of this key, or its stops up to number `stop`.

    `dry`: whether its wait must be over too, else `least` quarters of an hour after it. Without a
    key it is the moment `since` alone, which must have come.
    """

    key: str
    stop: int = 0
    dry: bool = True
    least: int = 0
    since: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Stop:
    """A place where a day may leave a step: halves and exact hours up to it, of it and along."""

    halves: int
    main: int
    along: int
    exact: Decimal
    along_exact: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One step: its halves, whom it takes, and what it waits for.

    `also` are further rooms that the same half hours do: a door off here and one there. Of its
    `halves` on the clock so many are `unbooked`, booked as they are with another room's.
    `along` is the task that goes along with it (pad, hauling away), its halves among these. Where
    there are `stops`, a day leaves off at one of them; `gates` say what must be done before the
    part up to a stop begins. `wait` is quarters of an hour on the clock before what follows.
    `load` numbers the runs to the dump, from 1 on.
    """

    key: str
    task: Task
    room: str = ""
    use: str = ""
    part: str = ""
    also: tuple[str, ...] = ()
    halves: int
    unbooked: int = 0
    exact: Decimal
    needs: tuple[StepNeed, ...] = ()
    wait: int = 0
    people: int = 1
    most: int = 2
    along: Task | None = None
    along_exact: Decimal = ZERO
    stops: tuple[Stop, ...] = ()
    gates: Mapping[int, tuple[StepNeed, ...]] = field(default_factory=dict)
    load: int = 0

    @property
    def rooms(self) -> tuple[str, ...]:
        """The rooms that it is done in; none where it is the floor's or the house's."""
        return (self.room, *self.also) if self.room else ()

    @property
    def waits_for(self) -> tuple[str, ...]:
        """Keys of all steps that it waits for, those of its gates too, each once."""
        gated = (need for needs in self.gates.values() for need in needs)
        return tuple(dict.fromkeys(need.key for need in (*self.needs, *gated) if need.key))

    def clock_halves(self, hands: int) -> int:
        """Return the half hours on the clock that so many people take for it together."""
        return -(-self.halves // min(self.most, hands))


def row_stops(rows: tuple[Decimal, ...], pad: tuple[Decimal, ...]) -> tuple[Stop, ...]:
    """Return a stop after each row: hours of laying and of the pad under it, row by row."""
    stops, laid, rolled = [], ZERO, ZERO
    for row, under in zip(rows, pad, strict=True):
        laid, rolled = laid + row, rolled + under
        stops.append(_stop(halves_of(laid), halves_of(rolled), laid, rolled))
    return tuple(stops)


def haul_stops(main: int, along: int, exact: Decimal, along_exact: Decimal) -> tuple[Stop, ...]:
    """Return a stop after each half hour of tear-out with its part of the hauling away."""
    if not main:
        return (_stop(0, along, exact, along_exact),)
    stops = []
    for torn in range(1, main + 1):
        hauled = -(-along * torn // main)
        last = torn == main
        stops.append(
            _stop(
                torn,
                hauled,
                exact if last else Decimal(torn) / 2,
                along_exact if last else min(Decimal(hauled) / 2, along_exact),
            )
        )
    return tuple(stops)


def at_one_go(step: Step) -> Stop:
    """Return the only stop of what is not left half done, its half hours less those of others."""
    main = step.halves - step.unbooked
    return Stop(halves=step.halves, main=main, along=0, exact=step.exact, along_exact=ZERO)


def _stop(main: int, along: int, exact: Decimal, along_exact: Decimal) -> Stop:
    return Stop(halves=main + along, main=main, along=along, exact=exact, along_exact=along_exact)
