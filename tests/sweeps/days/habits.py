"""What no lead does though the order of the trade would allow it: named by one who read such days.

- Paint or rows are begun while the old floor still comes out beside them, or beneath them.
- Leveler that could be poured on the day of the tear-out, to cure overnight, waits behind others.
- The crew goes back to a story's tear-out that it had left for another's; two floors lie half done
  over days off though the first could have been finished.
- Work of a room is on no day; a room that somebody lives by is opened before days nobody comes.
- The lead drives to the dump or carries while others lay; one person carries alone; somebody stands
  idle beside work that has room for one more.
- A pour is left half done overnight; who is alone drives to the dump before it.
- Everybody goes home while old floor, undercut or prep is left that the rest of the day holds.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import groupby, pairwise
from math import ceil

from tests.sweeps.days.held import Day, RoomOf, TimeOn
from tests.sweeps.days.house import unkind_to_the_house
from tests.sweeps.days.laid_days import A_DAY, FLOOR_WIDE, LaidDays
from tests.sweeps.days.order import ROOMY, kind

DUST = ("tear_out", "undercut", "prep")
CAN_WAIT = ("paint", "lay", "stairs", "transitions", "base", "shoe", "doors_on", "back")
"""What is not before any leveler: a pour does not wait behind it."""
LONE = ("out", "back", "carry", "stairs")
A_HALF = 30
MOST_TURNS = 5
"""How often at most somebody changes the story on a day: thrice to what dried there or is ready for
its leveler, and back."""


def bad_habits(days: LaidDays) -> Iterator[str]:
    """Yield what nobody does so."""
    yield from _dust(days)
    yield from _pours(days)
    yield from _split_pours(days)
    yield from _stories(days)
    yield from _half_laid(days)
    yield from _vanished(days)
    yield from _opened_for_nobody(days)
    yield from _hands(days)
    yield from _idle(days)
    yield from _home_early(days)
    yield from unkind_to_the_house(days)


def _dust(days: LaidDays) -> Iterator[str]:
    """Paint above dust in its own room; paint or rows before the floor's tear-out is over."""
    for room in days.facts.rooms:
        painted = min((s.begins for s in days._in_room("paint", room)), default=None)
        for name in DUST:
            for spell in days._in_room(name, room):
                if painted is not None and spell.ends > painted:
                    yield f"dust: {name} in {room.name} when its paint is begun, {spell}"
    for floor in days.facts.rows:
        rooms = [r for r in days.facts.rooms if r.floor == floor and not r.use]
        clean = [
            s for name in ("paint", "lay") for s in days.by_kind[name] if s.stroke.floor == floor
        ]
        begun = min(s.begins for s in clean)
        for room in rooms:
            for spell in days._in_room("tear_out", room):
                if spell.ends > begun:
                    yield f"dust: the old floor of {room.name} comes out beside clean work, {spell}"


