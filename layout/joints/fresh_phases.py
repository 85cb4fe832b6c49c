"""New choices for every run: from what the others leave over or lack, and from their joints."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from layout.joints.choices import NEVER, AtHand, Floats, Pick, Site, Terms
from layout.rows.rows import Floor
from layout.values.tolerances import TOUCHING_TOLERANCE

_FRESH = 40  # new choices of one kind offered to a run at a time
_STRAY = 6  # new choices drawn at random


class FreshPhases:
    """Draws new phases for the runs of a floor.

    ``held`` are the runs of each board width and the leftovers at hand of that width.
    """

    def __init__(
        self,
        floor: Floor,
        sites: Sequence[Site],
        terms: Terms,
        held: Sequence[tuple[Sequence[int], AtHand]],
        rng: np.random.Generator,
    ) -> None:
        self._sites, self._terms, self._held, self._rng = sites, terms, held, rng
        self._touching = _touching(floor, len(sites))
        self._group = {run: g for g, (runs, _) in enumerate(held) for run in runs}

    def phases(self, picks: Sequence[Pick]) -> list[Floats]:
        """Return new phases for every run, from leftovers, lacks and neighbors of some picks."""
        length, tick, offset = self._terms.length, self._terms.tick, self._terms.least_offset
        lacks = [self._lacks_of([picks[run] for run in runs], held) for runs, held in self._held]
        phases = [
            site.run.x0 + s if max(s, e) < NEVER else None
            for site, (s, e) in zip(self._sites, picks, strict=True)
        ]
        fresh = []
        for index, site in enumerate(self._sites):
            beside = [at for other in self._touching[index] if (at := phases[other]) is not None]
            phase = phases[index]
            starters, rooms = lacks[self._group[index]]
            parts = [
                site.run.x0 + self._some(rooms),
                site.run.x1 - self._terms.rooms(self._some(starters)),
                np.array([x for at in beside for x in (at - offset, at + offset)]),
                site.run.x0 + self._rng.integers(1, int(length / tick), _STRAY) * tick,
                np.array([] if phase is None else [phase]),
            ]
            fresh.append(np.concatenate(parts) % length)
        return fresh

    def _lacks_of(self, picks: Sequence[Pick], held: AtHand) -> tuple[Floats, Floats]:
        """Return the starters and the rooms of the picks of some runs."""
        slack = self._terms.wall_error
        lacked = [self._terms.room(rest - slack) for rest in held.rests]
        given = [self._terms.room(e) for _, e in picks if e < NEVER]
        starters = np.unique([*(s for s, _ in picks if s < NEVER), *lacked])
        rooms = np.unique([*given, *held.rooms])
        return starters, rooms[rooms > TOUCHING_TOLERANCE]

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
