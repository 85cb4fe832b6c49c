"""The days of a quote: what is done on which day, nights without a room, what must be cleared.

They are worded from the days that the scope was laid onto, and from nothing typed. Days follow each
other as the crew comes; a weekend between two of them adds its nights.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimates.domain.quotes.content import QuoteSection
from estimates.domain.quotes.plain_words import called, called_all, listed, opened
from estimates.domain.quotes.sold import SoldRoom
from jobs.domain.checks import ZERO
from jobs.domain.scope.schedule import DayPart
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS

BACK = "furniture back"
ROOM_WORK = {
    "fixtures_off": "toilet and appliances out",
    "base_off": "baseboard off",
    "doors_off": "doors off",
    "level": "low spots filled",
    "stairs": "stairs covered",
    "transitions": "strips at the doors",
    "shoe": "trim strip on",
    "doors_on": "doors back",
    "fixtures_on": "toilet and appliances back",
    "furniture_back": BACK,
}
"""Work of a floor as a day names it; what is not here is part of the work around it."""
FURNITURE_BACK = "furniture_back"
"""Where the days know of furniture whether it goes out or back."""
ORDER = (*TASKS, FURNITURE_BACK)
IN_PARTS = {
    "furniture": ("furniture out of the way", "furniture out of the way", "", BACK),
    "tear_out": ("{old} out", "part of {old} out", "more of {old} out", "rest of {old} out"),
    "paint": ("painting", "painting begun", "painting goes on", "painting finished"),
    "lay": ("floor in", "floor begun", "floor goes on", "floor finished"),
    "base": ("baseboard on", "baseboard begun", "baseboard goes on", "baseboard finished"),
}
"""Work that may take several days: in one, on its first, between, on its last."""
WHOLE_JOB = {
    "carry": "Cartons carried in.",
    "clean": "Cleaning, and you look it over with us.",
}
UNUSABLE = ("furniture", "tear_out", "level", "lay")
"""From the first of these to the last row nobody can sleep in a room."""
NOT_MOVED = (
    "Aquariums, pianos and electronics: you empty, unplug and move them before day 1; we don't."
)
"""Common practice, no source."""
AT_HOME = "Keep power and heat on, and a grown-up within reach by phone."
SLEPT_IN = re.compile(r"bed|nursery|guest", re.IGNORECASE)
"""What a room is called that somebody sleeps in."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _QuotedDay:
    """A day on site: hours by task and place, in working order.

    A place is a room where the days know rooms, and a floor in a scope of before.
    """

    hours: dict[tuple[str, str], Decimal]

    def codes(self, place: str) -> list[str]:
        codes = {code for code, of in self.hours if of == place}
        return [code for code in ORDER if code in codes]


def _days(scope: FrozenScope, rooms: Sequence[SoldRoom]) -> list[_QuotedDay]:
    tasks = {task.key: (task.code, task.zone) for task in scope.tasks}
    days = []
    for day in scope.schedule.days if scope.schedule else ():
        hours: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
        for part in day.parts:
            code, zone = tasks[part.task]
            if (code, part.part) == ("furniture", "back"):
                code = FURNITURE_BACK
            for place in _places_of(scope, part, zone, rooms):
                hours[code, place] += part.laid or part.hours
        days.append(_QuotedDay(hours=dict(hours)))
    return days


def _places_of(
    scope: FrozenScope, part: DayPart, zone: str, rooms: Sequence[SoldRoom]
) -> Sequence[str]:
    """Return where a part of a day is done: its rooms, else all of its floor, else the job."""
    if not _knows_rooms(scope) or not zone:
        return [zone]
    return part.rooms or [room.name for room in rooms if room.floor == zone] or [zone]


def _knows_rooms(scope: FrozenScope) -> bool:
    return scope.schedule is not None and not scope.schedule.older


