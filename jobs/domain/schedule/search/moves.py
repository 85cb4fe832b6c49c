"""Orders of work that differ a little from another: a room or a kind of work comes sooner."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import gcd

from jobs.domain.schedule.planning import Setting
from jobs.domain.schedule.step import Step
from jobs.domain.schedule.trade import BY_ROOM, PHASES, phase_of

BEGINS = frozenset({"pick_up", "load", "setup"})
"""What every job begins with."""

Move = tuple[tuple[int, ...], int]
"""The places of steps in an order, and the place among the others that they go to."""


def near(setting: Setting) -> Iterator[Setting]:
    """Yield the setting with its steps in every order that differs by one move, each once.

    A room comes before or after another one, or one kind of work before another.
    Moves that resemble each other are far apart, so that the first ten are of every kind.
    """
    tried = {tuple(range(len(setting.steps)))}
    for places, to in _spread((*_of_rooms(setting.steps), *_of_works(setting.steps))):
        rest = [place for place in range(len(setting.steps)) if place not in places]
        order = (*rest[:to], *places, *rest[to:])
        if order not in tried:
            tried.add(order)
            yield replace(setting, steps=tuple(setting.steps[place] for place in order))


def _spread(moves: Sequence[Move]) -> Iterator[Move]:
    """Yield all moves, those that stand beside each other far apart."""
    stride = max(1, round(len(moves) * 0.618))
    while gcd(stride, len(moves)) > 1:
        stride += 1
    for number in range(len(moves)):
        yield moves[number * stride % len(moves)]


def _of_rooms(steps: Sequence[Step]) -> Iterator[Move]:
    """Yield what goes on in a room up to its paint, before or after that of another room."""
    rooms = dict.fromkeys((step.task.zone, room) for step in steps for room in step.rooms)
    work = {room: _before_rows(steps, *room) for room in rooms}
    for mine in work.values():
        for other in work.values():
            if mine and other and mine != other:
                yield mine, sum(place not in mine for place in range(other[0]))
                yield mine, sum(place not in mine for place in range(other[-1] + 1))


def _before_rows(steps: Sequence[Step], zone: str, room: str) -> tuple[int, ...]:
    return tuple(
        place
        for place, step in enumerate(steps)
        if step.task.zone == zone
        and room in step.rooms
        and step.task.code in BY_ROOM
        and phase_of(step.task.code, step.part) <= PHASES["paint"]
    )


def _of_works(steps: Sequence[Step]) -> Iterator[Move]:
    """Yield all of one kind of work, before all of another; a job begins as it always does."""
    works: dict[tuple[str, str], tuple[int, ...]] = {}
    for place, step in enumerate(steps):
        if step.task.code not in BEGINS:
            work = step.task.code, step.part
            works[work] = (*works.get(work, ()), place)
    for mine in works.values():
        for other in works.values():
            if mine != other:
                yield mine, sum(place not in mine for place in range(other[0]))
