"""Where end joints fall: the search for joints that keep the rules and save planks.

Reuse is a threshold graph: a starter fits the leftover of an ender whose *room* (board length
less ender, kerf and wall error) is at least as long. So the most planks saved is the least, over
thresholds t, of (starters shorter than t) + (rooms of t or more): counts, no pairs (Konig's
theorem on nested neighborhoods). The search prices thresholds by a soft minimum of these counts
and lets one run after another take its cheapest choice; then it offers every run new choices
made from what the others leave over or lack, and begins again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from layout.joints.choices import (
    AtHand,
    Bools,
    Floats,
    Pick,
    Site,
    Terms,
    choices_of,
    clashes,
    terms_between,
)
from layout.joints.fresh_phases import FreshPhases, Holding
from layout.joints.pools import Pair, Pools
from layout.joints.slants import slants_of
from layout.rows.rows import Floor
from layout.values.tolerances import PRICE_TOLERANCE

NOTHING = AtHand()

_CLASH = 1000.0  # what two joints too close cost the search, in planks
_GRID = 48  # phases to begin with
_FIRST_WARMTHS = (2.0, 0.6, 0.15)
_THREADS = 6  # times that all runs are chosen at once to part those that clash


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """What a set of picks is worth to the search: rules broken at ends, clashes, planks."""

    faults: int
    clashes: int
    planks: int


class Search:
    """The choices of all runs of a floor, what is chosen now, and the best found so far.

    ``groups`` are the runs of one board width: only these share planks. ``fixed`` gives the one
    phase that each run may have, where the product asks for fixed steps. ``at_hand`` are
    leftovers of planks cut before, by board width.
    """

    def __init__(
        self,
        floor: Floor,
        sites: Sequence[Site],
        terms: Terms,
        rng: Random,
        fixed: Sequence[float] | None = None,
        at_hand: Mapping[float, AtHand] | None = None,
    ) -> None:
        self.floor = floor
        self.sites = sites
        self.terms = terms
        self._at_hand = dict(at_hand or {})
        self.picks: list[Pick] = []
        self._pairs: list[Pair | None] = []
        self._rng = np.random.default_rng(rng.getrandbits(32))
        self.groups = _by_width(sites)
        self._group = {run: g for g, runs in enumerate(self.groups) for run in runs}
        self._seat = {run: k for runs in self.groups for k, run in enumerate(runs)}
        self._slants = [slants_of([sites[run] for run in runs], terms) for runs in self.groups]
        held = [
            Holding(runs=runs, slants=slants, at_hand=self._held(runs))
            for runs, slants in zip(self.groups, self._slants, strict=True)
        ]
        self._fresh = FreshPhases(floor, sites, terms, held, self._rng)
        self.fixed = fixed is not None
        grid = [terms.length * i / _GRID for i in range(_GRID)]
        self._offer([grid for _ in sites] if fixed is None else [[phase] for phase in fixed])
        slanted = any(not slant.square for slants in self._slants for slant in slants)
        for warmth in _FIRST_WARMTHS:
            self.sweep(range(len(sites)), warmth)
        self._remember(self._score())
        for warmth in _FIRST_WARMTHS[1:] if slanted else ():
            self.sweep(range(len(sites)), warmth)
            self._keep_if_better()
        self._untangle(lambda: False)

    def improve(self, sweeps: int, stop: Callable[[], bool]) -> bool:
        """Whether offering new choices and sweeping from warm to cold improved the score."""
        if self.fixed:
            return False
        self.settle()
        self._untangle(stop)
        order = np.arange(len(self.sites))
        before = self.score
        for k in range(sweeps):
            if stop():
                break
            self._rng.shuffle(order)
            self.sweep(order, 0.8 * 0.1 ** (k / max(1, sweeps - 1)))
            self._keep_if_better()
        return self.score < before

    def consider(self, picks: Sequence[Pick]) -> None:
        """Take picks made elsewhere as the best where they are better."""
        known, pairs = self.picks, self._pairs
        self.picks, self._pairs = list(picks), [None] * len(picks)
        self.settle()
        if self._score() < self.score:
            self._remember(self._score())
        else:
            self.picks, self._pairs = known, pairs

    def settle(self, picks: Sequence[Pick] | None = None, *, widely: bool = False) -> None:
        """Choose some picks, or the best, among new choices, as a place to try changes from.

        ``widely``: among choices over all of a board as well.
        """
        chosen = self.picks if picks is None else picks
        fresh = self._fresh.phases(chosen)
        if widely:
            grid = self.terms.length * np.arange(_GRID) / _GRID
            fresh = [np.concatenate([phases, grid]) for phases in fresh]
        self._offer(fresh)
        pairs = self._pairs if chosen == self.picks else [None] * len(self.sites)
        for run, pick in enumerate(chosen):
            self._choose(run, self._choices[run].nearest(pick), pair=pairs[run] or (0, 0))
        if chosen != self.picks or None in self._pairs:
            for pools in self._pools:
                pools.sort_out()

    def as_good(self, run: int, spare: int) -> list[tuple[float, Pick]]:
        """Return picks of one run that clash with nothing and cost ``spare`` planks more at most.

        Each with what it costs more; the run's own pick is among them.
        """
        before = self._chosen[run]
        self._choose(run, -1)
        starters, rooms = self._pools_of(run).price_of(
            self._seat[run], self._pools_of(run).prices()
        )
        missed = starters - rooms > PRICE_TOLERANCE
        cost = self._choices[run].pieces + missed
        barred = np.zeros(len(cost), dtype=bool)
        for other, table in self._beside[run]:
            barred |= table[self._chosen[other]]
        more = cost - cost[before]
        good = np.flatnonzero((more <= spare) & (~barred | barred[before]))
        self._choose(run, before)
        return [(float(more[i]), self._choices[run].pick(int(i))) for i in good]

    def change(self, run: int, pick: Pick) -> None:
        """Choose another pick for one run."""
        self._choose(run, self._choices[run].nearest(pick))

    def reuses(self, group: int) -> int:
        """Return how many starters of a group come from leftovers, as chosen now."""
        return self._pools[group].reuses()

    def planks(self) -> int:
        """Return how many planks the picks chosen now take."""
        return sum(self.planks_of(group) for group in range(len(self.groups)))

    def group_of(self, run: int) -> int:
        """Return the group that a run shares planks with."""
        return self._group[run]

    def planks_by_width(self) -> dict[float, int]:
        """Return how many planks of every board width the picks chosen now take."""
        return {
            round(self.sites[runs[0]].run.width, 6): self.planks_of(group)
            for group, runs in enumerate(self.groups)
        }

    def best_planks(self) -> dict[float, int]:
        """Return how many planks of every board width the best picks take."""
        return dict(self._best_planks)

    def planks_of(self, group: int) -> int:
        """Return how many planks of one width the picks chosen now take."""
        runs = self.groups[group]
        pieces = sum(float(self._choices[run].pieces[self._chosen[run]]) for run in runs)
        return round(pieces) - self.reuses(group)

    def faults_of(self, run: int) -> int:
        """Return how many rules the pick chosen for a run breaks, clashes included."""
        choice = self._chosen[run]
        close = sum(int(table[self._chosen[other], choice]) for other, table in self._beside[run])
        return close + round(float(self._choices[run].faults[choice]))

    def sweep(self, order: Iterable[int], warmth: float) -> None:
        """Let runs take their cheapest choice, one after another."""
        for run in order:
            self._choose(run, -1)
            prices = self._pools_of(run).prices(warmth)
            self._choose(run, self._cheapest(run, prices, warmth), prices)

    def _untangle(self, stop: Callable[[], bool]) -> None:
        """Choose for all runs at once where some clash, until none does or nothing helps."""
        for _ in range(_THREADS):
            if self.score.clashes == 0 or stop():
                return
            self._thread(0.5)
            self._keep_if_better()

    def _thread(self, warmth: float) -> None:
        """Choose what is cheapest for all runs at once along a tree of contacts.

        Dynamic programming from the leaves to the roots of a random spanning forest; the contacts
        left out of it are not looked at.
        """
        prices = [pools.prices(warmth) for pools in self._pools]
        costs = [
            self._cost(run, prices[self._group[run]])
            + self._rng.random(len(self._choices[run])) * warmth
            for run in range(len(self.sites))
        ]
        order, parents = self._forest()
        for run in reversed(order):
            if (parent := parents[run]) is not None:
                other, table = parent
                costs[other] = costs[other] + (costs[run][:, None] + _CLASH * table.T).min(axis=0)
        for run in order:
            if (parent := parents[run]) is not None:
                other, table = parent
                costs[run] = costs[run] + _CLASH * table[self._chosen[other]]
            self._choose(run, int(np.argmin(costs[run])))

    def _forest(self) -> tuple[list[int], list[tuple[int, Bools] | None]]:
        """Return runs from roots to leaves of a random spanning forest, and every run's parent."""
        parents: list[tuple[int, Bools] | None] = [None] * len(self.sites)
        seen: set[int] = set()
        order: list[int] = []
        for root in self._rng.permutation(len(self.sites)).tolist():
            if root in seen:
                continue
            seen.add(root)
            queue = [root]
            for run in queue:
                for other, _ in self._beside[run]:
                    if other not in seen:
                        seen.add(other)
                        table = next(t for back, t in self._beside[other] if back == run)
                        parents[other] = (run, table)
                        queue.append(other)
            order += queue
        return order, parents

    def _keep_if_better(self) -> None:
        """Remember what is chosen now where it is as good as the best."""
        score = self._score()
        if score <= self.score:
            self._remember(score)

    def _remember(self, score: Score) -> None:
        """Take what is chosen now as the best."""
        self.score = score
        self.picks = self._picks()
        self._pairs = [
            self._pools_of(run).pair_of(self._seat[run]) for run in range(len(self.sites))
        ]
        self._best_planks = self.planks_by_width()

    def _offer(self, phases: Sequence[Sequence[float] | Floats]) -> None:
        """Give every run its choices at some phases; nothing is chosen yet."""
        self._choices = [
            choices_of(site, self.terms, of_run, limits=not self.fixed)
            for site, of_run in zip(self.sites, phases, strict=True)
        ]
        self._pools = [
            Pools([self._choices[run] for run in runs], slants, self._held(runs), self.terms)
            for runs, slants in zip(self.groups, self._slants, strict=True)
        ]
        self._chosen = [-1] * len(self.sites)
        self._beside: list[list[tuple[int, Bools]]] = [[] for _ in self.sites]
        for contact in self.floor.contacts:
            low, high = contact.low, contact.high
            terms = terms_between(self.sites[low], self.sites[high], self.terms)
            table = clashes(self._choices[low], self._choices[high], contact, terms)
            self._beside[low].append((high, np.ascontiguousarray(table.T)))
            self._beside[high].append((low, table))

    def _held(self, runs: Sequence[int]) -> AtHand:
        """Return the leftovers at hand of the board width of some runs."""
        return self._at_hand.get(round(self.sites[runs[0]].run.width, 6), NOTHING)

    def _pools_of(self, run: int) -> Pools:
        """Return the pools that a run counts in."""
        return self._pools[self._group[run]]

    def _choose(
        self,
        run: int,
        choice: int,
        prices: Sequence[Floats] | None = None,
        pair: Pair | None = None,
    ) -> None:
        """Give a run a choice, or none (-1); counted in pools named, or at these prices."""
        if choice >= 0:
            self._pools_of(run).count(self._seat[run], choice, prices=prices, pair=pair)
        else:
            self._pools_of(run).drop(self._seat[run])
        self._chosen[run] = choice

    def _cheapest(self, run: int, prices: Sequence[Floats], warmth: float) -> int:
        """Return the cheapest choice of a run beside what all others have chosen."""
        cost = self._cost(run, prices)
        for other, table in self._beside[run]:
            if self._chosen[other] >= 0:
                cost = cost + _CLASH * table[self._chosen[other]]
        cost = cost + self._rng.random(len(cost)) * (0.2 * warmth)
        return int(np.argmin(cost))

    def _cost(self, run: int, prices: Sequence[Floats]) -> Floats:
        """Return what the choices of a run cost in planks at the prices of thresholds."""
        starters, rooms = self._pools_of(run).price_of(self._seat[run], prices)
        return self._choices[run].pieces - rooms + starters

    def _score(self) -> Score:
        """Return what the choices are worth."""
        close = sum(
            int(table[self._chosen[other], self._chosen[run]])
            for run, beside in enumerate(self._beside)
            for other, table in beside
            if other > run
        )
        faults = sum(float(c.faults[i]) for c, i in zip(self._choices, self._chosen, strict=True))
        return Score(round(faults), close, self.planks())

    def _picks(self) -> list[Pick]:
        """Return starter and ender of every run as chosen."""
        return [c.pick(i) for c, i in zip(self._choices, self._chosen, strict=True)]


def _by_width(sites: Sequence[Site]) -> list[list[int]]:
    """Return the runs of every board width, the narrowest first."""
    groups: dict[float, list[int]] = {}
    for index, site in enumerate(sites):
        groups.setdefault(round(site.run.width, 6), []).append(index)
    return [groups[width] for width in sorted(groups)]
