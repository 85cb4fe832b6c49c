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
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import TASKS

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
}
"""Work of a floor as a day names it; what is not here is part of the work around it."""
BACK = "furniture back"
IN_PARTS = {
    "furniture": ("furniture out of the way", "furniture out of the way", "", BACK),
    "tear_out": ("{old} out", "{old} out, begun", "more of {old} out", "rest of {old} out"),
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
_SLEPT_IN = re.compile(r"bed|nursery|guest", re.IGNORECASE)
"""What a room is called that somebody sleeps in."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _QuotedDay:
    """A day on site: hours by task and floor, in working order."""

    hours: dict[tuple[str, str], Decimal]

    def codes(self, zone: str) -> list[str]:
        codes = {code for code, of in self.hours if of == zone}
        return [code for code in TASKS if code in codes]


def _days(scope: FrozenScope) -> list[_QuotedDay]:
    by_key = {task.key: (task.code, task.zone) for task in scope.tasks}
    days = []
    for day in scope.schedule.days if scope.schedule else ():
        hours: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
        for part in day.parts:
            hours[by_key[part.task]] += part.hours
        days.append(_QuotedDay(hours=dict(hours)))
    return days


def day_sections(
    scope: FrozenScope, rooms: Sequence[SoldRoom], arrives: str
) -> tuple[QuoteSection, ...]:
    """Return what happens on each day, room by room; nothing where no days are known."""
    days = _days(scope)
    sections = []
    for place in range(len(days)):
        said = [f"We arrive about {arrives}, every day."] if arrives and not place else []
        said += _said_of(scope, days, place, rooms)
        text = " ".join(said) or "Material is brought."
        sections.append(QuoteSection(title=f"Day {place + 1}", text=text))
    return tuple(sections)


def _said_of(
    scope: FrozenScope, days: Sequence[_QuotedDay], place: int, rooms: Sequence[SoldRoom]
) -> Iterator[str]:
    """Yield the sentences of one day: the floors of the scope, then what the whole job shares."""
    day = days[place]
    for zone in (each.name for each in scope.zones):
        words = [
            words for code in day.codes(zone) if (words := _work(scope, days, place, code, zone))
        ]
        words.sort(key=lambda said: said == BACK)
        if words and len(scope.zones) > 1:
            yield f"{_rooms_of(zone, rooms)}: {listed(words)}."
        elif words:
            yield f"{opened(listed(words))}."
    for code, sentence in WHOLE_JOB.items():
        if any(done == code for done, _ in day.hours):
            yield sentence


def _work(scope: FrozenScope, days: Sequence[_QuotedDay], place: int, code: str, zone: str) -> str:
    if code not in IN_PARTS:
        return ROOM_WORK.get(code, "")
    whole, first, between, last = IN_PARTS[code]
    on = [at for at, day in enumerate(days) if day.hours.get((code, zone), ZERO)]
    words = whole if len(on) == 1 else first if place == on[0] else between
    words = last if len(on) > 1 and place == on[-1] else words
    return words.format(old=_old_floor(scope, zone))


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
    days = _days(scope)
    if not days:
        return ()
    free: list[str] = []
    closed: list[str] = []
    for zone in (each.name for each in scope.zones):
        nights, after = _nights(days, zone)
        names = [room.name for room in rooms if room.floor == zone] or [zone]
        if nights:
            closed.append(f"{_closed(names)} {_which_nights(nights, after)}.")
        else:
            free += names
    said = [f"{opened(called_all(free))} can be used every night."] if free else []
    said += [*closed, *_toilets(days, scope, rooms)]
    more = "If a weekend or a day off falls between two days, its nights count too."
    return (*said, more) if closed else tuple(said)


def _closed(names: Sequence[str]) -> str:
    """Return that rooms can't be slept in, or be used: your bedroom can't be slept in."""
    slept = [called(name, "your") for name in names if _SLEPT_IN.search(name)]
    others = [called(name) for name in names if not _SLEPT_IN.search(name)]
    said = [f"{listed(slept)} can't be slept in"] if slept else []
    said += [f"{listed(others)} can't be used"] if others else []
    return opened(" and ".join(said))


def _which_nights(nights: int, after: int) -> str:
    if nights == 1:
        return f"on the night after day {after}"
    between = "and" if nights == 2 else "to"
    return f"on the {nights} nights after day {after} {between} day {after + nights - 1}"


def _nights(days: Sequence[_QuotedDay], zone: str) -> tuple[int, int]:
    """Return the nights between the first and the last day on which a floor can't be used."""
    on = [
        at for at, day in enumerate(days) if any(day.hours.get((code, zone)) for code in UNUSABLE)
    ]
    return (on[-1] - on[0], on[0] + 1) if on else (0, 0)


def _toilets(
    days: Sequence[_QuotedDay], scope: FrozenScope, rooms: Sequence[SoldRoom]
) -> Iterator[str]:
    """Yield for how many nights a toilet is off."""
    for zone in (each.name for each in scope.zones):
        with_one = [
            room.name
            for room in rooms
            if any(
                entry.code == "toilets" and entry.amount and room.holds(entry.room)
                for entry in scope.quantities
            )
            and room.floor == zone
        ]
        on = {
            code: [at for at, day in enumerate(days) if day.hours.get((code, zone))]
            for code in ("fixtures_off", "fixtures_on")
        }
        if with_one and on["fixtures_off"] and on["fixtures_on"]:
            nights = on["fixtures_on"][-1] - on["fixtures_off"][0]
            first = on["fixtures_off"][0] + 1
            when = _which_nights(nights, first) if nights else f"during day {first}"
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
        beds = " and strip the beds" if any(map(_SLEPT_IN.search, furnished)) else ""
        said.append(
            f"Before day 1: clear closets, shelves and small things in {called_all(furnished)}"
            f"{beds}; we move what is heavy."
        )
    bare = [room.name for room in rooms if room.name not in furnished]
    if bare:
        said.append(f"{'Keep' if said else 'Before day 1: keep'} {called_all(bare)} clear.")
    return (*said, NOT_MOVED, AT_HOME)
