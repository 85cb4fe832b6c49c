"""How far a step is, who works at it without a break, and what bounds one day."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field


@dataclass(slots=True)
class StepProgress:
    """How far a step is: halves done, when each of its stops was reached, when it was done.

    `met_at` is when all that it waits for is met, kept once that is known.
    """

    done: int = 0
    stops_at: tuple[int, ...] = ()
    done_at: int | None = None
    met_at: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class WorkSpell:
    """Half hours that one person works at a step without a break; moments are quarters."""

    person: int
    key: str
    begins: int
    ends: int


@dataclass(frozen=True, kw_only=True, slots=True)
class DayRules:
    """What bounds one day: its opening, halves by person, rooms that may be opened, caps by step.

    `first` are steps that are taken before all others, in their order, then those that are `begun`.
    Rooms are `kept` as they are but where their old floor comes out, or their work begins, on the
    same day.
    The truck leaves for the dump when `leaves` half hours are over at the latest, and no old floor
    comes out from then on. `by_load`: it leaves whenever it is full, since all comes out that day.
    It `pours_last`: leveler waits for the day's tear-out on its story, where time is left.
    """

    opens: int
    halves: Sequence[int]
    rooms: Collection[str]
    caps: Mapping[str, int] = field(default_factory=dict)
    first: Collection[str] = ()
    begun: Collection[str] = ()
    kept: Collection[str] = ()
    leaves: int = 99
    by_load: bool = False
    pours_last: bool = False
