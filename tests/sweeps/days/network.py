"""All work of a job as a network: what is before what by room, and how little time each takes.

Reckoned from the facts of the job alone. Where half hours of a task are shared by its rooms a
room's part counts as its whole half hours only, so that nothing here is longer than it must be; but
one at least where there is one for each room, and in a room that somebody lives by or that is
leveled, since nothing is done there along with another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise
from math import ceil, floor

from tests.sweeps.days.held import Facts, RoomOf
from tests.sweeps.days.order import BEFORE, ROOMY

LAY = "lay"
HOUSE_WIDE = ("pick_up", "load", "setup", "carry", "clean")
GLUE_SETS = 12


@dataclass(frozen=True)
class WorkSpot:
    """A piece of work: its kind, floor and room; of rows `place` counts their pieces in order."""

    kind: str
    floor: str = ""
    room: str = ""
    place: int = 0


@dataclass
class JobNetwork:
    """Half hours of people by piece of work, and what is before it with the hours between."""

    facts: Facts
    halves: dict[WorkSpot, int] = field(default_factory=dict)
    before: dict[WorkSpot, list[tuple[WorkSpot, float]]] = field(default_factory=dict)
    begins_with: dict[str, WorkSpot] = field(default_factory=dict)
    ends_with: dict[str, WorkSpot] = field(default_factory=dict)
    """By room the rows that its laying begins and ends with."""

    def hands(self, spot: WorkSpot) -> int:
        """How many can be at it at once."""
        return min(len(self.facts.crew), ROOMY.get(spot.kind, 2))

    def on_clock(self, spot: WorkSpot) -> int:
        """The half hours on the clock that it takes at least."""
        return ceil(self.halves[spot] / self.hands(spot))

    def here(self, kind: str, floor: str, room: str) -> list[WorkSpot]:
        """Work of a kind in a room, or that is done for its floor or the house at once."""
        return [spot for spot in self.halves if spot.kind == kind and _is_near(spot, floor, room)]

    def all_before(self, spot: WorkSpot) -> list[WorkSpot]:
        """All that must be done before a piece of work, what is before that included."""
        before: dict[WorkSpot, None] = {}
        waiting = [spot]
        while waiting:
            for other, _ in self.before.get(waiting.pop(), ()):
                if other not in before:
                    before[other] = None
                    waiting.append(other)
        return list(before)

    def of_room(self, room: RoomOf, *kinds: str) -> list[WorkSpot]:
        """Work of these kinds in a room, and there alone."""
        spots = (WorkSpot(kind, room.floor, room.name) for kind in kinds)
        return [spot for spot in spots if spot in self.halves]


def network_of(facts: Facts) -> JobNetwork:
    """Return the network of a job."""
    made = JobNetwork(facts)
    for (work, zone), hours in facts.hours.items():
        if hours and work not in ("travel", LAY):
            made.halves |= _spots(facts, work, zone, hours)
    for zone in facts.rows:
        _lay(made, zone)
    for spot in made.halves:
        if spot.kind != LAY:
            made.before[spot] = [(other, 0.0) for other in _befores(made, spot)]
    _paint(made)
    _glue(made)
    return made


def _paint(made: JobNetwork) -> None:
    """Walls are painted over leveler that bears it, when no old floor comes out beside them."""
    for spot in made.halves:
        if spot.kind == "paint":
            made.before[spot] = [
                (other, float(made.facts.bears) if other.kind == "level" else wait)
                for other, wait in made.before[spot]
            ]
            made.before[spot] += _dust(made, spot.floor)


def _dust(made: JobNetwork, zone: str) -> Iterator[tuple[WorkSpot, float]]:
    """The tear-out of a floor but for the rooms that somebody lives by."""
    lived_in = {room.name for room in made.facts.rooms if room.use}
    for spot in made.halves:
        if (spot.kind, spot.floor) == ("tear_out", zone) and spot.room not in lived_in:
            yield spot, 0.0


def _spots(facts: Facts, work: str, zone: str, hours: Decimal) -> dict[WorkSpot, int]:
    """The pieces of one task: by room where it is done so, furniture out and back."""
    shares = {r.name: r.hours[work] for r in facts.rooms if r.floor == zone and work in r.hours}
    if work == "stairs" and facts.passes == 2:
        return {WorkSpot(work, zone, "", place): floor(hours) for place in (0, 1)}
    kinds = ("out", "back") if work == "furniture" else (work,)
    there = shares or {"": hours}
    alone = len(there) * len(kinds) == 1
    lived_in = {room.name for room in facts.rooms if room.use or "level" in room.hours}
    enough = len(there) * len(kinds) <= ceil(hours * 2)
    spots = {}
    for room, share in there.items():
        halves = ceil(share * 2) if alone else floor(share * 2 / len(kinds))
        least = int(share > 0 and (enough or room in lived_in))
        for kind in kinds:
            spots[WorkSpot(kind, zone, room)] = _by_two(facts, kind, max(halves, least))
    return spots


def _by_two(facts: Facts, kind: str, halves: int) -> int:
    """Half hours of people: of two at once where it takes two."""
    two = kind in ("out", "back", "carry") and len(facts.crew) > 1
    return ceil(halves / 2) * 2 if two else halves


def _lay(made: JobNetwork, zone: str) -> None:
    """Rows in pieces, cut where a room begins or ends; each waits for the one before it."""
    facts = made.facts
    rooms = [room for room in facts.rooms if room.floor == zone]
    cuts = sorted({0} | {r.rows[0] - 1 for r in rooms} | {r.rows[1] for r in rooms})
    before: WorkSpot | None = None
    for place, (row, last) in enumerate(pairwise(cuts)):
        spot = WorkSpot(LAY, zone, "", place)
        made.halves[spot] = floor(sum(facts.by_row[zone][row:last], Decimal(0)) * 2)
        made.before[spot] = [(before, 0.0)] if before else [*_dust(made, zone)]
        for room in rooms:
            if room.rows[0] - 1 == row:
                made.begins_with[room.name] = spot
                made.before[spot] += _dry(made, room)
            if room.rows[1] == last:
                made.ends_with[room.name] = spot
        before = spot


def _dry(made: JobNetwork, room: RoomOf) -> Iterator[tuple[WorkSpot, float]]:
    """What is before the first row of a room, each with the hours that must pass after it."""
    facts = made.facts
    waits = {"level": facts.cure, "paint": facts.dry, "carry": facts.acclimate.get(room.floor, 0)}
    for spot in _befores(made, WorkSpot(LAY, room.floor, room.name)):
        yield spot, float(waits.get(spot.kind, 0))


def _glue(made: JobNetwork) -> None:
    for spot in made.halves:
        if spot.kind == "stairs" and spot.place == 1:
            made.before[spot].append((WorkSpot("stairs", spot.floor, "", 0), float(GLUE_SETS)))


def _befores(made: JobNetwork, spot: WorkSpot) -> list[WorkSpot]:
    """What is before a piece of work; where a kind is missing, what is before that.

    Furniture that isn't there keeps no door waiting for base.
    """
    there: dict[WorkSpot, None] = {}
    waiting, looked = list(BEFORE.get(spot.kind, ())), set[str]()
    while waiting:
        kind = waiting.pop()
        if kind in looked:
            continue
        looked.add(kind)
        rows = made.ends_with.get(spot.room) if kind == LAY and spot.room else None
        nearest = [rows] if rows else made.here(kind, spot.floor, spot.room)
        there |= dict.fromkeys(nearest)
        waiting += () if nearest or kind == "back" else BEFORE.get(kind, ())
    return list(there)


def _is_near(other: WorkSpot, zone: str, room: str) -> bool:
    """Whether something is in this room, or of the floor or the house it is in."""
    if other.kind in HOUSE_WIDE or not zone:
        return True
    return other.floor == zone and (not room or other.room in ("", room))