def _places(scope: FrozenScope, rooms: Sequence[SoldRoom]) -> dict[str, tuple[str, str]]:
    """Return every place of a scope with its name for the homeowner and its floor."""
    zones = [zone.name for zone in scope.zones]
    if not _knows_rooms(scope):
        return {zone: (_rooms_of(zone, rooms), zone) for zone in zones}
    places = {room.name: (room.name, room.floor) for room in rooms if room.floor in zones}
    bare = (zone for zone in zones if zone not in {floor for _, floor in places.values()})
    return places | {zone: (zone, zone) for zone in bare}


_ARRIVES = "We arrive about {}, every day."


def quoted_arrival(days: Sequence[QuoteSection]) -> str:
    """Return the hour at which the days of an issued quote say that we come; empty: none."""
    before, after = _ARRIVES.split("{}")
    first = days[0].text if days else ""
    hour, comma, _ = first.removeprefix(before).partition(after)
    return hour if first.startswith(before) and comma else ""


def day_sections(
    scope: FrozenScope, rooms: Sequence[SoldRoom], arrives: str
) -> tuple[QuoteSection, ...]:
    """Return what happens on each day, room by room; nothing where no days are known."""
    days = _days(scope, rooms)
    sections = []
    for place in range(len(days)):
        said = [_ARRIVES.format(arrives)] if arrives and not place else []
        said += _said_of(scope, days, place, rooms)
        text = " ".join(said) or "Material is brought."
        sections.append(QuoteSection(title=f"Day {place + 1}", text=text))
    return tuple(sections)


def _said_of(
    scope: FrozenScope, days: Sequence[_QuotedDay], place: int, rooms: Sequence[SoldRoom]
) -> Iterator[str]:
    """Yield the sentences of one day: its places, then what the whole job shares."""
    day, places = days[place], _places(scope, rooms)
    done: dict[str, list[str]] = defaultdict(list)
    for where, (name, floor) in places.items():
        old = _old_floor(scope, floor)
        words = [said for code in day.codes(where) if (said := _work(days, place, code, where))]
        words.sort(key=lambda said: said == BACK)
        if words:
            done[listed(words).format(old=old)].append(name)
    for said, names in done.items():
        alone = len(done) == 1 and len(names) == len(places)
        yield f"{opened(said)}." if alone else f"{listed(names)}: {said}."
    for code, sentence in WHOLE_JOB.items():
        if any(worked == code for worked, _ in day.hours):
            yield sentence


def _work(days: Sequence[_QuotedDay], place: int, code: str, where: str) -> str:
    if code not in IN_PARTS:
        return ROOM_WORK.get(code, "")
    whole, first, between, last = IN_PARTS[code]
    on = [at for at, day in enumerate(days) if day.hours.get((code, where), ZERO)]
    words = whole if len(on) == 1 else first if place == on[0] else between
    return last if len(on) > 1 and place == on[-1] else words


def _old_floor(scope: FrozenScope, zone: str) -> str:
    torn = {
        entry.item
        for entry in scope.quantities
        if entry.code == "tear_out" and entry.zone == zone and entry.amount
    }
    return "carpet" if torn == {"carpet"} else "old floor"


def _rooms_of(zone: str, rooms: Sequence[SoldRoom]) -> str:
    return listed(room.name for room in rooms if room.floor == zone) or zone


def night_sentences(scope: FrozenScope, rooms: Sequence[SoldRoom]) -> tuple[str, ...]:
    """Return on which nights each room can't be used, floor by floor; () without days."""
    days, places = _days(scope, rooms), _places(scope, rooms)
    if not days:
        return ()
    closed: dict[tuple[int, int], list[str]] = defaultdict(list)
    counted = _counted_nights(scope)
    for where, (name, floor) in places.items():
        inside = [name] if where != floor else [r.name for r in rooms if r.floor == floor]
        closed[counted.get(where, _nights(days, where))] += inside or [name]
    free = [name for (nights, _), names in closed.items() if not nights for name in names]
    said = [f"{opened(called_all(free))} can be used every night."] if free else []
    shut = {when: names for when, names in closed.items() if when[0]}
    said += [f"{_closed(names)} {_which_nights(*when)}." for when, names in shut.items()]
    said += _toilets(days, scope, rooms)
    more = "If a weekend or a day off falls between two days, its nights count too."
    return (*said, more) if shut else tuple(said)


