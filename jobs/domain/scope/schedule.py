"""The schedule of a scope: the days on site that its work was laid onto, frozen with it.

Trips are these days, each out and home. The exact hours of a task stand by day; half days are what
is booked for them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, BadValueError, require_choice, require_number
from jobs.domain.days.crew import CrewDay, PlannedDay
from jobs.domain.days.on_site import booked_for
from jobs.domain.documents import stored
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.tasks import Task, task_key


@stored("task hours booked rooms rows part")
@dataclass(frozen=True, kw_only=True, slots=True)
class DayPart:
    """What is done of one task on one day, in exact man-hours; `task` is the task's key.

    `booked` are the half hours laid onto the day for it, None where days didn't know them yet;
    `rooms` where, `rows` those that are finished, `part` out or back of furniture, odd or even of
    treads.
    """

    task: str
    hours: Decimal
    booked: Decimal | None = None
    rooms: tuple[str, ...] = ()
    rows: tuple[int, int] | None = None
    part: str = ""

    @property
    def laid(self) -> Decimal:
        """The hours as they lie on the day: half hours where it knows them."""
        return self.hours if self.booked is None else self.booked


@stored("booked parts")
@dataclass(frozen=True, kw_only=True, slots=True)
class SiteDay:
    """A day on site: what is booked for it (1 or 0.5), and the work laid onto it."""

    booked: Decimal
    parts: tuple[DayPart, ...]

    def __post_init__(self) -> None:
        """Refuse what is neither a day nor half of one."""
        require_choice("schedule.day.booked", str(self.booked.normalize()), ("1", "0.5"))

    @property
    def hours(self) -> Decimal:
        """Exact man-hours of the day, those on the road too."""
        return sum((part.hours for part in self.parts), ZERO)

    @property
    def laid(self) -> Decimal:
        """Man-hours as they lie on the day, in half hours, those on the road too."""
        return sum((part.laid for part in self.parts), ZERO)


@stored("room use day nights")
@dataclass(frozen=True, kw_only=True, slots=True)
class RoomNights:
    """Nights that a bedroom, kitchen or bath can't be used, from the one after day number `day`."""

    room: str
    use: str
    day: int
    nights: int

    def __post_init__(self) -> None:
        """Refuse a night that is none."""
        require_number(f"nights of {self.room}", self.nights, least=1)
        require_number(f"nights of {self.room}.day", self.day, least=1)


@stored("room days_off")
@dataclass(frozen=True, kw_only=True, slots=True)
class RoomAgreed:
    """A room that may be open for nights before the day that lays it; `days_off`: weekends too."""

    room: str
    days_off: bool = False


@stored("people hours_per_day trip_hours days older nights agreed")
@dataclass(frozen=True, kw_only=True, slots=True)
class ScopeSchedule:
    """The days of a scope, with the crew that they are laid out for.

    `hours_per_day` are one person's, `trip_hours` the whole crew's for one trip out and home.
    `older`: laid out before days knew half hours, rooms and the order of the trade. `nights` are to
    be agreed with the homeowner; `agreed` is what was when the days were laid out.
    """

    people: int
    hours_per_day: Decimal
    trip_hours: Decimal
    days: tuple[SiteDay, ...]
    older: bool = False
    nights: tuple[RoomNights, ...] = ()
    agreed: tuple[RoomAgreed, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a crew without people or hours."""
        require_number("schedule.people", self.people, least=1)
        require_number("schedule.hours_per_day", self.hours_per_day, above=0, most=24)
        require_number("schedule.trip_hours", self.trip_hours, least=0)

    @property
    def may_be_open(self) -> dict[str, bool]:
        """The rooms that may be open for nights, and whether over days off too."""
        return {one.room: one.days_off for one in self.agreed}

    @property
    def crew(self) -> CrewDay:
        """The crew that the days are laid out for."""
        return CrewDay(people=self.people, hours_per_day=self.hours_per_day)

    @property
    def crew_hours(self) -> Decimal:
        """Man-hours of the crew's day."""
        return self.people * self.hours_per_day

    @property
    def trips(self) -> int:
        """Days on which the crew drives out and home."""
        return len(self.days)

    @property
    def booked(self) -> Decimal:
        """Days on site as booked, whole and half."""
        return sum((day.booked for day in self.days), ZERO)

    def hours_of(self, task: str) -> Decimal:
        """Return the hours laid onto days of the task with this key."""
        parts = (part for day in self.days for part in day.parts if part.task == task)
        return sum((part.hours for part in parts), ZERO)


def schedule_of(
    days: Sequence[PlannedDay], crew: CrewDay, trip_hours: Decimal, *, older: bool = False
) -> ScopeSchedule:
    """Return these days as a scope keeps them."""
    kept = [day for day in days if day.crew_hours]
    return ScopeSchedule(
        people=crew.people,
        hours_per_day=crew.hours_per_day,
        trip_hours=trip_hours,
        days=tuple(_site_day(day, crew, older) for day in kept),
        older=older,
        nights=tuple(
            RoomNights(room=night.room, use=night.use, day=day.number, nights=night.nights)
            for day in kept
            for night in day.nights
        ),
    )


def _site_day(day: PlannedDay, crew: CrewDay, older: bool) -> SiteDay:
    parts = tuple(
        DayPart(
            task=task_key(entry.task_code, entry.zone),
            hours=to_hundredths(entry.hours),
            booked=None if older else entry.booked,
            rooms=entry.rooms,
            rows=entry.rows if not older else None,
            part=entry.part,
        )
        for entry in day.entries
    )
    taken = day.crew_hours if older else day.booked
    return SiteDay(booked=booked_for(taken, crew.capacity), parts=parts)


def rooms_agreed(agreed: Mapping[str, bool]) -> tuple[RoomAgreed, ...]:
    """Return rooms that may be open for nights as a scope keeps them."""
    return tuple(RoomAgreed(room=room, days_off=off) for room, off in sorted(agreed.items()))


def worked_days(days: Sequence[PlannedDay]) -> int:
    """Return on how many of these days something is done beside driving."""
    return sum(any(entry.task_code != "travel" for entry in day.entries) for day in days)


def require_laid_out(schedule: ScopeSchedule, tasks: Sequence[Task]) -> None:
    """Raise BadValueError unless the days hold the hours of each task and no others."""
    known = {task.key for task in tasks}
    for day in schedule.days:
        for part in day.parts:
            require_choice("schedule.day.task", part.task, known)
    for task in tasks:
        laid = schedule.hours_of(task.key)
        if laid != task.hours:
            field = f"schedule.hours of {task.key}"
            raise BadValueError(field=field, value=laid, accepted=f"{task.hours}, as its task has")
