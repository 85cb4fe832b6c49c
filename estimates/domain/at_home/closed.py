"""Which rooms can't be used on which days and nights, from the days as they lie."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from estimates.domain.quotes.days import SLEPT_IN, lived_in_rooms
from estimates.domain.quotes.plain_words import called, called_all, listed, opened
from estimates.domain.quotes.sold import SoldRoom
from jobs.domain.scope.scope import FrozenScope

SHUT_BY = frozenset({"furniture", "tear_out", "level", "lay", "stairs"})
"""From the first of these to the last nobody can use a room; furniture comes back in it."""
TOILET = ("fixtures_off", "fixtures_on")


@dataclass(frozen=True, kw_only=True, slots=True)
class ShutRoom:
    """A room that can't be used from one day to another, both whole days; what it is used as."""

    name: str
    use: str
    first: date
    last: date

    @property
    def nights(self) -> tuple[date, ...]:
        """The evenings from which it can't be used."""
        count = (self.last - self.first).days
        return tuple(self.first + timedelta(days=number) for number in range(count))

    def is_shut_on(self, day: date) -> bool:
        """Whether it can't be used on a day."""
        return self.first <= day <= self.last


def short_day(day: date) -> str:
    """Return a day as a homeowner says it: Tue, Dec 8."""
    return f"{day:%a}, {day:%b} {day.day}"


def shut_rooms(
    scope: FrozenScope, rooms: Sequence[SoldRoom], dates: Sequence[date]
) -> tuple[ShutRoom, ...]:
    """Return the rooms that can't be used for a while, as the scope's days have it on these dates.

    A floor whose days don't know rooms shuts all of its rooms. A room that nobody can do without
    for a night is shut for the nights that its days count, until it is whole again.
    """
    uses = lived_in_rooms(scope)
    shut = _dates_by_room(scope, rooms, dates, SHUT_BY)
    counted = _counted(scope, dates)
    made = []
    for room in rooms:
        if not (on := shut.get(room.name, ())):
            continue
        first, last = on[0], on[-1]
        if room.name in uses and scope.schedule is not None and not scope.schedule.older:
            first, last = counted.get(room.name, (on[-1], on[-1]))
        use = uses.get(room.name, _use(room))
        made.append(ShutRoom(name=room.name, use=use, first=first, last=last))
    return tuple(made)


def _counted(scope: FrozenScope, dates: Sequence[date]) -> dict[str, tuple[date, date]]:
    """Return from when to when each room is open that has nights of its own."""
    nights = scope.schedule.nights if scope.schedule else ()
    return {
        night.room: (dates[night.day - 1], dates[night.day - 1] + timedelta(days=night.nights))
        for night in nights
    }


def _use(room: SoldRoom) -> str:
    """Return what a room is used as by its name, where the scope doesn't know."""
    return "bedroom" if SLEPT_IN.search(room.name) else ""


def shut_toilets(
    scope: FrozenScope, rooms: Sequence[SoldRoom], dates: Sequence[date]
) -> tuple[ShutRoom, ...]:
    """Return the rooms whose toilet can't be used for a while."""
    off = _dates_by_room(scope, rooms, dates, frozenset(TOILET))
    with_one = [
        room
        for room in rooms
        if any(
            entry.code == "toilets" and entry.amount and room.holds(entry.room)
            for entry in scope.quantities
        )
    ]
    return tuple(
        ShutRoom(name=room.name, use="toilet", first=off[room.name][0], last=off[room.name][-1])
        for room in with_one
        if room.name in off
    )


def _dates_by_room(
    scope: FrozenScope, rooms: Sequence[SoldRoom], dates: Sequence[date], codes: frozenset[str]
) -> Mapping[str, Sequence[date]]:
    tasks = {task.key: task for task in scope.tasks}
    on: dict[str, list[date]] = defaultdict(list)
    for day, laid in zip(dates, scope.schedule.days if scope.schedule else (), strict=True):
        for part in laid.parts:
            task = tasks.get(part.task)
            if task is None or task.code not in codes or not (part.laid or part.hours):
                continue
            names = part.rooms or tuple(room.name for room in rooms if room.floor == task.zone)
            for name in names:
                on[name].append(day)
    return on


def night_words(
    shut: Sequence[ShutRoom], toilets: Sequence[ShutRoom], rooms: Sequence[SoldRoom]
) -> tuple[str, ...]:
    """Return on which nights which rooms and toilets can't be used, night by night in words."""
    by_nights: dict[tuple[date, ...], list[ShutRoom]] = defaultdict(list)
    for one in (*shut, *toilets):
        if one.nights:
            by_nights[one.nights].append(one)
    said = [f"{_nights(nights)}: {_missing(those)}." for nights, those in sorted(by_nights.items())]
    missed = {one.name for one in shut if one.nights}
    free = [room.name for room in rooms if room.name not in missed]
    if free:
        said.append(f"{opened(called_all(free))} can be used every night.")
    return tuple(said)


def _nights(nights: Sequence[date]) -> str:
    if len(nights) == 1:
        return f"The night of {short_day(nights[0])}"
    if len(nights) == 2:
        return f"The nights of {short_day(nights[0])} and {short_day(nights[1])}"
    words = f"{short_day(nights[0])} to {short_day(nights[-1])}"
    return f"The {len(nights)} nights of {words}"


def tonight(shut: Sequence[ShutRoom], toilets: Sequence[ShutRoom], evening: date) -> str:
    """Return what can't be used in the night after a day; empty where all can."""
    those = [one for one in (*shut, *toilets) if evening in one.nights]
    return f"That night {_missing(those)}." if those else ""


def _missing(those: Sequence[ShutRoom]) -> str:
    return listed(_each(those))


def _each(those: Sequence[ShutRoom]) -> Iterator[str]:
    slept = [called(one.name, "your") for one in those if one.use == "bedroom"]
    if slept:
        yield f"{listed(slept)} can't be slept in"
    toilets = [called(one.name) for one in those if one.use == "toilet"]
    if toilets:
        yield f"the toilet of {listed(toilets)} can't be used"
    others = [called(one.name) for one in those if one.use not in ("bedroom", "toilet")]
    if others:
        yield f"{listed(others)} can't be used"
