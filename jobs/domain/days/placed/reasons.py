"""Why each piece of work stands where it stands, and how far it may slip."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.days.placed.network import (
    Placed,
    befores,
    slack_by_piece,
    waited,
)
from jobs.domain.days.placed.pieces import (
    Moment,
    PlacedPiece,
    SiteClock,
    clock_of,
    strokes_of,
)
from jobs.domain.schedule.trade import BACK, OPENS


@dataclass(frozen=True, kw_only=True, slots=True)
class PieceStanding:
    """One piece with why it stands there; `slack` is in hours that could be worked."""

    piece: PlacedPiece
    why: str
    slack: Decimal

    @property
    def critical(self) -> bool:
        """Whether any delay of it delays the end."""
        return not self.slack


def standings(placed: Placed, clock: SiteClock) -> tuple[PieceStanding, ...]:
    """Return every piece in the order in which they begin, with its reason and its slack."""
    slack = slack_by_piece(placed, clock)
    return tuple(
        PieceStanding(piece=piece, why=_why(piece, placed, clock), slack=slack[piece.key])
        for piece in placed.pieces
    )


def day_words(day: date) -> str:
    """Return a day as pages say it: Tue, Dec 8."""
    return f"{day:%a, %b} {day.day}"


def _why(piece: PlacedPiece, placed: Placed, clock: SiteClock) -> str:
    causes = sorted(_causes(piece, placed), key=lambda cause: (cause[0], cause[1]))
    if not causes:
        return "Nothing comes before it."
    moment, _, words = causes[-1]
    if clock.at(moment) >= clock.at(piece.start):
        return f"{words}."
    lived = _lived_in(piece, placed)
    if lived:
        return f"{words}; {lived} is opened on the day that lays it."
    if moment[0] < piece.day:
        return f"{words}; it begins with the day."
    return f"{words}."


def _causes(piece: PlacedPiece, placed: Placed) -> Iterator[tuple[Moment, int, str]]:
    """Yield what kept a piece from beginning sooner: till when, how telling, in words."""
    for spell in _before_it(piece, placed):
        words = f"The crew is at {_named(spell, placed)} until {_at(spell.end, piece)}"
        yield spell.end, 0, words
    for other in befores(piece, placed, placed.pieces):
        words = f"After {_named(other, placed)}"
        if other.task == piece.task and other.part == piece.part:
            words = "Goes on from " + day_words(other.day)
        yield other.end, 1, words
    for wait in waited(piece, placed):
        label = placed.tasks[wait.task].label
        hours = f"{wait.hours.normalize():f}"
        yield wait.ends, 2, f"{label}: {hours} h, to {day_words(wait.ends[0])} {_clock(wait.ends)}"


def _before_it(piece: PlacedPiece, placed: Placed) -> list[PlacedPiece]:
    """Return what those who begin this piece were at right before it."""
    here = [spell for spell in placed.spells if spell.key == piece.key]
    begin = {spell.person for spell in here if spell.begins == piece.begins}
    last: dict[str, PlacedPiece] = {}
    for stroke in strokes_of(placed.spells):
        if stroke.people[0] in begin and stroke.end <= piece.start:
            last[stroke.people[0]] = stroke
    return [s for s in last.values() if (s.task, s.room, s.part) != _work(piece)]


def _work(piece: PlacedPiece) -> tuple[str, str, str]:
    return piece.task, piece.room, piece.part


def _named(piece: PlacedPiece, placed: Placed) -> str:
    task = placed.tasks.get(piece.task)
    label = task.label if task else piece.task
    part = f", {piece.part}" if piece.part else ""
    return f"“{label}{part}”" + (f" in {' and '.join(piece.rooms)}" if piece.room else "")


def _at(moment: Moment, piece: PlacedPiece) -> str:
    return _clock(moment) if moment[0] == piece.day else f"the end of {day_words(moment[0])}"


def _clock(moment: Moment) -> str:
    return clock_of(moment[1])


def _lived_in(piece: PlacedPiece, placed: Placed) -> str:
    if piece.task.split(":")[0] not in OPENS or piece.part == BACK:
        return ""
    rooms: Sequence[str] = [
        share.room
        for task in placed.tasks.values()
        for share in task.rooms
        if share.use and share.room in piece.rooms
    ]
    return rooms[0] if rooms else ""
