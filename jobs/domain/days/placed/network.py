"""The order that placed pieces wait in: the trade's, and that of the people, as it was kept.

A piece waits for those before it in the order of the trade that were done when it began, for waits
that were over, and for what each of its people was at before. So the days as they stand fit the
network, and its slack is what a piece may slip while the crew keeps its order.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.days.critical_path import Network, critical_path
from jobs.domain.days.placed.pieces import (
    Moment,
    PlacedPiece,
    PlacedSpell,
    SiteClock,
    later,
    strokes_of,
)
from jobs.domain.tasks import Task

BACK = "back"
GOES_LAST = ("doors_on", "clean")
"""What comes after the furniture is back."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedWait:
    """A wait by the clock as it lies on the days: of which task and room, from when to when."""

    task: str
    room: str
    begins: Moment
    ends: Moment
    hours: Decimal
    behind: tuple[str, ...]

    @property
    def key(self) -> str:
        """What it is called in the network."""
        return f"wait/{self.task}/{self.room}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Placed:
    """The work of a job on its days: tasks, spells, the pieces and waits that they make."""

    tasks: Mapping[str, Task]
    spells: Sequence[PlacedSpell]
    pieces: Sequence[PlacedPiece]
    waits: Sequence[PlacedWait]


def waits_of(tasks: Mapping[str, Task], pieces: Sequence[PlacedPiece]) -> list[PlacedWait]:
    """Return the waits that begin on these days, by task and room."""
    waits = []
    for task in tasks.values():
        if not task.wait_hours_after:
            continue
        of_it = (task.key,) if task.hours else task.after
        last: dict[str, list[PlacedPiece]] = {}
        for piece in pieces:
            if piece.task in of_it:
                last.setdefault(piece.room if task.hours else "", []).append(piece)
        for room, behind in last.items():
            begins = max(piece.end for piece in behind)
            waits.append(
                PlacedWait(
                    task=task.key,
                    room=room,
                    begins=begins,
                    ends=later(begins, task.wait_hours_after),
                    hours=task.wait_hours_after,
                    behind=tuple(piece.key for piece in behind),
                )
            )
    return waits


def befores(piece: PlacedPiece, placed: Placed, among: Sequence[PlacedPiece]) -> list[PlacedPiece]:
    """Return those before this one in the order of the trade that were done when it began."""
    keys = _kinds_before(piece, placed)
    return [
        other
        for other in among
        if other.end <= piece.start and (_same_work(piece, other) or _is_before(piece, other, keys))
    ]


def waited(piece: PlacedPiece, placed: Placed) -> list[PlacedWait]:
    """Return the waits before this piece that were over when it began."""
    keys = _kinds_before(piece, placed)
    return [
        wait
        for wait in placed.waits
        if wait.task in keys and wait.ends <= piece.start and _same_room(piece, [wait.room])
    ]


def slack_by_piece(placed: Placed, clock: SiteClock) -> dict[str, Decimal]:
    """Return how far each piece may slip from where it stands, in hours that could be worked.

    Where rows lie in several rooms, those of a stroke count as all in each: the slack of what
    comes before them is rather too small than too great.
    """
    strokes = strokes_of(placed.spells, {piece.end for piece in placed.pieces})
    network = _network(strokes, placed, clock)
    slack: dict[str, Decimal] = {}
    for piece in placed.pieces:
        keys = [stroke.key for stroke in strokes if stroke.key.startswith(f"{piece.key}/")]
        slack[piece.key] = min(network.activity(key).slack for key in keys)
    return slack


def _network(strokes: Sequence[PlacedPiece], placed: Placed, clock: SiteClock) -> Network:
    """Return the network of strokes and waits, none of them earlier than it stands."""
    activities: dict[str, tuple[Decimal, Sequence[str]]] = {}
    of_piece: dict[str, list[str]] = {}
    last: dict[str, str] = {}
    for stroke in strokes:
        stands, piece = f"{stroke.key}/stands", stroke.key.rsplit("/", 2)[0]
        activities[stands] = (clock.at(stroke.start), ())
        before = [stands, *(other.key for other in befores(stroke, placed, strokes))]
        before += [wait.key for wait in waited(stroke, placed)]
        before += [last[person] for person in stroke.people if person in last]
        hours = clock.at(stroke.end) - clock.at(stroke.start)
        activities[stroke.key] = (hours, tuple(dict.fromkeys(before)))
        of_piece.setdefault(piece, []).append(stroke.key)
        last |= dict.fromkeys(stroke.people, stroke.key)
    for wait in placed.waits:
        behind = tuple(key for piece in wait.behind for key in of_piece[piece])
        activities[wait.key] = (clock.at(wait.ends) - clock.at(wait.begins), behind)
    return critical_path(activities)


def _kinds_before(piece: PlacedPiece, placed: Placed) -> set[str]:
    """Return the tasks before a piece; where one has no piece of its own, those before that too."""
    on_days = {other.task for other in placed.pieces}
    task = placed.tasks.get(piece.task)
    open_keys, keys = list(task.after if task else ()), set[str]()
    while open_keys:
        key = open_keys.pop()
        if key in keys:
            continue
        keys.add(key)
        if key not in on_days and key in placed.tasks:
            open_keys += placed.tasks[key].after
    return keys


def _same_work(piece: PlacedPiece, other: PlacedPiece) -> bool:
    return (piece.task, piece.room) == (other.task, other.room)


def _is_before(piece: PlacedPiece, other: PlacedPiece, keys: set[str]) -> bool:
    code, other_code = piece.task.split(":")[0], other.task.split(":")[0]
    if piece.part == BACK:
        return other_code not in ("furniture", *GOES_LAST) and _same_room(piece, other.rooms)
    if other.part == BACK:
        return code in GOES_LAST
    return other.task in keys and _same_room(piece, other.rooms)


def _same_room(piece: PlacedPiece, rooms: Sequence[str]) -> bool:
    """Whether a piece is in one of these rooms; where nobody names a room it is everywhere."""
    there = [room for room in rooms if room]
    return not piece.rooms or not there or not set(there).isdisjoint(piece.rooms)
