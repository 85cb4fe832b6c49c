"""The second pass: the same planks, but fewer broken looks, then a smaller rack, then fewer cuts.

Two moves are tried in turns, each kept where the looks do not get worse: one run takes another
pick that costs no plank more, or two runs of one length trade their picks.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from random import Random

import numpy as np

from layout.joints.choices import NEVER, Pick, joints_at
from layout.planks.matching import Bools, sooner, threshold_mates
from layout.planner.trials import Trial
from layout.values.tolerances import TOUCHING_TOLERANCE
from layout.values.units import INCH

Cost = tuple[float, ...]


class Looks:
    """Joints row by row, and the H-joints and staircases among them.

    An H-joint: two joints of a row and the next but one within an inch. A staircase: a step from
    one row to the next that comes again twice more.
    """

    def __init__(self, rows: Sequence[Sequence[float]], length: float, inch: float) -> None:
        self.rows = [sorted(row) for row in rows]
        self._half = length / 2
        self._inch = inch
        self._faults = [self._begun_at(k) for k in range(len(rows))]

    @property
    def total(self) -> int:
        """H-joints and staircases together."""
        return sum(self._faults)

    def replace(self, number: int, row: Sequence[float]) -> None:
        """Give one row (counted from 0) other joints."""
        self.rows[number] = sorted(row)
        for k in range(max(0, number - 3), number + 1):
            self._faults[k] = self._begun_at(k)

    def _begun_at(self, k: int) -> int:
        """Return the H-joints and staircases whose first row is ``k``."""
        rows = self.rows[k : k + 4]
        if len(rows) < 3:
            return 0
        faults = sum(self._near(x, rows[2]) for x in rows[0])
        if len(rows) < 4:
            return faults
        for a in rows[0]:
            for b in rows[1]:
                if self._inch < abs(b - a) <= self._half + self._inch / 100:
                    step = b - a
                    faults += self._near(b + step, rows[2]) and self._near(b + 2 * step, rows[3])
        return faults

    def _near(self, x: float, row: Sequence[float]) -> bool:
        """Whether a joint of the row stands within an inch (and rounding) of ``x``."""
        k = bisect_left(row, x - self._inch - TOUCHING_TOLERANCE)
        return k < len(row) and row[k] <= x + self._inch + TOUCHING_TOLERANCE


class Polish:
    """Changes to a trial's picks that keep its planks, judged by looks, rack and cuts."""

    def __init__(self, trial: Trial, rng: Random, spare: int = 0) -> None:
        self.trial = trial
        self.planks = trial.search.score.planks + spare
        self._rng = rng
        self._length = trial.floor.board.length
        self._search = trial.search
        self._search.settle()
        self.picks: list[Pick] = list(trial.search.picks)
        self._row_of = [run.row - 1 for run in trial.floor.runs]
        self._joints = [self._made(run, pick) for run, pick in enumerate(self.picks)]
        rows = [self._row(number) for number in range(len(trial.floor.rows))]
        self._looks = Looks(rows, self._length, INCH[trial.ground.request.unit])
        self._alike = self._runs_alike()
        self._mated: dict[int, int] = {}
        self.cost = self._cost()

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
        known, looks = self.cost, self._looks.total
        faults = sum(self._search.faults_of(run) for run in changes)
        self._make(changes)
        worse = (
            self._looks.total > looks
            or sum(self._search.faults_of(run) for run in changes) > faults
            or self._search.planks() > self.planks
        )
        cost = known if worse else self._cost()
        if worse or cost > known:
            self._make(before)
        else:
            self.cost = cost

    def _make(self, changes: dict[int, Pick]) -> None:
        """Give runs other picks."""
        for run, pick in changes.items():
            self.picks[run] = pick
            self._search.change(run, pick)
            self._joints[run] = self._made(run, pick)
        for number in sorted({self._row_of[run] for run in changes}):
            self._looks.replace(number, self._row(number))

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
        picks = self._search.as_good(run, self.planks - self._search.planks())
        return {run: self._rng.choice(picks)} if picks else {}

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
        runs = self.trial.floor.rows[number].runs
        first = self._first_of(number)
        return [x for k in range(len(runs)) for x in self._joints[first + k]]

    def _first_of(self, number: int) -> int:
        """Return the index of a row's first run."""
        return bisect_left(self._row_of, number)

    def _cost(self) -> Cost:
        """Return looks, rack, how long leftovers wait in all, and cut ends."""
        rack, waits = self._rack()
        whole = self._length - TOUCHING_TOLERANCE
        ends = sum((TOUCHING_TOLERANCE < x < whole) for pick in self.picks for x in pick)
        return (self._looks.total, rack, ends, waits)

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