def lived_in_rooms(scope: FrozenScope) -> dict[str, str]:
    """Return the bedrooms, kitchens and baths that a scope knows, and what each is."""
    return {share.room: share.use for task in scope.tasks for share in task.rooms if share.use}


def _counted_nights(scope: FrozenScope) -> dict[str, tuple[int, int]]:
    """Return nights and first day of each room that nobody can do without, as its days count them.

    Such a room is missed until all of it is back: bed, appliances, toilet. Nights of a weekend
    between two days are not among them; the quote says that they count too.
    """
    schedule = scope.schedule
    if schedule is None or schedule.older:
        return {}
    nights = {
        night.room: (min(night.nights, len(schedule.days) - night.day), night.day)
        for night in schedule.nights
    }
    return {room: nights.get(room, (0, 0)) for room in lived_in_rooms(scope)}


def _closed(names: Sequence[str]) -> str:
    """Return that rooms can't be slept in, or be used: your bedroom can't be slept in."""
    slept = [called(name, "your") for name in names if SLEPT_IN.search(name)]
    others = [called(name) for name in names if not SLEPT_IN.search(name)]
    said = [f"{listed(slept)} can't be slept in"] if slept else []
    said += [f"{listed(others)} can't be used"] if others else []
    return opened(" and ".join(said))


def _which_nights(nights: int, after: int) -> str:
    if nights == 1:
        return f"on the night after day {after}"
    between = "and" if nights == 2 else "to"
    return f"on the {nights} nights after day {after} {between} day {after + nights - 1}"


def _nights(days: Sequence[_QuotedDay], place: str) -> tuple[int, int]:
    """Return the nights between the first and the last day on which a place can't be used."""
    on = [
        at for at, day in enumerate(days) if any(day.hours.get((code, place)) for code in UNUSABLE)
    ]
    return (on[-1] - on[0], on[0] + 1) if on else (0, 0)


def _toilets(
    days: Sequence[_QuotedDay], scope: FrozenScope, rooms: Sequence[SoldRoom]
) -> Iterator[str]:
    """Yield for how many nights a toilet is off."""
    for where, (_, floor) in _places(scope, rooms).items():
        with_one = [
            room.name
            for room in rooms
            if any(
                entry.code == "toilets" and entry.amount and room.holds(entry.room)
                for entry in scope.quantities
            )
            and where in (room.name, room.floor)
            and room.floor == floor
        ]
        off, back = (
            [at for at, day in enumerate(days) if day.hours.get((code, where))]
            for code in ("fixtures_off", "fixtures_on")
        )
        if with_one and off and back:
            nights = back[-1] - off[0]
            when = _which_nights(nights, off[0] + 1) if nights else f"during day {off[0] + 1}"
            yield f"The toilet of {called_all(with_one)} can't be used {when}."


def clear_sentences(scope: FrozenScope, rooms: Sequence[SoldRoom]) -> tuple[str, ...]:
    """Return what the homeowner clears before the first day."""
    furnished = [
        room.name
        for room in rooms
        if any(
            entry.code == "furniture" and entry.amount and room.holds(entry.room)
            for entry in scope.quantities
        )
    ]
    said = []
    if furnished and "furniture" in scope.left:
        said.append(f"Before day 1: clear all furniture out of {called_all(furnished)}.")
    elif furnished:
        beds = " and strip the beds" if any(map(SLEPT_IN.search, furnished)) else ""
        said.append(
            f"Before day 1: clear closets, shelves and small things in {called_all(furnished)}"
            f"{beds}; we move what is heavy."
        )
    bare = [room.name for room in rooms if room.name not in furnished]
    if bare:
        said.append(f"{'Keep' if said else 'Before day 1: keep'} {called_all(bare)} clear.")
    return (*said, NOT_MOVED, AT_HOME)
