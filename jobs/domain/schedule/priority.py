"""Which of the steps that are ready is taken first: orders in which a lead may go through a house.

The first is how the trade does it: all that makes dust, story by story, with the leveler poured as
soon as its room is ready for it; then what is painted, then rows, then what comes after them. The
others are tried where they end a job sooner. Rooms that somebody lives by are torn out last.
"""

from collections.abc import Mapping, Sequence

from jobs.domain.days.critical_path import in_working_order
from jobs.domain.schedule.halves import QUARTERS_A_HALF
from jobs.domain.schedule.step import Step
from jobs.domain.schedule.trade import LIVED_IN, OUT, READY_FOR_ROWS, phase_of


def by_urgency(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Return the steps as the trade goes through a house."""
    return orders_of(steps)[0]


def orders_of(steps: Sequence[Step], *, carried_first: bool = True) -> tuple[tuple[Step, ...], ...]:
    """Return the steps in each of the orders, the one to be preferred first.

    Flooring is `carried_first`, or where it need not lie in the room comes in before its rows.
    Within a phase and a story those with the longest way to the end
    come first, waits included, so that what must dry is done early and nobody waits for it late.
    """
    tails = tails_of(steps)
    story = _stories(steps, tails)
    phase = {step.key: _phase(step, () if carried_first else steps) for step in steps}
    room = _rooms(steps, phase, tails)
    urgency = {step.key: (step.part != OUT, room[step.key], -tails[step.key]) for step in steps}
    alone = {step.key: (step.part != OUT, -tails[step.key]) for step in steps}
    made = (
        sorted(steps, key=lambda s: (phase[s.key], story[s.task.zone], *urgency[s.key])),
        sorted(steps, key=lambda s: (phase[s.key], story[s.task.zone], *alone[s.key])),
        sorted(steps, key=lambda s: (story[s.task.zone], *urgency[s.key])),
        sorted(steps, key=lambda s: _dust_first(phase[s.key], story[s.task.zone], urgency[s.key])),
    )
    return tuple(tuple(order) for place, order in enumerate(made) if order not in made[:place])


def _rooms(
    steps: Sequence[Step], phase: Mapping[str, int], tails: Mapping[str, int]
) -> dict[str, int]:
    """Return how a step stands by its room: the one with the longest way to the end first.

    So a room that must dry is torn out, leveled and painted before others, each at one go. Of the
    phases after the dust, and of what is in no room, each step stands alone.
    """
    longest: dict[tuple[str, str], int] = {}
    for step in steps:
        for room in step.rooms:
            place = step.task.zone, room
            longest[place] = max(longest.get(place, 0), tails[step.key])
    return {
        step.key: -max(
            (longest[step.task.zone, room] for room in step.rooms if phase[step.key] <= LIVED_IN),
            default=tails[step.key],
        )
        for step in steps
    }


def _dust_first(
    phase: int, story: int, urgency: tuple[bool, int, int]
) -> tuple[int, int, bool, int, int]:
    """Return how a step stands where only what makes dust goes story by story."""
    return (1, 0, False, 0, urgency[2]) if phase else (0, story, *urgency)


def tails_of(steps: Sequence[Step]) -> dict[str, int]:
    """Return by step the quarters of an hour from its beginning to the end at the least."""
    by_key = {step.key: step for step in steps}
    tails = dict.fromkeys(by_key, 0)
    for key in reversed(in_working_order({step.key: step.waits_for for step in steps})):
        step = by_key[key]
        tails[step.key] += -(-step.halves // step.most) * QUARTERS_A_HALF + step.wait
        for other in step.waits_for:
            tails[other] = max(tails[other], tails[key])
    return tails | _strips_first(steps, tails) | _loads_first(steps, tails)


def _loads_first(steps: Sequence[Step], tails: Mapping[str, int]) -> dict[str, int]:
    """Return tails of what is loaded, before all that is done at the site."""
    site = max((tails[step.key] for step in steps if step.task.code == "setup"), default=0)
    loads = (step.key for step in steps if step.task.code == "load")
    return {key: max(tails[key], site + 1) for key in loads} if site else {}


def _strips_first(steps: Sequence[Step], tails: Mapping[str, int]) -> dict[str, int]:
    """Return tails of strips, just before the base of their rooms: one sets them, others nail."""
    base: dict[tuple[str, str], int] = {}
    for step in steps:
        for room in step.rooms if step.task.code == "base" else ():
            place = step.task.zone, room
            base[place] = max(base.get(place, 0), tails[step.key])
    return {
        step.key: max(
            tails[step.key], *(base.get((step.task.zone, room), 0) + 1 for room in step.rooms)
        )
        for step in steps
        if step.task.code == "transitions" and step.rooms
    }


def _stories(steps: Sequence[Step], tails: Mapping[str, int]) -> dict[str, int]:
    """Return the place of each story: the one that takes longest first, the house before all."""
    longest: dict[str, int] = {}
    for step in steps:
        zone = step.task.zone
        longest[zone] = max(longest.get(zone, 0), tails[step.key])
    stories = sorted((zone for zone in longest if zone), key=lambda zone: -longest[zone])
    return {"": 0} | {zone: number for number, zone in enumerate(stories, start=1)}


def _phase(step: Step, among: Sequence[Step]) -> int:
    """Return the phase of a step; cartons that need not lie in the room come in before its rows.

    `among` are the steps where they do so; nothing where they come in as soon as may be.
    """
    if step.task.code != "carry":
        phase = phase_of(step.task.code, step.part)
        return phase or (LIVED_IN if step.use else 0)
    lies = any(step.key in other.waits_for and other.wait for other in among)
    return 0 if lies or not among else READY_FOR_ROWS
