"""The hours of a day as planned, shared among its people in quarter hours.

What a day was counted at is exact, and it is laid onto the day in half hours. A log as planned is
filled with the exact hours: with the half hours every job would seem to have taken longer than it
was priced at, and rates that learn from logs would climb from job to job. A quarter that rounding
keeps back goes to the next task, so that a day's sum is right to an eighth of an hour.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from jobs.domain.checks import ZERO

QUARTER = Decimal("0.25")
Shares = Mapping[tuple[str, int], Decimal]


@dataclass(frozen=True, kw_only=True, slots=True)
class Stint:
    """What one person is at on a day as planned: a task by its key, and how long."""

    person: str
    task: str
    hours: Decimal


def lane_shares(stints: Iterable[Stint], people: int) -> dict[tuple[str, int], Decimal]:
    """Return the hours by task and place of the person, as the day's lanes have them.

    More names than there are people go round; a person too many has nothing.
    """
    order: dict[str, int] = {}
    hours: dict[tuple[str, int], Decimal] = defaultdict(Decimal)
    for stint in stints:
        place = order.setdefault(stint.person, len(order))
        hours[stint.task, place % max(people, 1)] += stint.hours
    return dict(hours)


def planned_shares(
    hours: Mapping[str, Decimal], lanes: Shares, people: int
) -> dict[tuple[str, int], Decimal]:
    """Return the exact hours of each task in quarters by person: as the lanes have it, or alike.

    ``hours`` by the key of the task, in the order of the day.
    """
    count, kept_back = max(people, 1), ZERO
    load = [0] * count
    out: dict[tuple[str, int], Decimal] = {}
    for task, exact in hours.items():
        quarters = int(((exact + kept_back) / QUARTER).quantize(Decimal(1), ROUND_HALF_UP))
        kept_back += exact - quarters * QUARTER
        weights = [lanes.get((task, place), ZERO) for place in range(count)]
        for place, each in enumerate(_split(quarters, weights, load)):
            load[place] += each
            if each:
                out[task, place] = each * QUARTER
    return out


def _split(quarters: int, weights: Sequence[Decimal], load: Sequence[int]) -> list[int]:
    """Return quarters by person after their weights; those over go to who is shortest of theirs.

    Between two alike the one with the shorter day so far.
    """
    whole = sum(weights, ZERO)
    due = [quarters * (w / whole if whole else Decimal(1) / len(weights)) for w in weights]
    parts = [int(each) for each in due]
    over = quarters - sum(parts)
    short = sorted(range(len(due)), key=lambda i: (parts[i] - due[i], load[i], i))
    return [part + (place in short[:over]) for place, part in enumerate(parts)]
