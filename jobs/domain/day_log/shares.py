"""The hours of a day as planned, shared among its people in quarter hours."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

QUARTER = Decimal("0.25")


@dataclass(frozen=True, kw_only=True, slots=True)
class Stint:
    """What one person is at on a day as planned: a task by its key, and how long."""

    person: str
    task: str
    hours: Decimal


def shares(stints: Iterable[Stint], people: int) -> dict[tuple[str, int], Decimal]:
    """Return the hours by task and place of the person, as the day's lanes have them.

    More names than there are people go round; a person too many has nothing.
    """
    order: dict[str, int] = {}
    hours: dict[tuple[str, int], Decimal] = defaultdict(Decimal)
    for stint in stints:
        place = order.setdefault(stint.person, len(order))
        hours[stint.task, place % max(people, 1)] += stint.hours
    return dict(hours)


def equal_shares(hours: Mapping[str, Decimal], people: int) -> dict[tuple[str, int], Decimal]:
    """Return hours by task and person where nobody says who does what: alike, in quarters.

    Quarters over go to those who have the least so far, so that a day ends for all together.
    """
    count = max(people, 1)
    load = [0] * count
    out: dict[tuple[str, int], Decimal] = {}
    for task, amount in hours.items():
        for place, quarters in enumerate(_split(_quarters(amount), load)):
            load[place] += quarters
            if quarters:
                out[task, place] = quarters * QUARTER
    return out


def _quarters(hours: Decimal) -> int:
    return int((hours / QUARTER).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def _split(quarters: int, load: Sequence[int]) -> list[int]:
    each, over = divmod(quarters, len(load))
    least = sorted(range(len(load)), key=lambda place: (load[place], place))[:over]
    return [each + (place in least) for place in range(len(load))]
