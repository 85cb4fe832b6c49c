"""The search over joints, with heat baths aimed at a number of planks between its descents."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from layout.joints.heat_bath import (
    CLASH_ENERGY,
    bath_phases,
    drawn,
    energies,
    planks_aimed_at,
    temperatures,
)
from layout.joints.search import Search

_LAST_WARMTHS = (0.3, 0.1, 0.03)  # of the descent after a bath


class BathedSearch(Search):
    """A search that can begin anew from a heat bath over all its runs."""

    _baths = 0

    def bathe(self, target: int, stop: Callable[[], bool]) -> bool:
        """Whether a heat bath aimed at ``target`` planks, then a cold descent, improved the score.

        Cut short by ``stop`` it leaves the best as it was.
        """
        if self.fixed:
            return False
        self._baths += 1
        self._spread_out()
        before, order = self.score, np.arange(len(self.sites))
        for temperature in temperatures(self._baths):
            self._rng.shuffle(order)
            taken = [self.planks_of(group) for group in range(len(self.groups))]
            for run in order.tolist():
                aim = planks_aimed_at(self._group[run], taken, target)
                self._choose(run, -1)
                self._choose(run, self._drawn(run, aim, float(temperature)))
            if stop():
                return False
        self._keep_if_better()
        for warmth in _LAST_WARMTHS:
            self.sweep(order, warmth)
            self._keep_if_better()
        return self.score < before

    def _spread_out(self) -> None:
        """Choose the best picks among choices all over a board, to begin a bath with."""
        fresh = self._fresh.phases(self.picks)
        wide = [
            np.concatenate([phases, bath_phases(site, self.terms)])
            for phases, site in zip(fresh, self.sites, strict=True)
        ]
        self._offer(wide)
        for run, pick in enumerate(self.picks):
            self._choose(run, self._choices[run].nearest(pick))

    def _drawn(self, run: int, aim: int, temperature: float) -> int:
        """Return a choice of a run drawn beside what all others have chosen."""
        group = self.groups[self._group[run]]
        pieces = sum(
            float(self._choices[other].pieces[self._chosen[other]])
            for other in group
            if self._chosen[other] >= 0
        )
        starters, rooms = self._places[run]
        over = pieces + self._choices[run].pieces - aim
        energy = energies(self._tally(run).counts, over, starters, rooms)
        for other, table in self._beside[run]:
            energy = energy + CLASH_ENERGY * table[self._chosen[other]]
        return drawn(energy, temperature, self._rng)
