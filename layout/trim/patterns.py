"""Ways to cut one stick: exact knapsacks and lists of patterns, all in whole numbers.

A stick of length S holds pieces while their lengths and the kerfs between them fit. With the kerf
added to every piece and once to the stick, that is a plain knapsack: sum of sizes <= capacity.
A *pattern* is a tuple with one count for each size.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from layout.trim.patience import FOREVER, OutOfTimeError, Patience

Pattern = tuple[int, ...]
Whole = NDArray[np.int64]

MOST_ENTRIES = 1_000_000  # of one front: beyond them the knapsack is given up
_STEPS_BETWEEN = 500  # steps of a list of patterns between two questions whether to stop


class TooManyError(Exception):
    """More patterns than the caller asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """The best value of the sizes from one index on, for every weight: both rise together."""

    weights: Whole
    values: Whole

    def best(self, room: int) -> int:
        """Return the most value that fits into ``room``."""
        return int(self.values[np.searchsorted(self.weights, room, side="right") - 1])


def fronts(
    sizes: Sequence[int],
    limits: Sequence[int],
    values: Sequence[int],
    capacity: int,
    patience: Patience = FOREVER,
) -> list[Front]:
    """Return for every index i the front of sizes[i:], and an empty front at the end.

    Raises OutOfTimeError where one grows beyond its limit.
    """
    front = Front(weights=np.zeros(1, dtype=np.int64), values=np.zeros(1, dtype=np.int64))
    made = [front]
    for size, limit, value in reversed(list(zip(sizes, limits, values, strict=True))):
        for copies in _shares(min(limit, capacity // size)):
            front = _with(front, size * copies, value * copies, capacity)
            patience.check()
            if len(front.weights) > MOST_ENTRIES:
                raise OutOfTimeError
        made.append(front)
    return made[::-1]


def _shares(count: int) -> Iterator[int]:
    """Yield parts (1, 2, 4, ..., rest) from which every number up to ``count`` can be summed."""
    part = 1
    while count > 0:
        yield min(part, count)
        count -= part
        part *= 2


def _with(front: Front, weight: int, value: int, capacity: int) -> Front:
    """Return the front with one more thing to take or leave."""
    fits = front.weights <= capacity - weight
    weights = np.concatenate([front.weights, front.weights[fits] + weight])
    values = np.concatenate([front.values, front.values[fits] + value])
    order = np.lexsort((-values, weights))
    weights, values = weights[order], values[order]
    best = np.maximum.accumulate(values)
    rises = np.concatenate([[True], best[1:] > best[:-1]])
    return Front(weights=weights[rises], values=values[rises])


def best_pattern(
    sizes: Sequence[int],
    limits: Sequence[int],
    values: Sequence[int],
    capacity: int,
    patience: Patience = FOREVER,
) -> tuple[int, Pattern]:
    """Return the greatest value that one stick can hold, and a pattern that has it."""
    table = fronts(sizes, limits, values, capacity, patience)
    total = table[0].best(capacity)
    room, need, pattern = capacity, total, []
    for i, (size, limit, value) in enumerate(zip(sizes, limits, values, strict=True)):
        count = 0
        while table[i + 1].best(room) < need and count < limit:
            count, room, need = count + 1, room - size, need - value
        pattern.append(count)
    return total, tuple(pattern)


def patterns_worth(
    sizes: Sequence[int],
    limits: Sequence[int],
    values: Sequence[int],
    capacity: int,
    *,
    least: int,
    most_patterns: int,
    patience: Patience = FOREVER,
) -> list[Pattern]:
    """Return every pattern worth at least ``least`` to which nothing can be added.

    Raises TooManyError past ``most_patterns``.
    """
    table = fronts(sizes, limits, values, capacity, patience)
    patterns: list[Pattern] = []
    chosen: list[int] = []
    steps = 0

    def descend(index: int, room: int, need: int) -> None:
        nonlocal steps
        steps += 1
        if steps % _STEPS_BETWEEN == 0:
            patience.check()
        if table[index].best(room) < need:
            return
        if index == len(sizes):
            if not _room_for_more(sizes, limits, chosen, room):
                patterns.append(tuple(chosen))
                if len(patterns) > most_patterns:
                    raise TooManyError
            return
        size, value = sizes[index], values[index]
        for count in range(min(limits[index], room // size), -1, -1):
            chosen.append(count)
            descend(index + 1, room - count * size, need - count * value)
            chosen.pop()

    descend(0, capacity, least)
    return patterns


def _room_for_more(
    sizes: Sequence[int], limits: Sequence[int], chosen: Sequence[int], room: int
) -> bool:
    """Whether one more piece fits."""
    return any(
        size <= room and count < limit
        for size, limit, count in zip(sizes, limits, chosen, strict=True)
    )


def all_patterns(
    sizes: Sequence[int],
    limits: Sequence[int],
    capacity: int,
    *,
    most_patterns: int,
    patience: Patience = FOREVER,
) -> list[Pattern]:
    """Return every pattern that fits, the empty one too. Raises TooManyError past the limit."""
    patterns: list[tuple[Pattern, int]] = [((), 0)]  # and what each uses of the stick
    for size, limit in zip(sizes, limits, strict=True):
        patience.check()
        longer: list[tuple[Pattern, int]] = []
        for pattern, used in patterns:
            most = min(limit, (capacity - used) // size)
            longer.extend(((*pattern, count), used + count * size) for count in range(most + 1))
            if len(longer) > most_patterns:
                raise TooManyError
        patterns = longer
    return [pattern for pattern, _ in patterns]


def first_fit(
    sizes: Sequence[int],
    counts: Sequence[int],
    capacity: int,
    patience: Patience = FOREVER,
) -> list[Pattern]:
    """Return the patterns of first-fit decreasing; ``sizes`` fall.

    Pieces of one size fill stick after stick as far as each goes, as they would one by one.
    """
    rooms: list[int] = []
    sticks: list[list[int]] = []
    for index, (size, count) in enumerate(zip(sizes, counts, strict=True)):
        patience.check()
        left = count
        for place, room in enumerate(rooms):
            if left == 0:
                break
            fit = min(left, room // size)
            rooms[place] -= fit * size
            sticks[place][index] += fit
            left -= fit
        while left:
            fit = min(left, capacity // size)
            rooms.append(capacity - fit * size)
            sticks.append([0] * len(sizes))
            sticks[-1][index] = fit
            left -= fit
    return [tuple(stick) for stick in sticks]


def fullest_first(
    sizes: Sequence[int],
    counts: Sequence[int],
    capacity: int,
    patience: Patience = FOREVER,
) -> list[Pattern]:
    """Return the patterns of filling stick after stick as full as it goes.

    Each stick begins with the longest piece that is left; the rest of it is an exact knapsack.
    The minimum-bin-slack idea (J. N. D. Gupta and J. C. Ho, 1999, from memory).
    """
    left = list(counts)
    sticks: list[Pattern] = []
    while any(left):
        first = next(i for i, count in enumerate(left) if count)
        left[first] -= 1
        _, rest = best_pattern(sizes, left, sizes, capacity - sizes[first], patience)
        pattern = tuple(n + (i == first) for i, n in enumerate(rest))
        left = [count - n for count, n in zip(left, rest, strict=True)]
        sticks.append(pattern)
    return sticks
