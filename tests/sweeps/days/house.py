"""What nobody does to a house that is lived in, named by one who read such days as a lead.

- A room is emptied before the day on which something else is begun in it.
- The stair gets its treads before the dirty work is over, or today some and some next week.
- Old floor comes out beside wet leveler.
- A room's old floor comes out today, and the rest of it after that of other rooms.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from tests.sweeps.days.held import RoomOf
from tests.sweeps.days.laid_days import A_DAY, LaidDays
from tests.sweeps.days.order import ROOMY

BEFORE_TEAR_OUT = ("out", "fixtures_off", "base_off", "doors_off")
BEGINS = ("undercut", "prep", "level", "paint")
DIRTY = ("tear_out", "prep")


def unkind_to_the_house(days: LaidDays) -> Iterator[str]:
    """Yield what nobody does so."""
    yield from _stairs_in_dust(days)
    yield from _wet(days)


def for_the_end(days: LaidDays) -> Iterator[str]:
    """Yield what a lead does only where the job ends sooner by it: no fault, but counted."""
    yield from _emptied(days)
    yield from _scattered(days)
    yield from _bites(days)


def _emptied(days: LaidDays) -> Iterator[str]:
    """A room that somebody lives by is emptied on the day on which it is worked in.

    Where nights over days off were not agreed a room that somebody lives by may be emptied the
    evening before, so that it is whole again before them; so may one that takes half a day.
    """
    for room in days.facts.rooms:
        out = min((s.begins // A_DAY for s in days._in_room("out", room)), default=None)
        if out is None or not room.use:
            continue
        begun = _begun(days, room)
        here = [(day.date - days.facts.first).days for day in days.laid.days]
        late = sum(out < day <= begun for day in here)
        agreed = days.facts.days_off and room.name in days.facts.agreed
        strict = agreed and not _takes_long(days, room)
        if late > (0 if strict else 1):
            yield f"emptied: {room.use} {room.name} on day {out}, worked in on day {begun}"


def _begun(days: LaidDays, room: RoomOf) -> int:
    """The day on which the floor comes out of a room, or its own work is begun."""
    torn = days._in_room("tear_out", room) if "tear_out" in room.hours else []
    spells = torn or [
        s for name in BEGINS for s in days._in_room(name, room) if room.name in s.stroke.rooms
    ]
    rows = (days._row_day(room, room.rows[0]).date - days.facts.first).days
    return min([rows, *(s.begins // A_DAY for s in spells)])


def _takes_long(days: LaidDays, room: RoomOf) -> bool:
    """Whether half a day is over before the room is empty and bare."""
    crew, halves = len(days.facts.crew), 0
    for name in BEFORE_TEAR_OUT:
        hands = min(crew, ROOMY.get(name, 2))
        halves += ceil(days._halves_in(room, name) / hands)
    return halves * 2 > days.clock.halves


def _stairs_in_dust(days: LaidDays) -> Iterator[str]:
    """Treads come after the last tear-out and sanding."""
    dirty = max((s.ends for name in DIRTY for s in days.by_kind[name]), default=0)
    for spell in days.by_kind["stairs"]:
        if spell.begins < dirty:
            yield f"stairs: before the dirty work is over, {spell}"


def _scattered(days: LaidDays) -> Iterator[str]:
    """A pass of treads is glued on days that follow each other."""
    here = [(day.date - days.facts.first).days for day in days.laid.days]
    passes = {(s.stroke.floor, s.stroke.part) for s in days.by_kind["stairs"]}
    for one in passes:
        spells = [s for s in days.by_kind["stairs"] if (s.stroke.floor, s.stroke.part) == one]
        places = sorted({here.index(s.begins // A_DAY) for s in spells})
        if places[-1] - places[0] >= len(places):
            yield f"scattered: {one[1] or 'treads'} of {one[0]} on scattered days"


def _wet(days: LaidDays) -> Iterator[str]:
    """No old floor comes out on a story while leveler is poured there."""
    for pour in days.by_kind["level"]:
        for torn in days.by_kind["tear_out"]:
            same = torn.stroke.floor == pour.stroke.floor
            if same and torn.begins < pour.ends and pour.begins < torn.ends:
                yield f"wet: {torn.stroke.room} is torn out beside leveler, {pour}"


def _bites(days: LaidDays) -> Iterator[str]:
    """A room's old floor is out before that of another room on its story is begun on another day.

    Rooms that somebody lives by go before others once they are open.
    """
    rooms = [room for room in days.facts.rooms if days._in_room("tear_out", room)]
    for room in rooms:
        torn = sorted(s.begins // A_DAY for s in days._in_room("tear_out", room))
        for other in rooms:
            if other.floor != room.floor or other is room or other.use:
                continue
            first = min(s.begins // A_DAY for s in days._in_room("tear_out", other))
            if torn[0] < first < torn[-1] and first not in torn:
                yield f"bites: {room.name} is torn out before and after {other.name}"
