"""What a crew's day is, and what is done on it: the values that days are told in."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.checks import ZERO, BadValueError


class DaysError(BadValueError):
    """Days can't be planned from this: the field, its value and what would be accepted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewDay:
    """A crew's day: installers, helpers beside them, hours each, and when it starts (8 is 8:00).

    `leaving` are the last days of installers who are gone from the next day on.
    """

    people: int
    hours_per_day: Decimal = Decimal(8)
    helpers: int = 0
    starts: Decimal = Decimal(8)
    leaving: tuple[date, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a crew without an installer, and a day that doesn't fit between two midnights."""
        if self.people < 1:
            accepted = "at least 1 person in the crew"
            raise DaysError(field="crew.people", value=self.people, accepted=accepted)
        if self.helpers < 0:
            raise DaysError(field="crew.helpers", value=self.helpers, accepted="0 or more")
        if not 0 <= self.starts < 24:
            accepted = "an hour from 0 up to 24"
            raise DaysError(field="crew.starts", value=self.starts, accepted=accepted)
        if not Decimal("0.25") <= self.hours_per_day <= 24 - self.starts:
            accepted = f"0.25 to {24 - self.starts} hours"
            raise DaysError(field="crew.hours_per_day", value=self.hours_per_day, accepted=accepted)

    @property
    def hands(self) -> int:
        """Installers and helpers."""
        return self.people + self.helpers

    @property
    def capacity(self) -> Decimal:
        """Man-hours of one day."""
        return self.hands * self.hours_per_day


@dataclass(frozen=True, kw_only=True, slots=True)
class Lane:
    """What one person is at without a break, and from when to when by the clock: 8:15 to 10:45.

    `also` are further rooms that the same half hours do.
    """

    person: str
    task: str
    room: str
    part: str
    begins: str
    ends: str
    also: tuple[str, ...] = ()

    def as_stored(self) -> dict[str, str | list[str]]:
        """Return it as days keep it: further rooms only where there are some."""
        kept: dict[str, str | list[str]] = {
            "person": self.person,
            "task": self.task,
            "room": self.room,
            "part": self.part,
            "begins": self.begins,
            "ends": self.ends,
        }
        return kept | {"also": list(self.also)} if self.also else kept


@dataclass(frozen=True, kw_only=True, slots=True)
class DayEntry:
    """What is done of one task on one day; rows are those finished that day, None if none.

    `hours` are exact, `booked` the half hours that were laid onto the day for them; `rooms` where.
    """

    task_code: str
    zone: str
    label: str
    hours: Decimal
    row_from: int | None = None
    row_to: int | None = None
    helper: bool = False
    finishes: bool = False
    hold_points: tuple[str, ...] = ()
    blocked: bool = False
    booked: Decimal = ZERO
    rooms: tuple[str, ...] = ()
    part: str = ""

    @property
    def rows(self) -> tuple[int, int] | None:
        """First and last row that are finished; None where none is."""
        if self.row_from is None or self.row_to is None:
            return None
        return self.row_from, self.row_to


@dataclass(frozen=True, kw_only=True, slots=True)
class OpenNights:
    """A room that can't be used for some nights from the one after its day on, and its use."""

    room: str
    use: str
    nights: int


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedDay:
    """One working day: its entries in the order they begin, the crew's hours, what to mind.

    `crew_hours` are the exact ones, `booked` the half hours; `lanes` who is at what and when.
    `nights` are those of rooms that are opened on this day.
    """

    number: int
    date: date
    entries: tuple[DayEntry, ...]
    crew_hours: Decimal
    notes: tuple[str, ...] = ()
    booked: Decimal = ZERO
    lanes: tuple[Lane, ...] = ()
    nights: tuple[OpenNights, ...] = ()

    @property
    def hold_points(self) -> tuple[str, ...]:
        """Hold points of this day's tasks, each once."""
        return tuple(dict.fromkeys(hold for entry in self.entries for hold in entry.hold_points))
