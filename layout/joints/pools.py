"""What the runs of one board width share: starters and rooms by pool, counted as they are chosen.

Square ends count in the first pool; a slanted one counts there by its box, or in a pool of its
slope by where its line lies, whichever is worth more when it is chosen. What is counted in a pool
fits by its lines alone, so that the reuses of all pools can be had at once.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping, Sequence
from functools import reduce

import numpy as np

from layout.joints.choices import AtHand, Choices, Floats, Terms
from layout.joints.slants import Shift, Slants, counted
from layout.joints.tally import Places, tally_of
from layout.values.tolerances import PRICE_TOLERANCE

Pair = tuple[int, int]  # which of its pools a run's starter and its ender count in
_COLDEST = 1 / 1000  # the warmth at which only the cheapest thresholds have a price


class Pools:
    """The tallies of one board width, and what each of its runs counts for in them."""

    def __init__(
        self,
        choices: Sequence[Choices],
        slants: Sequence[Slants],
        at_hand: AtHand,
        terms: Terms,
    ) -> None:
        pools = 1 + max(pool for of_run in slants for pool, _ in (*of_run.left, *of_run.right))
        marks: list[list[Floats]] = [[] for _ in range(pools)]
        for of_run, slant in zip(choices, slants, strict=True):
            for pool, shorter in slant.left:
                marks[pool].append(counted(of_run.starter, shorter))
        self._tallies = [
            tally_of(of_pool, at_hand if pool == 0 else AtHand(), terms)
            for pool, of_pool in enumerate(marks)
        ]
        self._slants = slants
        self._starters = [
            [self._starts(of_run, shift) for shift in slant.left]
            for of_run, slant in zip(choices, slants, strict=True)
        ]
        self._rooms = [
            [self._reaches(of_run, shift, terms) for shift in slant.right]
            for of_run, slant in zip(choices, slants, strict=True)
        ]
        self._chosen: list[tuple[int, Pair] | None] = [None] * len(choices)

    def _starts(self, choices: Choices, shift: Shift) -> Places:
        pool, shorter = shift
        return self._tallies[pool].starts(counted(choices.starter, shorter))

    def _reaches(self, choices: Choices, shift: Shift, terms: Terms) -> Places:
        pool, shorter = shift
        return self._tallies[pool].reaches(terms.rooms(counted(choices.ender, shorter)))

    def reuses(self) -> int:
        """Return how many starters can come from leftovers."""
        return sum(round(tally.reuses()) for tally in self._tallies)

    def prices(self, warmth: float = _COLDEST) -> list[Floats]:
        """Return the prices of every pool's thresholds."""
        return [tally.prices(warmth) for tally in self._tallies]

    def price_of(self, run: int, prices: Sequence[Floats]) -> tuple[Floats, Floats]:
        """Return what the starters of a run's choices cost, and what its rooms are worth."""
        slants = self._slants[run]
        starters = [
            prices[pool][at] for (pool, _), at in zip(slants.left, self._starters[run], strict=True)
        ]
        rooms = [
            prices[pool][at] for (pool, _), at in zip(slants.right, self._rooms[run], strict=True)
        ]
        return reduce(np.minimum, starters), reduce(np.maximum, rooms)

    def pair_of(self, run: int) -> Pair | None:
        """Return which pools a run counts in, None where it counts in none."""
        known = self._chosen[run]
        return None if known is None else known[1]

    def count(
        self,
        run: int,
        choice: int,
        *,
        prices: Sequence[Floats] | None = None,
        pair: Pair | None = None,
    ) -> None:
        """Count a choice of a run in a ``pair`` of pools, else where it is worth most now."""
        self.drop(run)
        if pair is None:
            pair = self._best(run, choice, prices)
        self._add(run, choice, pair, 1)
        self._chosen[run] = (choice, pair)

    def sort_out(self) -> None:
        """Count all ends chosen by their boxes, or those that nest in their pools, if that is more.

        One after another they would each stay where the others are not.
        """
        chosen = [(run, known[0]) for run, known in enumerate(self._chosen) if known is not None]
        if all(self._slants[run].square for run, _ in chosen):
            return
        self._count_all(chosen, {})
        square = self.reuses()
        self._count_all(chosen, self._nested(chosen))
        if self.reuses() < square:
            self._count_all(chosen, {})

    def _count_all(self, chosen: Sequence[tuple[int, int]], pairs: Mapping[int, Pair]) -> None:
        for run, choice in chosen:
            self.count(run, choice, pair=pairs.get(run, (0, 0)))

    def _nested(self, chosen: Sequence[tuple[int, int]]) -> dict[int, Pair]:
        """Return the pairs of pools in which the ends that find a mate there nest."""
        starters: dict[int, list[tuple[int, int, int]]] = defaultdict(list)
        rooms: dict[int, list[tuple[int, int, int]]] = defaultdict(list)
        for run, choice in chosen:
            slants = self._slants[run]
            for ends, places, shifts in (
                (starters, self._starters[run], slants.left),
                (rooms, self._rooms[run], slants.right),
            ):
                if len(shifts) > 1:
                    best = max(range(1, len(shifts)), key=lambda k: shifts[k][1])
                    ends[shifts[best][0]].append((int(places[best][choice]), run, best))
        pairs: dict[int, Pair] = {}
        for pool, begins in starters.items():
            for one, two in _mates(begins, rooms[pool]):
                pairs[one[1]] = (one[2], pairs.get(one[1], (0, 0))[1])
                pairs[two[1]] = (pairs.get(two[1], (0, 0))[0], two[2])
        return pairs

    def drop(self, run: int) -> None:
        """Count nothing of a run."""
        known, self._chosen[run] = self._chosen[run], None
        if known is not None:
            self._add(run, *known, -1)

    def _add(self, run: int, choice: int, pair: Pair, times: int) -> None:
        left, right = pair
        starter, room = self._starters[run][left][choice], self._rooms[run][right][choice]
        self._tallies[self._slants[run].left[left][0]].add_starter(int(starter), times)
        self._tallies[self._slants[run].right[right][0]].add_room(int(room), times)

    def _best(self, run: int, choice: int, prices: Sequence[Floats] | None) -> Pair:
        """Return the pools in which a choice is worth most."""
        slants = self._slants[run]
        if slants.square:
            return (0, 0)
        known = self.prices() if prices is None else prices
        starters = [
            float(known[pool][at[choice]])
            for (pool, _), at in zip(slants.left, self._starters[run], strict=True)
        ]
        rooms = [
            float(known[pool][at[choice]])
            for (pool, _), at in zip(slants.right, self._rooms[run], strict=True)
        ]
        return _last(starters, min(starters)), _last(rooms, max(rooms))


def _mates(
    starters: Sequence[tuple[int, int, int]], rooms: Sequence[tuple[int, int, int]]
) -> list[tuple[tuple[int, int, int], tuple[int, int, int]]]:
    """Return as many pairs as can be of a starter and a room that holds it: the longest first."""
    free = sorted(rooms)
    pairs = []
    for one in sorted(starters, reverse=True):
        k = bisect_left(free, (one[0], -1, 0))
        if k < len(free):
            pairs.append((one, free.pop(k)))
    return pairs


def _last(prices: Sequence[float], best: float) -> int:
    """Return the last place that is as good as the best: a slanted pool where one is."""
    return max(k for k, price in enumerate(prices) if abs(price - best) < PRICE_TOLERANCE)
