"""The second pass: the same planks, but fewer broken looks, then a smaller rack, then fewer cuts.

Two moves are tried in turns, each kept where the looks do not get worse: one run takes another
pick that costs no plank more, or two runs of one length trade their picks. Where planks may be
spent, picks may cost so many more, and fewer cuts come before the planks and the rack.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

import numpy as np

from layout.joints.choices import NEVER, Pick, joints_at
from layout.planks.matching import Bools, sooner, threshold_mates
from layout.planner.looks import Looks
from layout.planner.trials import Trial
from layout.values.tolerances import TOUCHING_TOLERANCE
from layout.values.units import INCH

Cost = tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanksToSpend:
    """How many planks more a floor may take: in all, and of every board width where that counts."""

    planks: int = 0
    by_width: Mapping[float, int] = field(default_factory=dict)


NONE_MORE = PlanksToSpend()


class Polish:
    """Changes to a trial's picks that keep its planks, judged by looks, rack and cuts.

    Where ``spending`` what an ``allowance`` leaves: by looks, cuts, planks and rack. ``picks`` are
    those to begin with, the best of the trial's search where None.
    """

    def __init__(
        self,
        trial: Trial,
        rng: Random,
        allowance: PlanksToSpend = NONE_MORE,
        *,
        picks: Sequence[Pick] | None = None,
        spending: bool = False,
    ) -> None:
        self.trial = trial
        self._rng = rng
        self._length = trial.floor.board.length
        self._search = trial.search
        self._spending = spending
        self.picks: list[Pick] = list(trial.search.picks if picks is None else picks)
        self._search.settle(self.picks)
        self._begun = self._search.planks_by_width()
        self._most, self._most_of = 0, [0]
        self.allow(allowance)
        self._row_of = [run.row - 1 for run in trial.floor.runs]
        self._joints = [self._made(run, pick) for run, pick in enumerate(self.picks)]
        rows = [self._row(number) for number in range(len(trial.floor.rows))]
        self.looks = Looks(rows, self._length, INCH[trial.ground.request.unit])
        self._alike = self._runs_alike()
        self._mated: dict[int, int] = {}
        self.cost = self._cost()

    def allow(self, allowance: PlanksToSpend) -> None:
        """Allow so many planks more than the picks to begin with took."""
        more, by_width = allowance.planks, allowance.by_width
        self._most = sum(self._begun.values()) + more
        self._most_of = [n + by_width.get(width, more) for width, n in self._begun.items()]

    def refresh(self) -> None:
        """Draw new choices for every run, over all of a board."""
        self._search.settle(self.picks, widely=True)

    def planks(self) -> int:
        """Return how many planks the picks take."""
        return self._search.planks()

    def improve(self, moves: int, stop: Callable[[], bool]) -> bool:
        """Whether one of some moves tried was for the better."""
        before = self.cost
        for _ in range(moves):
            if stop():
                break
            changes = self._trade() if self._rng.random() < 0.4 else self._other_pick()
            if changes:
                self._try(changes)
        return self.cost < before

    def _try(self, changes: dict[int, Pick]) -> None:
        """Make changes, and take them back where they break more or cost more."""
        before = {run: self.picks[run] for run in changes}
        known, looks = self.cost, self.looks.total
        faults = self.faults_of(changes)
        self.make(changes)
        worse = (
            self.looks.total > looks or self.faults_of(changes) > faults or self.beyond_allowance()
        )
        cost = known if worse else self._cost()
        if worse or cost > known:
            self.make(before)
        else:
            self.cost = cost

    def take(self, picks: Sequence[Pick]) -> None:
        """Take other picks for all runs, with choices drawn for them."""
        self.picks = list(picks)
        self._search.settle(self.picks)
        self.make(dict(enumerate(picks)))
        self.cost = self._cost()

    def faults_of(self, runs: Iterable[int]) -> int:
        """Return how many rules the picks of some runs break."""
        return sum(self._search.faults_of(run) for run in runs)

    def beyond_allowance(self) -> bool:
        """Whether the picks take more planks than are allowed."""
        planks = [self._search.planks_of(group) for group in range(len(self._search.groups))]
        each = zip(planks, self._most_of, strict=True)
        return sum(planks) > self._most or any(taken > most for taken, most in each)

    def make(self, changes: dict[int, Pick]) -> None:
        """Give runs other picks."""
        for run, pick in changes.items():
            self.picks[run] = pick
            self._search.change(run, pick)
            self._joints[run] = self._made(run, pick)
        for number in sorted({self._row_of[run] for run in changes}):
            self.looks.replace(number, self._row(number))

    def _trade(self) -> dict[int, Pick]:
        """Return a trade of picks between two runs of one length."""
        if not self._alike:
            return {}
        one, two = self._rng.sample(self._rng.choice(self._alike), 2)
        if self.picks[one] == self.picks[two]:
            return {}
        return {one: self.picks[two], two: self.picks[one]}

    def _other_pick(self) -> dict[int, Pick]:
        """Return another pick for some run."""
        run = self._rng.randrange(len(self.picks))
        picks = [pick for _, pick in self.options(run)]
        return {run: self._rng.choice(picks)} if picks else {}

    def options(self, run: int) -> list[tuple[float, Pick]]:
        """Return what one run may take within the allowance, and how many planks more each costs.

        None clashes with anything that its own pick doesn't.
        """
        group = self._search.group_of(run)
        spare = min(
            self._most - self._search.planks(),
            self._most_of[group] - self._search.planks_of(group),
        )
        return self._search.as_good(run, spare)

    def cut_ends(self, pick: Pick) -> int:
        """Return how many ends a pick makes that are cut: those of no whole board."""
        whole = self._length - TOUCHING_TOLERANCE
        return sum(TOUCHING_TOLERANCE < length < whole for length in pick)

    def alike(self, run: int) -> list[int]:
        """Return the other runs that one may trade picks with."""
        return [other for runs in self._alike if run in runs for other in runs if other != run]

    def runs_of(self, row: int) -> range:
        """Return the runs of a row, counted from 0."""
        first = self._first_of(row)
        return range(first, first + len(self.trial.floor.rows[row].runs))

    def looks_with(self, changes: dict[int, Pick]) -> int:
        """Return the H-joints and staircases that changes would leave."""
        before = {run: self._joints[run] for run in changes}
        for run, pick in changes.items():
            self._joints[run] = self._made(run, pick)
        rows = sorted({self._row_of[run] for run in changes})
        kept = {row: self.looks.rows[row] for row in rows}
        for row in rows:
            self.looks.replace(row, self._row(row))
        total = self.looks.total
        self._joints = [before.get(run, joints) for run, joints in enumerate(self._joints)]
        for row in rows:
            self.looks.replace(row, kept[row])
        return total

    def _runs_alike(self) -> list[list[int]]:
        """Return groups of runs of one length with nothing in the way of their joints."""
        groups: dict[tuple[float, float], list[int]] = {}
        for index, site in enumerate(self.trial.sites):
            if not (site.barred or site.posts or site.kept_off or site.tied):
                alike = (round(site.run.length, 4), round(site.run.width, 4))
                groups.setdefault(alike, []).append(index)
        return [runs for runs in groups.values() if len(runs) > 1]

    def _made(self, run: int, pick: Pick) -> tuple[float, ...]:
        """Return the joints that a pick makes of a run."""
        if max(pick) >= NEVER:
            return ()
        return joints_at(self.trial.sites[run].run, pick[0], self._length)

    def _row(self, number: int) -> list[float]:
        """Return the joints of a row, counted from 0."""
        return [x for run in self.runs_of(number) for x in self._joints[run]]

    def _first_of(self, number: int) -> int:
        """Return the index of a row's first run."""
        return bisect_left(self._row_of, number)

    def _cost(self) -> Cost:
        """Return looks, rack, cut ends, and how long leftovers wait in all.

        Where planks may be spent, cut ends and planks come before the rack.
        """
        rack, waits = self._rack()
        ends = sum(self.cut_ends(pick) for pick in self.picks)
        if self._spending:
            return (self.looks.total, ends, self._search.planks(), rack, waits)
        return (self.looks.total, rack, ends, waits)

    def _rack(self) -> tuple[int, int]:
        """Return the most leftovers that wait at once, and how long they wait in all."""
        mated: dict[int, int] = {}
        for group, runs in enumerate(self._search.groups):
            mated.update(self._mated_of(runs, self._search.reuses(group)))
        self._mated = mated
        return _most_waiting(mated), sum(abs(start - stop) for start, stop in mated.items())

    def _mated_of(self, runs: Sequence[int], reuses: int) -> dict[int, int]:
        """Return when the ender is laid that each starter of some runs comes from."""
        terms = self._search.terms
        picks = {run: self.picks[run] for run in runs}
        begins = {2 * run: terms.length - s for run, (s, _) in picks.items() if s < NEVER}
        ends = {
            2 * run + 1: terms.length - terms.room(e) - TOUCHING_TOLERANCE
            for run, (_, e) in picks.items()
            if e < NEVER
        }
        lefts, rights = list(begins.values()), list(ends.values())
        fits = np.array(rights)[None, :] <= np.array(lefts)[:, None]
        starts, stops = list(begins), list(ends)
        mates = self._mates(fits, starts, stops)
        if len(mates) < reuses:
            mates = threshold_mates(lefts, rights)
        mates = sooner(mates, fits, starts, stops)
        return {starts[i]: stops[j] for i, j in mates.items()}

    def _mates(self, fits: Bools, starts: list[int], stops: list[int]) -> dict[int, int]:
        """Return the matching known, without pairs that no longer fit, filled up where it can."""
        row = {start: i for i, start in enumerate(starts)}
        column = {stop: j for j, stop in enumerate(stops)}
        mates = {
            row[start]: column[stop]
            for start, stop in self._mated.items()
            if start in row and stop in column and fits[row[start], column[stop]]
        }
        free = set(range(len(stops))) - set(mates.values())
        for i in range(len(starts)):
            if i not in mates:
                j = next((j for j in sorted(free) if fits[i, j]), None)
                if j is not None:
                    mates[i] = j
                    free.remove(j)
        return mates


def _most_waiting(mated: dict[int, int]) -> int:
    """Return how many leftovers wait at once, at most, from when pieces are laid."""
    changes = []
    for low, high in (sorted(pair) for pair in mated.items()):
        changes += [(low, 1), (high, -1)]
    waiting = most = 0
    for _, change in sorted(changes):
        waiting += change
        most = max(most, waiting)
    return most
