"""Where end joints fall: the choices of every run, and the search for those that save planks.

A run of length R is starter s + whole boards + ender e; s fixes the rest. Its joints stand at
one *phase* (joint position modulo the board length), so the offset between two touching runs is
the distance of their phases round the circle.

Reuse is a threshold graph: a starter fits the leftover of an ender whose *room* (board length
less ender, kerf and wall error) is at least as long. So the most planks saved is the least, over
thresholds t, of (starters shorter than t) + (rooms of t or more): counts, no pairs. The search
prices thresholds by a soft minimum, and lets one run after another take its cheapest choice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from random import Random

import numpy as np
from numpy.typing import NDArray

from layout.material import LayingRules
from layout.rows import Contact, Floor, Run

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Span = tuple[float, float]

CRUMB = 1e-6
CLASH = 1000.0  # what a joint too close to a neighbour's costs the search, in planks
_NEVER = 1e9  # the length of a starter that fits no room, the room that fits no starter, negated


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What joints must keep: board length and the rules that bear on it, in one unit."""

    length: float
    kerf: float
    least_end: float
    least_offset: float
    wall_error: float = 0.0

    @classmethod
    def of(cls, length: float, rules: LayingRules) -> Terms:
        """Return the terms of a board length under laying rules."""
        return cls(
            length=length,
            kerf=rules.saw_kerf,
            least_end=rules.min_end_piece,
            least_offset=rules.min_joint_offset,
            wall_error=rules.wall_error,
        )

    def room(self, ender: float) -> float:
        """Return the longest starter that the leftover of an ender gives."""
        return self.length - self.kerf - self.wall_error - ender


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A run, where no joint of it may fall, and the posts that a joint must pass through."""

    run: Run
    barred: tuple[Span, ...] = ()
    posts: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What one run may do, an entry a choice: starter, ender, whole boards between, joint phase.

    A choice without joints (one piece) has a phase of nan; it is listed twice, as a piece that
    may take the place of a starter or of an ender, since it needs no factory end. ``faults``
    counts the rules of ends, doorways and posts that a choice breaks.
    """

    starter: Floats
    ender: Floats
    pieces: Floats
    phase: Floats
    faults: Floats

    def __len__(self) -> int:
        return len(self.starter)


def starters_for(site: Site, terms: Terms, phases: Iterable[float]) -> Floats:
    """Return the starters of a run that keep its end pieces, from phases and its own limits."""
    run, length = site.run, terms.length
    end = terms.least_end
    far = end + terms.wall_error
    own = [end, length, run.length - far, run.length - length + terms.wall_error, run.length / 2]
    for u, v in (*site.barred, *site.posts):
        own += [u - run.x0, v - run.x0, (u + v) / 2 - run.x0]
    found = np.concatenate(
        [
            (np.fromiter(phases, dtype=float) - run.x0) % length,
            np.array(own) % length,
            np.array([min(length, run.length - far), end]),
        ]
    )
    found[found < CRUMB] = length
    return np.unique(np.round(found, 6))


def choices_of(site: Site, terms: Terms, phases: Iterable[float]) -> Choices:
    """Return the choices of a run: those that break no rule, or if all do, the least bad ones."""
    starter = starters_for(site, terms, phases)
    run, length = site.run, terms.length
    starter = starter[(starter > CRUMB) & (starter < run.length - CRUMB)]
    whole = np.ceil((run.length - starter) / length - 1 - 1e-9)
    whole = np.maximum(whole, 0)
    ender = run.length - starter - whole * length
    faults = np.zeros(len(starter))
    faults += starter < terms.least_end - CRUMB
    faults += ender < terms.least_end + terms.wall_error - CRUMB
    faults += ender > length - terms.wall_error + CRUMB
    for u, v in site.barred:
        faults += _joint_within(run.x0 + starter, run, length, u + CRUMB, v - CRUMB)
    for u, v in site.posts:
        faults += ~_joint_within(run.x0 + starter, run, length, u + 0.01, v - 0.01)
    single = _single(site, terms)
    starter = np.concatenate([starter, single[0]])
    ender = np.concatenate([ender, single[1]])
    pieces = np.concatenate([whole + 2, np.ones(len(single[0]))])
    phase = np.concatenate(
        [(run.x0 + starter[: len(whole)]) % length, np.full(len(single[0]), np.nan)]
    )
    faults = np.concatenate([faults, single[2]])
    kept = faults <= (faults.min() if len(faults) else 0) + CRUMB
    return Choices(
        starter=starter[kept],
        ender=ender[kept],
        pieces=pieces[kept],
        phase=phase[kept],
        faults=faults[kept],
    )


def _joint_within(first: Floats, run: Run, length: float, u: float, v: float) -> Bools:
    """Return whether some joint of each choice falls within [u, v]; ``first`` joint positions."""
    steps = np.maximum(0, np.ceil((u - first) / length))
    at = first + steps * length
    found: Bools = (at <= v) & (at < run.x1 - CRUMB)
    return found


def _single(site: Site, terms: Terms) -> tuple[Floats, Floats, Floats]:
    """Return starters, enders and faults of laying the run in one piece, twice, if that can be."""
    length = site.run.length
    if length > terms.length - terms.wall_error + CRUMB:
        return np.empty(0), np.empty(0), np.empty(0)
    faults = np.full(2, float(len(site.posts)))
    return np.array([length, _NEVER]), np.array([_NEVER, length]), faults


def joints_at(run: Run, starter: float, length: float) -> list[float]:
    """Return the joint positions of a run begun with ``starter``, left to right."""
    joints = []
    at = run.x0 + starter
    while at < run.x1 - CRUMB:
        joints.append(at)
        at = run.x0 + starter + len(joints) * length
    return joints


