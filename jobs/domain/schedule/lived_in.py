"""Rooms that nobody can do without for a night: when one may be opened, and when it is whole again.

A bedroom, a kitchen or a bath is opened (furniture out, toilet pulled, floor torn out) on the day
on which its first row goes down, and it is not left open over days on which nobody works. Where
leveler or paint must dry, or where the room is more than a day's work, there are nights; they are
counted, to be agreed with the homeowner. Common practice, no source.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.halves import QUARTERS_A_DAY
from jobs.domain.schedule.step import Step, StepNeed
from jobs.domain.schedule.trade import BACK, CLOSES, NOT_SOONER, OPENS
from jobs.domain.tasks import RoomShare


@dataclass(frozen=True, kw_only=True, slots=True)
class LivedIn:
    """A room that somebody lives by: its steps, and the stops of its first and last row."""

    name: str
    use: str
    opening: tuple[str, ...]
    beside: tuple[str, ...]
    """Steps that nobody does in it before it is opened: its door stays on."""
    steps: tuple[str, ...]
    closing: tuple[StepNeed, ...]
    lay: str
    first: int
    last: int
    before: int
    whole: int
    waits: int
    """Half hours on the clock up to its first row, and in all; whole days that it must dry."""
    torn: int = 0
    run: int = 0
    """Half hours of its tear-out, and of the run to the dump that ends each day of it."""
    alone: bool = False
    """Whether one person does it all: nobody goes on while the truck is away."""

    def shares(self, other: "LivedIn") -> bool:
        """Whether rows run on from one into the other."""
        return self.lay == other.lay and self.first <= other.last and other.first <= self.last

    def is_opened(self, bench: WorkBench) -> bool:
        """Whether something in it was begun that makes it no room to live in."""
        return any(bench.progress[key].done for key in self.opening)

    def is_closed(self, bench: WorkBench) -> bool:
        """Whether it can be lived in again."""
        return all(_is_met(need, bench) for need in self.closing)

    def is_begun(self, bench: WorkBench) -> bool:
        """Whether its first row is down."""
        return _is_met(StepNeed(key=self.lay, stop=self.first), bench)

    def ready_at(self, bench: WorkBench) -> int | None:
        """Return when all that is its own before its first row is done and dry; None: not yet."""
        step = bench.steps[self.lay]
        needs = [n for stop, gate in step.gates.items() if stop <= self.first for n in gate]
        return bench.met_at([need for need in needs if need.key in self.steps], step)

    def days(self, halves: int) -> int:
        """Return the days that it takes alone, of so many half hours each."""
        torn_on = -(-self.torn // max(1, halves - self.run))
        runs = torn_on if self.alone else max(0, torn_on - 1)
        return -(-(self.whole + self.run * runs) // max(1, halves)) + self.waits

    def first_steps(self) -> tuple[str, ...]:
        """Steps that come before all others once the room is open."""
        return (*self.steps, self.lay)


def _is_met(need: StepNeed, bench: WorkBench) -> bool:
    it = bench.progress[need.key]
    return it.done_at is not None or (0 < need.stop <= len(it.stops_at))


def lived_in(steps: Sequence[Step], hands: int = 1) -> tuple[LivedIn, ...]:
    """Return the rooms that are opened and laid, in the order of their first rows."""
    rooms = [
        made
        for step in steps
        if step.task.code == "lay" and step.stops
        for share in step.task.rooms
        if share.use and share.rows
        if (made := _room(step, share, steps, hands)) is not None
    ]
    return tuple(sorted(rooms, key=lambda room: (room.first, room.last)))


def _room(lay: Step, share: RoomShare, steps: Sequence[Step], hands: int) -> LivedIn | None:
    here = [s for s in steps if share.room in s.rooms and s.task.zone == lay.task.zone]
    opening = [s.key for s in here if s.task.code in OPENS and s.part != BACK and s.halves]
    rows = share.rows or (1, 0)
    first = max(1, rows[0] - lay.task.rows_before)
    last = min(rows[1] - lay.task.rows_before, len(lay.stops))
    if not opening or last < 1:
        return None
    back = [s for s in here if s.halves and (s.part == BACK or s.task.code in CLOSES)]
    on_the_way = _on_the_way(lay, steps)
    earlier = [s for s in here if s.key in on_the_way]
    begun = lay.stops[first - 2].halves if first > 1 else 0
    before = sum(s.clock_halves(hands) for s in earlier) + 1
    rest = sum(s.clock_halves(hands) for s in here if s not in earlier)
    laying = -(-(lay.stops[last - 1].halves - begun) // min(lay.most, hands))
    return LivedIn(
        name=share.room,
        use=share.use,
        opening=tuple(opening),
        beside=tuple(s.key for s in here if s.task.code in NOT_SOONER),
        steps=tuple(s.key for s in here),
        closing=(StepNeed(key=lay.key, stop=last), *(StepNeed(key=s.key) for s in back)),
        lay=lay.key,
        first=first,
        last=last,
        before=before,
        whole=before + laying + rest,
        waits=max((-(-s.wait // QUARTERS_A_DAY) for s in here), default=0),
        torn=sum(s.clock_halves(hands) for s in here if s.task.code == "tear_out"),
        run=max((s.halves for s in steps if s.load), default=0),
        alone=hands == 1,
    )


def _on_the_way(lay: Step, steps: Sequence[Step]) -> set[str]:
    """Return all that is before the rows, what is before that included; `steps` by their keys."""
    by_key = {step.key: step for step in steps}
    before: set[str] = set()
    waiting = list(lay.waits_for)
    while waiting:
        key = waiting.pop()
        if key not in before:
            before.add(key)
            waiting += by_key[key].waits_for if key in by_key else ()
    return before


def guards(rooms: Sequence[LivedIn]) -> Mapping[str, str]:
    """Return by its key the room that each step is in which waits for its opening."""
    return {key: room.name for room in rooms for key in (*room.opening, *room.beside)}


def kept_on(
    rooms: Collection[str], at_leisure: Collection[str], *, worked_after: bool
) -> list[str]:
    """Return the rooms that are not emptied on a day for work of a later one.

    Where they may not be open over days off, one may be emptied the evening before.
    """
    return [name for name in rooms if name in at_leisure or not worked_after]
