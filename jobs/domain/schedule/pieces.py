"""Tasks divided into pieces by room: furniture out and back, treads in two passes, in half hours.

The half hours of a task are its exact hours rounded up, no more. Each piece gets one of them at
least; where there are fewer than pieces, small ones next to each other are done in one: a door off
here, one there. Rooms that somebody lives by are never put together with others, since they are
opened on days of their own, nor are those that are leveled: there a half hour on the clock may be
booked with another room's.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import pairwise

from jobs.domain.checks import ONE, ZERO
from jobs.domain.schedule.halves import halves_of
from jobs.domain.schedule.trade import BACK, BY_ROOM, EVEN, ODD, OUT
from jobs.domain.tasks import RoomShare, Task, in_shares


@dataclass(frozen=True, kw_only=True, slots=True)
class TaskPiece:
    """A part of a task before it is a step: where, which part of it, how many hours and halves."""

    room: str = ""
    also: tuple[str, ...] = ()
    use: str = ""
    part: str = ""
    hours: Decimal
    halves: int = 0
    unbooked: int = 0
    """Of its halves on the clock those that are booked elsewhere."""


def pieces_of_task(
    task: Task, uses: Mapping[str, str], apart: Collection[str] = ()
) -> list[TaskPiece]:
    """Return the parts of a task in the order of work, with their half hours.

    `uses` are those of its zone's rooms that somebody lives by, `apart` others whose work is not
    put together: leveler does not wait for the room beside it.
    """
    pieces = [replace(piece, use=uses.get(piece.room, piece.use)) for piece in _pieces(task)]
    return _with_halves(pieces, {*uses, *apart})


def _pieces(task: Task) -> Iterator[TaskPiece]:
    """Yield the parts of a task in the order of work, less what is done of it already."""
    done = sum((share.hours for share in task.rooms), ZERO) - task.hours
    for piece in _whole_pieces(task):
        spent = min(max(done, ZERO), piece.hours)
        done -= spent
        if piece.hours > spent or not task.hours or not spent:
            yield replace(piece, hours=piece.hours - spent)


def _whole_pieces(task: Task) -> list[TaskPiece]:
    shares = task.rooms if task.code in BY_ROOM and task.hours else ()
    if not shares:
        alone = RoomShare(room="-", hours=task.hours)
        return [replace(piece, room="") for piece in _parts(task, alone)]
    pieces = [piece for share in shares for piece in _parts(task, share)]
    return sorted(pieces, key=lambda piece: piece.part == BACK)


def _parts(task: Task, share: RoomShare) -> list[TaskPiece]:
    names: tuple[str, ...] = ("",)
    if task.hours and task.code == "furniture":
        names = (OUT, BACK)
    elif task.hours and task.code == "stairs" and task.passes == 2:
        names = (ODD, EVEN)
    hours = in_shares(share.hours, (ONE,) * len(names))
    return [
        TaskPiece(room=share.room, use=share.use, part=part, hours=each)
        for part, each in zip(names, hours, strict=True)
    ]


def _with_halves(pieces: Sequence[TaskPiece], apart: Set[str]) -> list[TaskPiece]:
    """Return the pieces with the half hours of all of them, one each at least."""
    most = halves_of(sum((piece.hours for piece in pieces), ZERO))
    made = _joined(pieces, most, apart)
    halves = _shared([piece.hours for piece in made], most)
    over = max(0, sum(halves) - most)
    small = sorted(range(len(made)), key=lambda place: made[place].hours or most)[:over]
    return [
        replace(piece, halves=many, unbooked=int(place in small))
        for place, (piece, many) in enumerate(zip(made, halves, strict=True))
    ]


def _joined(pieces: Sequence[TaskPiece], most: int, apart: Set[str]) -> list[TaskPiece]:
    """Return the pieces, the smallest neighbors put together until there is a half for each."""
    made = list(pieces)
    while sum(piece.hours > 0 for piece in made) > most:
        pairs = [
            (one.hours + other.hours, place)
            for place, (one, other) in enumerate(pairwise(made))
            if one.room and one.part == other.part and apart.isdisjoint((one.room, other.room))
        ]
        if not pairs:
            break
        _, place = min(pairs)
        one, other = made[place : place + 2]
        also = (*one.also, other.room, *other.also)
        made[place : place + 2] = [replace(one, also=also, hours=one.hours + other.hours)]
    return made


def _shared(hours: Sequence[Decimal], most: int) -> Sequence[int]:
    """Return the halves of each: one at least, the others to whom most is lacking."""
    halves = [int(each > 0) for each in hours]
    for _ in range(most - sum(halves)):
        lacking = [each * 2 - many for each, many in zip(hours, halves, strict=True)]
        halves[lacking.index(max(lacking))] += 1
    return halves
