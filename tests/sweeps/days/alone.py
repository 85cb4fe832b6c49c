"""Whether a lived-in room can be whole again between days off: how many days it takes alone.

Reckoned long, as a crew could do it that has nothing else: one kind of work after another, the dump
run driven before anybody goes on, the floor before it laid and its cartons in. If that fits between
two days off, the rules hold the room to such days. Rooms that share rows are taken as one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from math import ceil

from tests.sweeps.days.held import Facts, RoomOf
from tests.sweeps.days.laid_days import PAIRED
from tests.sweeps.days.order import ROOMY, Clock

FORTNIGHT = 14
MONDAY = date(2027, 1, 4)


def may_be_whole_in_time(facts: Facts, room: RoomOf, opened: date) -> bool:
    """Whether it fits between two days off, somewhere in the fortnight after it is opened.

    A room that is opened on the first day of the longest stretch has no better day.
    """
    clock = Clock(facts)
    runs = [_run(clock, opened + timedelta(days=later)) for later in range(FORTNIGHT)]
    first_of_best = not clock.works(opened - timedelta(days=1)) and runs[0] == max(runs)
    return days_alone(facts, room) <= max(runs) and not first_of_best


def most_halves(facts: Facts, room: RoomOf, kind: str) -> int:
    """The most half hours that a kind of work is booked with in a room."""
    furniture = kind in ("out", "back")
    work = "furniture" if furniture else kind
    hours = room.hours.get(work, Decimal(0)) / (2 if furniture else 1)
    shared = sum(work in r.hours for r in facts.rooms if r.floor == room.floor) > 1
    odd = work in PAIRED and len(facts.crew) > 1
    return ceil(hours * 2) + (shared or odd) if hours else 0


def days_alone(facts: Facts, room: RoomOf) -> int:
    """The days that a crew takes for a room that has nothing else to do."""
    rooms = _sharing_rows(facts, room)
    clock = Clock(replace(facts, first=MONDAY, holidays=frozenset()))

    def after(begins: float, *kinds: str) -> float:
        for kind in kinds:
            hands = min(len(facts.crew), ROOMY.get(kind, 2))
            halves = sum(ceil(most_halves(facts, one, kind) / hands) for one in rooms)
            begins = clock.ends(begins, halves)
        return begins

    now = after(0.0, "out", "fixtures_off", "base_off", "doors_off", "tear_out", "dispose")
    run = sum(ceil(hours * 2) for (work, _), hours in facts.hours.items() if work == "dump_run")
    home = clock.ends(now, run)
    if home // 24 != now // 24:
        home = clock.ends((now // 24 + 1) * 24, run + 1)
    prepared = after(home, "undercut", "prep")
    leveled = after(prepared, "level")
    bears = leveled + facts.bears if leveled > prepared else leveled
    painted = after(bears, "paint")
    dry = max(painted + facts.dry if painted > bears else 0.0, leveled)
    dry = max(dry, leveled + facts.cure if leveled > prepared else 0.0)
    laid = clock.ends(dry, _laying(facts, rooms))
    done = after(laid, "transitions", "base", "shoe", "fixtures_on", "back", "doors_on")
    return int((done - 0.01) // 24) + 1


def _laying(facts: Facts, rooms: Iterable[RoomOf]) -> int:
    """Half hours on the clock for the rows of these rooms, pad and a row that ends late too."""
    floor = next(iter(rooms)).floor
    rows = {row for one in rooms for row in range(one.rows[0], one.rows[1] + 1)}
    share = Decimal(len(rows)) / facts.rows[floor]
    laid = sum((facts.by_row[floor][row - 1] for row in rows), Decimal(0))
    laid += facts.hours.get(("underlay", floor), Decimal(0)) * share
    alone = len(rows) == facts.rows[floor]
    halves = ceil(laid * 2) + (1 if alone else 2)
    return ceil(halves / min(len(facts.crew), ROOMY["lay"])) + (not alone)


def _sharing_rows(facts: Facts, room: RoomOf) -> list[RoomOf]:
    """The lived-in rooms that are open together, since their rows run through."""
    inside, grown = [room], True
    while grown:
        more = [
            one
            for one in facts.rooms
            if one.use and one.floor == room.floor and one not in inside
            if any(one.rows[0] <= r.rows[1] and r.rows[0] <= one.rows[1] for r in inside)
        ]
        inside, grown = inside + more, bool(more)
    return inside


def _run(clock: Clock, day: date) -> int:
    length = 0
    while clock.works(day + timedelta(days=length)) and length < FORTNIGHT:
        length += 1
    return length