def clashes(low: Choices, high: Choices, contact: Contact, terms: Terms) -> Bools:
    """Return which choices of two touching runs bring joints closer than the least offset."""
    a, b = low.phase[:, None], high.phase[None, :]
    length, offset = terms.length, terms.least_offset - CRUMB
    step = (b - a + length / 2) % length - length / 2
    close = np.abs(step) < offset
    if all(v - u >= length + offset for u, v in contact.stretches):
        return close
    found = np.zeros(close.shape, dtype=bool)
    for u, v in contact.stretches:
        first = np.maximum(u, u - step) - CRUMB
        last = np.minimum(v, v - step) + CRUMB
        found |= first + (a - first) % length <= last
    return found & close


@dataclass(slots=True)
class Tally:
    """How many starters are shorter than each threshold, and how many rooms reach it."""

    thresholds: Floats
    counts: Floats = field(init=False)

    def __post_init__(self) -> None:
        self.counts = np.zeros(len(self.thresholds))

    def places(
        self, starters: Floats, rooms: Floats
    ) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return where starters and rooms stand among the thresholds."""
        return (
            np.searchsorted(self.thresholds, starters - CRUMB / 2, side="left"),
            np.searchsorted(self.thresholds, rooms + CRUMB / 2, side="right"),
        )

    def add(self, starter: int, room: int, times: float) -> None:
        """Count a starter and a room, at their places, ``times`` times (-1 takes them away)."""
        self.counts[starter + 1 :] += times
        self.counts[:room] += times

    def reuses(self) -> float:
        """Return how many starters can come from leftovers."""
        return float(self.counts.min())

    def prices(self, warmth: float) -> Floats:
        """Return cumulated weights of the thresholds by soft minimum; 0 first, 1 last."""
        weights = np.exp((self.counts.min() - self.counts) / warmth)
        total = np.concatenate([[0.0], np.cumsum(weights)])
        found: Floats = total / total[-1]
        return found


class Search:
    """The choices of all runs of a floor and the search over them."""

    def __init__(
        self,
        floor: Floor,
        sites: Sequence[Site],
        terms: Terms,
        rng: Random,
        phases: Sequence[float],
    ) -> None:
        self.floor = floor
        self.terms = terms
        self.rng = np.random.default_rng(rng.getrandbits(32))
        self.sites = sites
        self.choices = [choices_of(site, terms, phases) for site in sites]
        self._tabulate()
        self.chosen = [-1] * len(sites)

    def _tabulate(self) -> None:
        """Place every choice among the thresholds and find which choices clash."""
        marks = np.unique(np.concatenate([c.starter[c.starter < _NEVER] for c in self.choices]))
        self.tally = Tally(np.append(marks, _NEVER))
        self.at = [
            self.tally.places(c.starter, self.terms.room(c.ender))  # type: ignore[arg-type]
            for c in self.choices
        ]
        self.beside: list[list[tuple[int, Bools]]] = [[] for _ in self.choices]
        for contact in self.floor.contacts:
            low, high = contact.low, contact.high
            table = clashes(self.choices[low], self.choices[high], contact, self.terms)
            self.beside[low].append((high, table))
            self.beside[high].append((low, np.ascontiguousarray(table.T)))

    def choose(self, run: int, choice: int) -> None:
        """Give a run a choice, or none (-1)."""
        starters, rooms = self.at[run]
        before = self.chosen[run]
        if before >= 0:
            self.tally.add(int(starters[before]), int(rooms[before]), -1)
        if choice >= 0:
            self.tally.add(int(starters[choice]), int(rooms[choice]), 1)
        self.chosen[run] = choice

    def cheapest(self, run: int, warmth: float) -> int:
        """Return the cheapest choice of a run beside what all others have chosen."""
        self.choose(run, -1)
        prices = self.tally.prices(warmth)
        starters, rooms = self.at[run]
        last = len(prices) - 1
        cost = (
            self.choices[run].pieces - prices[rooms] - (1 - prices[np.minimum(starters + 1, last)])
        )
        for other, table in self.beside[run]:
            if self.chosen[other] >= 0:
                cost = cost + CLASH * table[:, self.chosen[other]]
        cost = cost + self.rng.random(len(cost)) * 0.2 * warmth
        return int(np.argmin(cost))

    def sweep(self, order: Iterable[int], warmth: float) -> None:
        """Let runs take their cheapest choice, one after another."""
        for run in order:
            self.choose(run, self.cheapest(run, warmth))

    def planks(self) -> int:
        """Return how many planks the choices take."""
        pieces = sum(c.pieces[i] for c, i in zip(self.choices, self.chosen, strict=True))
        return round(float(pieces) - self.tally.reuses())

    def conflicts(self) -> int:
        """Return how many pairs of touching runs clash."""
        return sum(
            int(table[self.chosen[run], self.chosen[other]])
            for run, beside in enumerate(self.beside)
            for other, table in beside
            if other > run
        )

    def improve(self, stop: Callable[[], bool], sweeps: int) -> tuple[int, int, list[int]]:
        """Return (conflicts, planks, choices) of the best found in some sweeps."""
        order = list(range(len(self.choices)))
        self.sweep(order, 2.0)
        best = (self.conflicts(), self.planks(), list(self.chosen))
        for k in range(sweeps):
            if stop():
                break
            self.rng.shuffle(order)
            warmth = 2.0 * 0.1 ** ((k % 20) / 10)
            self.sweep(order, warmth)
            best = min(best, (self.conflicts(), self.planks(), list(self.chosen)))
        return best
