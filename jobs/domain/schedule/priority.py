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
    made = (
        sorted(steps, key=lambda s: (phase[s.key], story[s.task.zone], *_urgency(s, tails))),
        sorted(steps, key=lambda s: (story[s.task.zone], *_urgency(s, tails))),
        sorted(steps, key=lambda s: _dust_first(s, phase[s.key], story[s.task.zone], tails)),
    )
    return tuple(tuple(order) for place, order in enumerate(made) if order not in made[:place])


def _urgency(step: Step, tails: Mapping[str, int]) -> tuple[bool, int]:
    """Return how a step stands in its story: all furniture out first, while two are together."""
    return step.part != OUT, -tails[step.key]


def _dust_first(
    step: Step, phase: int, story: int, tails: Mapping[str, int]
) -> tuple[int, int, bool, int]:
    """Return how a step stands where only what makes dust goes story by story."""
    away, urgency = _urgency(step, tails)
    return (0, story, away, urgency) if not phase else (1, 0, False, urgency)


def tails_of(steps: Sequence[Step]) -> dict[str, int]:
    """Return by step the quarters of an hour from its beginning to the end at the least."""
    by_key = {step.key: step for step in steps}
    tails = dict.fromkeys(by_key, 0)
    for key in reversed(in_working_order({step.key: step.waits_for for step in steps})):
        step = by_key[key]
        tails[step.key] += -(-step.halves // step.most) * QUARTERS_A_HALF + step.wait
        for other in step.waits_for:
            tails[other] = max(tails[other], tails[key])
    return tails


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