def _pours(days: LaidDays) -> Iterator[str]:
    """Leveler does not wait for a later day while the crew is at what could wait instead."""
    for room in days.facts.rooms:
        torn, poured = days._in_room("tear_out", room), days._in_room("level", room)
        if not torn or not poured:
            continue
        out = max(s.ends for s in torn)
        day, last = out // A_DAY, max(s.ends for s in poured)
        if last // A_DAY == day:
            continue
        needed = sum(
            s.ends - s.begins
            for name in ("undercut", "prep", "level")
            for s in days._in_room(name, room)
        )
        instead = sum(
            s.ends - max(s.begins, out)
            for name in CAN_WAIT
            for s in days.by_kind[name]
            if s.begins // A_DAY == day and s.ends > out and not _presses(days, s.stroke, day)
        )
        left = max(s.ends for s in days.spells if s.begins // A_DAY == day) - out
        if instead >= needed and left >= _one_after_another(days, room):
            yield f"pour: {room.name} is leveled a day late, {instead} min of that day could wait"


def _split_pours(days: LaidDays) -> Iterator[str]:
    """A room's leveler is poured on one day, where one day holds it; by one alone before the run.

    The load of an earlier day goes first, and so does that of today where a pour leaves no time for
    the run.
    """
    alone = len(days.facts.crew) == 1
    runs = [s for s in days.by_kind["dump_run"] if alone]
    torn = max((s.ends for s in days.by_kind["tear_out"]), default=0)
    for room in days.facts.rooms:
        poured = days._in_room("level", room)
        dates = {s.begins // A_DAY for s in poured}
        long = sum(s.ends - s.begins for s in poured) > days.clock.halves * A_HALF
        if len(dates) > 1 and not long:
            yield f"pour: {room.name} is leveled half on one day, half on another"
        for run in runs:
            if run.begins // A_DAY != torn // A_DAY or not poured:
                continue
            ready = days._in_room("prep", room) or days._in_room("tear_out", room)
            closes = days.facts.starts * 60 + _leg(days) + days.clock.halves * A_HALF
            both = run.ends + poured[0].ends - poured[0].begins
            if both - run.begins // A_DAY * A_DAY > closes:
                continue
            if max((s.ends for s in ready), default=A_DAY * 999) <= run.begins < poured[0].begins:
                yield f"pour: the dump comes before the leveler of {room.name}, {run}"


def _one_after_another(days: LaidDays, room: RoomOf) -> int:
    """Minutes on the clock from a bare subfloor to its leveler, with as many as find room."""
    minutes = 0
    for name in ("undercut", "prep", "level"):
        spent = sum(s.ends - s.begins for s in days._in_room(name, room)) // A_HALF
        minutes += -(-spent // min(len(days.facts.crew), ROOMY.get(name, 2))) * A_HALF
    return minutes


def _presses(days: LaidDays, stroke: TimeOn, day: int) -> bool:
    """Whether work is for a room that somebody waits to live in: in it, or rows on its floor."""
    today = days.facts.first + timedelta(days=day)
    for room in days.facts.rooms:
        opened = days._opened(room) if room.use else None
        if opened is None or not opened <= today <= days._closed(room):
            continue
        if room.name in stroke.rooms or (stroke.work == "lay" and stroke.floor == room.floor):
            return True
    return False


def _stories(days: LaidDays) -> Iterator[str]:
    """Tear-out that is begun on a story goes on there, but in rooms lived in; nobody runs about.

    Where a room that somebody lives by is open, all is left for it.
    """
    lived_in = {room.name for room in days.facts.rooms if room.use}
    torn: dict[int, dict[str, int]] = {}
    for s in days.by_kind["tear_out"]:
        if not lived_in.intersection(s.stroke.rooms):
            of_day = torn.setdefault(s.begins // A_DAY, dict.fromkeys(days.facts.rows, 0))
            of_day[s.stroke.floor] += s.ends - s.begins
    mostly = [max(of_day, key=of_day.__getitem__) for _, of_day in sorted(torn.items())]
    floors = [floor for floor, _ in groupby(mostly)]
    if len(floors) > len(set(floors)):
        yield f"stories: tear-out goes from {' to '.join(floors)}, day after day"
    for day in days.laid.days:
        if any(lived_in.intersection(s.rooms) for s in day.strokes):
            continue
        for worker in days.facts.crew:
            busy = [s for s in day.strokes if s.person == worker.name and s.floor]
            floors = [floor for floor, _ in groupby(busy, key=lambda s: s.floor)]
            if len(floors) > MOST_TURNS + 1:
                yield f"stories: {worker.name} goes {' to '.join(floors)} on {day.date}"


def _half_laid(days: LaidDays) -> Iterator[str]:
    """Over days off one floor is left half laid at most, where the first could go on.

    Rows of a room that somebody waits to live in go before those of others.
    """
    laid = days.laid.days
    for day, following in pairwise(laid):
        off = [d for d in days._between(day.date, following.date) if not days.clock.works(d)]
        if not off:
            continue
        begun = {
            floor: min(s.begins for s in days.by_kind["lay"] if s.stroke.floor == floor)
            for floor in days.facts.rows
            if 0 < _last_row(days, floor, day.date) < days.facts.rows[floor]
        }
        floors = sorted(begun, key=begun.__getitem__)
        for first, second in pairwise(floors):
            rows = next(
                s.stroke
                for s in days.by_kind["lay"]
                if s.stroke.floor == second and s.begins == begun[second]
            )
            pressing = _presses(days, rows, begun[second] // A_DAY)
            if not pressing and not _is_held(days, first, begun[second]):
                yield f"half laid: {first} and {second} over {off[0]}"


def _last_row(days: LaidDays, floor: str, until: date) -> int:
    rows = [
        line.rows[1]
        for day in days.laid.days
        if day.date <= until
        for line in day.lines
        if (line.work, line.floor) == ("lay", floor) and line.rows
    ]
    return max(rows, default=0)


def _is_held(days: LaidDays, floor: str, moment: int) -> bool:
    """Whether something of a floor that comes before its rows is not done or dry at a moment."""
    waits = {"level": days.facts.cure, "paint": days.facts.dry}
    for room in days.facts.rooms:
        if room.floor != floor:
            continue
        for name in ("out", "doors_off", *DUST, *waits):
            ends = (s.ends + waits.get(name, 0) * 60 for s in days._in_room(name, room))
            if any(end > moment for end in ends):
                return True
    return False


def _vanished(days: LaidDays) -> Iterator[str]:
    """Whatever a room has hours for is done in it on some day."""
    for room in days.facts.rooms:
        for work, hours in room.hours.items():
            if work == "dispose" or not hours:
                continue
            for one in ("out", "back") if work == "furniture" else (work,):
                if not any(room.name in s.stroke.rooms for s in days.by_kind[one]):
                    yield f"vanished: {one} of {room.name}, {hours} h, is on no day"


def _opened_for_nobody(days: LaidDays) -> Iterator[str]:
    """A room that somebody lives by is not opened to stand there while nobody comes.

    What dries in it is its own wait; where the nights over days off were agreed, at least two hours
    are worked in it before them.
    """
    here = {day.date for day in days.laid.days}
    for room in days.facts.rooms:
        opened = days._opened(room)
        if not room.use or opened is None or room.name not in days.facts.agreed:
            continue
        gone = opened + timedelta(days=1)
        if gone in here or gone > days._closed(room):
            continue
        if days.clock.works(gone) and not room.cures:
            yield f"dead days: {room.use} {room.name} is opened {opened}, nobody comes on {gone}"
        elif not days.clock.works(gone) and _worked_in(days, room, opened) < 120:
            yield f"dead days: {room.use} {room.name} is opened {opened} for little"


def _worked_in(days: LaidDays, room: RoomOf, day: date) -> int:
    """Minutes that people work in a room on a day, its rows left out."""
    of_day = next(d for d in days.laid.days if d.date == day)
    return sum(s.ends - s.begins for s in of_day.strokes if room.name in s.rooms)


def _hands(days: LaidDays) -> Iterator[str]:
    """Who carries has somebody at the other end, and the lead is where rows go down."""
    if len(days.facts.crew) < 2:
        return
    lead = days.facts.crew[0].name
    for name in LONE:
        for spell in days.by_kind[name]:
            for at in range(spell.begins, spell.ends, A_HALF):
                if not any(
                    s.stroke.person != spell.stroke.person and s.begins <= at < s.ends
                    for s in days.by_kind[name]
                ):
                    yield f"alone: {spell.stroke.person} is alone at {name}, {spell}"
                    break
    for name in ("dump_run", "carry"):
        for spell in days.by_kind[name]:
            others = [
                s
                for s in days.by_kind["lay"]
                if s.begins < spell.ends and spell.begins < s.ends and s.stroke.person != lead
            ]
            if spell.stroke.person == lead and others:
                yield f"lead: {lead} is at {name} while {others[0].stroke.person} lays"


def _idle(days: LaidDays) -> Iterator[str]:
    """Nobody stands idle for an hour beside work that has room for one more and goes on.

    Who does not come on a day of nothing but paint that one person does stands nowhere.
    """
    for day in days.laid.days:
        opens = min(s.begins for s in day.strokes)
        closes = max(s.ends for s in day.strokes)
        done = {(s.person, s.work) for s in day.strokes}
        for worker in days.facts.crew:
            busy = [s for s in day.strokes if s.person == worker.name]
            if not busy and len(done) == 1 and day.strokes[0].work == "paint":
                continue
            for at in range(opens, closes - A_HALF, A_HALF):
                if any(s.begins <= one < s.ends for s in busy for one in (at, at + A_HALF)):
                    continue
                if (work := _has_room(day.strokes, at)) is not None:
                    yield f"idle: {worker.name} on {day.date} beside {work}"
                    break


def _has_room(strokes: tuple[TimeOn, ...], at: int) -> str | None:
    """Return work that could take one more for an hour: nobody leaves it for that long."""
    teams: dict[tuple[str, str, str], list[TimeOn]] = {}
    for s in strokes:
        if s.begins <= at < s.ends:
            teams.setdefault((kind(s.work, s.part), s.floor, s.room), []).append(s)
    for (name, _, room), team in teams.items():
        left = sum(s.ends - at for s in team) // A_HALF
        if name in (*LONE, "dump_run") or name in FLOOR_WIDE or left < 2 * len(team) + 2:
            continue
        if len(team) < ROOMY.get(name, 2):
            return f"{name} {room}"
    return None


def _home_early(days: LaidDays) -> Iterator[str]:
    """Nobody goes home before the day is over who begins the next with dust as it was.

    What was begun the next morning, waited for nothing that dries and fits into the hours left is
    meant, with a run to the dump where old floor comes out on a day that has none; not in rooms
    that somebody lives by, nor where the next day would be under two hours.
    """
    lived_in = {room.name for room in days.facts.rooms if room.use}
    for day, following in pairwise(days.laid.days):
        opens = min(s.begins for s in following.strokes)
        shorter = max(s.ends for s in following.strokes) - opens
        closes = days.facts.starts * 60 + _leg(days) + days.clock.halves * A_HALF
        gone = closes - max(s.ends for s in day.strokes)
        for s in following.strokes:
            if kind(s.work, s.part) not in DUST or s.begins > opens:
                continue
            takes = s.ends - s.begins + (_a_run(days, day) if s.work == "tear_out" else 0)
            if lived_in.intersection(s.rooms) or takes > gone:
                continue
            if shorter - (s.ends - s.begins) >= 120:
                yield f"home early: {gone} min of {day.date} are left, {s.work} in {s.room} waits"


def _a_run(days: LaidDays, day: Day) -> int:
    """Minutes of a run to the dump; none where the truck leaves on this day anyhow."""
    runs = [s.ends - s.begins for s in days.by_kind["dump_run"]]
    return 0 if any(s.work == "dump_run" for s in day.strokes) else min(runs, default=0)


def _leg(days: LaidDays) -> int:
    """Minutes of the drive out, to the quarter of an hour."""
    return ceil(days.facts.drive / len(days.facts.crew) / 2 * 4) * 15
