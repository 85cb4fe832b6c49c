"""A job and its days in plain values: what the checker is given, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, kw_only=True)
class OneOfCrew:
    """One of the crew: hours a day of theirs."""

    name: str
    hours: Decimal
    helper: bool = False


@dataclass(frozen=True, kw_only=True)
class RoomOf:
    """A room: its floor, use, rows, and the exact hours of each kind of work in it."""

    name: str
    floor: str
    use: str
    rows: tuple[int, int]
    cures: bool
    """Whether leveler or paint must dry in it."""
    hours: dict[str, Decimal] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Facts:
    """A job before it is laid out. Hours are exact, by (kind of work, floor); waits in hours."""

    crew: tuple[OneOfCrew, ...]
    starts: int
    drive: Decimal
    first: date
    holidays: frozenset[date]
    rooms: tuple[RoomOf, ...]
    rows: dict[str, int]
    hours: dict[tuple[str, str], Decimal]
    cure: int
    dry: int
    bears: int
    """Hours after which leveler bears whoever paints above it."""
    acclimate: dict[str, int]
    by_row: dict[str, tuple[Decimal, ...]] = field(default_factory=dict)
    """Exact hours of laying by floor, row after row."""
    passes: int = 1
    runs: int = 1
    """Runs to the dump."""
    agreed: frozenset[str] = frozenset()
    days_off: bool = False
    """Rooms whose nights the homeowner agreed to, and whether those over days off too."""


@dataclass(frozen=True, kw_only=True)
class TimeOn:
    """What one person is at from one minute to another, counted from midnight."""

    person: str
    work: str
    floor: str
    room: str
    part: str
    begins: int
    ends: int
    also: tuple[str, ...] = ()
    """Further rooms that the same half hours do."""

    @property
    def rooms(self) -> tuple[str, ...]:
        """The rooms that it is in; none where it is the floor's or the house's."""
        return (self.room, *self.also) if self.room else ()


@dataclass(frozen=True, kw_only=True)
class DayLine:
    """One line of a day: exact hours, half hours, rows that are finished."""

    work: str
    floor: str
    part: str
    hours: Decimal
    booked: Decimal
    rows: tuple[int, int] | None
    rooms: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Day:
    """One day."""

    date: date
    lines: tuple[DayLine, ...]
    strokes: tuple[TimeOn, ...]


@dataclass(frozen=True, kw_only=True)
class Laid:
    """A job with its days, and the nights by room that are said."""

    facts: Facts
    days: tuple[Day, ...]
    nights: dict[str, int] = field(default_factory=dict)
