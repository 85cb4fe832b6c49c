"""Rooms that nobody can do without for a night: when one may be opened, and when it is whole again.

A bedroom, a kitchen or a bath is opened (furniture out, toilet pulled, floor torn out) on the day
on which its first row goes down, and it is not left open over days on which nobody works. Where
leveler or paint must dry, or where the room is more than a day's work, there are nights; they are
counted, to be agreed with the homeowner. Common practice, no source.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.domain.schedule.bench import Bench
from jobs.domain.schedule.step import Need, Step
from jobs.domain.schedule.trade import BACK, OPENS


@dataclass(frozen=True, kw_only=True, slots=True)
class LivedIn:
    """A room that somebody lives by: its steps, and the stops of its first and last row."""

    name: str
    use: str
    opening: tuple[str, ...]
    steps: tuple[str, ...]
    closing: tuple[Need, ...]
    lay: str
    first: int
    last: int

    def is_opened(self, bench: Bench) -> bool:
        """Whether something in it was begun that makes it no room to live in."""
        return any(bench.progress[key].done for key in self.opening)

    def is_closed(self, bench: Bench) -> bool:
        """Whether it can be lived in again."""
        return all(_is_met(need, bench) for need in self.closing)

    def is_begun(self, bench: Bench) -> bool:
        """Whether its first row is down."""
        return _is_met(Need(key=self.lay, stop=self.first), bench)

    def only_waits(self, bench: Bench, now: int) -> bool:
        """Whether all before its first row is done, and only the clock holds that back."""
        step = bench.steps[self.lay]
        needs = [n for stop, gate in step.gates.items() if stop <= self.first for n in gate]
        met = bench.met_at([need for need in needs if need.key in self.steps], step)
        return met is not None and met > now

    def first_steps(self) -> tuple[str, ...]:
        """Steps that come before all others once the room is open."""
        return (*self.steps, self.lay)


def _is_met(need: Need, bench: Bench) -> bool:
    it = bench.progress[need.key]
    return it.done_at is not None or (0 < need.stop <= len(it.stops_at))


def lived_in(steps: Sequence[Step]) -> tuple[LivedIn, ...]:
    """Return the rooms that are opened and laid, in the order of their first rows."""
    rooms = [
        made
        for step in steps
        if step.task.code == "lay" and step.stops
        for share in step.task.rooms
        if share.use and share.rows
        if (made := _room(step, share.room, share.use, share.rows, steps)) is not None
    ]
    return tuple(sorted(rooms, key=lambda room: (room.first, room.last)))


def _room(
    lay: Step, name: str, use: str, rows: tuple[int, int], steps: Sequence[Step]
) -> LivedIn | None:
    here = [s for s in steps if s.room == name and s.task.zone == lay.task.zone]
    opening = [s.key for s in here if s.task.code in OPENS and s.part != BACK and s.halves]
    first = max(1, rows[0] - lay.task.rows_before)
    last = min(rows[1] - lay.task.rows_before, len(lay.stops))
    if not opening or last < 1:
        return None
    back = [Need(key=s.key) for s in here if s.part == BACK or s.task.code == "fixtures_on"]
    return LivedIn(
        name=name,
        use=use,
        opening=tuple(opening),
        steps=tuple(s.key for s in here),
        closing=(Need(key=lay.key, stop=last), *back),
        lay=lay.key,
        first=first,
        last=last,
    )


def guards(rooms: Sequence[LivedIn]) -> Mapping[str, str]:
    """Return by its key the room that each opening step opens."""
    return {key: room.name for room in rooms for key in room.opening}
