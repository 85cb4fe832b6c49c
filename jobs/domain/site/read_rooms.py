"""Which room of a job a moisture reading was taken in, by the words it was noted with. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.domain.site.moisture import METHODS, Reading


def rooms_read(names: Sequence[str], readings: Sequence[Reading]) -> list[tuple[Reading, ...]]:
    """Return the readings of each of these rooms, by method and the highest first.

    A reading is a room's where its words name that room, the longest name first: "bath upstairs" is
    not "bath". In a job of one room all are that room's. One that names no room is nobody's.
    """
    order = list(METHODS)
    of_room: list[list[Reading]] = [[] for _ in names]
    longest_first = sorted(range(len(names)), key=lambda place: -len(names[place]))
    for reading in readings:
        words = reading.where.casefold()
        named = (place for place in longest_first if names[place].casefold() in words)
        place = 0 if len(names) == 1 else next(named, None)
        if place is not None:
            of_room[place].append(reading)
    return [
        tuple(sorted(of_one, key=lambda one: (order.index(one.method), -one.value)))
        for of_one in of_room
    ]
