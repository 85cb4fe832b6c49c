"""New choices for every run: from what the others leave over or lack, and from their joints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from layout.joints.choices import NEVER, AtHand, Floats, Pick, Site, Terms
from layout.joints.slants import Slants
from layout.rows.rows import Floor
from layout.values.tolerances import TOUCHING_TOLERANCE

_FRESH = 40  # new choices of one kind offered to a run at a time
_STRAY = 6  # new choices drawn at random


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """The runs of one board width, their slanted ends, and the leftovers at hand of that width."""

    runs: Sequence[int]
    slants: Sequence[Slants]
    at_hand: AtHand


class FreshPhases:
    """Draws new phases for the runs of a floor, of each board width by themselves."""

    def __init__(
        self,
        floor: Floor,
        sites: Sequence[Site],
        terms: Terms,
        held: Sequence[Holding],
        rng: np.random.Generator,
    ) -> None:
        self._sites, self._terms, self._held, self._rng = sites, terms, held, rng
        self._touching = _touching(floor, len(sites))
        self._home = {run: (g, k) for g, of in enumerate(held) for k, run in enumerate(of.runs)}

    def phases(self, picks: Sequence[Pick]) -> list[Floats]:
        """Return new phases for every run, from leftovers, lacks and neighbors of some picks."""
        length, tick = self._terms.length, self._terms.tick
        lacks = [self._lacks_of([picks[run] for run in of.runs], of) for of in self._held]
        phases = [
            site.run.x0 + s if max(s, e) < NEVER else None
            for site, (s, e) in zip(self._sites, picks, strict=True)
        ]
        fresh = []
        for index, site in enumerate(self._sites):
            beside = [at for other in self._touching[index] if (at := phases[other]) is not None]
            phase, offset = phases[index], (site.eased or self._terms).least_offset
            group, seat = self._home[index]
            parts = [
                *self._nested(site, self._held[group].slants[seat], lacks[group]),
                np.array([x for at in beside for x in (at - offset, at + offset)]),
                site.run.x0 + self._rng.integers(1, int(length / tick), _STRAY) * tick,
                np.array([] if phase is None else [phase]),
            ]
            fresh.append(np.concatenate(parts) % length)
        return fresh

    def _nested(
        self, site: Site, slants: Slants, lacks: Sequence[tuple[Floats, Floats]]
    ) -> Iterator[Floats]:
        """Yield the phases that use what is left over in a run's pools, and what is lacked."""
        for pool, shorter in slants.left:
            yield site.run.x0 + self._some(lacks[pool][1]) + shorter
        for pool, shorter in slants.right:
            yield site.run.x1 - self._terms.rooms(self._some(lacks[pool][0])) - shorter

    def _lacks_of(self, picks: Sequence[Pick], held: Holding) -> list[tuple[Floats, Floats]]:
        """Return the starters and the rooms of the picks of some runs, pool by pool."""
        slack, terms = self._terms.wall_error, self._terms
        pools = 1 + max(pool for of in held.slants for pool, _ in (*of.left, *of.right))
        starters: list[list[float]] = [[] for _ in range(pools)]
        rooms: list[list[float]] = [[] for _ in range(pools)]
        for (starter, ender), of_run in zip(picks, held.slants, strict=True):
            for pool, shorter in of_run.left if starter < NEVER else ():
                starters[pool].append(starter - shorter)
            for pool, shorter in of_run.right if ender < NEVER else ():
                rooms[pool].append(terms.room(ender - shorter))
        starters[0] += [terms.room(rest - slack) for rest in held.at_hand.rests]
        rooms[0] += held.at_hand.rooms
        pooled = [(np.unique(s), np.unique(r)) for s, r in zip(starters, rooms, strict=True)]
        return [(s, r[r > TOUCHING_TOLERANCE]) for s, r in pooled]

    def _some(self, values: Floats) -> Floats:
        """Return some of the values, all of them where they are few."""
        if len(values) <= _FRESH:
            return values
        return self._rng.choice(values, _FRESH, replace=False)


def _touching(floor: Floor, count: int) -> list[list[int]]:
    """Return for every run those it touches."""
    touching: list[list[int]] = [[] for _ in range(count)]
    for contact in floor.contacts:
        touching[contact.low].append(contact.high)
        touching[contact.high].append(contact.low)
    return touching
