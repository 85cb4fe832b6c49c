"""Counting reuse: starters and rooms by threshold, and what each threshold is worth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from layout.joints.choices import NEVER, AtHand, Floats, Terms
from layout.values.tolerances import TOUCHING_TOLERANCE

Places = NDArray[np.int64]


@dataclass(slots=True)
class Tally:
    """For every threshold: how many starters are shorter, plus how many rooms reach it."""

    thresholds: Floats
    counts: Floats = field(init=False)

    def __post_init__(self) -> None:
        self.counts = np.zeros(len(self.thresholds))

    def starts(self, starters: Floats) -> Places:
        """Return from which threshold on starters are shorter."""
        return np.searchsorted(self.thresholds, starters + TOUCHING_TOLERANCE, side="left")

    def reaches(self, rooms: Floats) -> Places:
        """Return up to which threshold rooms reach."""
        return np.searchsorted(self.thresholds, rooms + TOUCHING_TOLERANCE, side="right")

    def add_starter(self, place: int, times: float) -> None:
        """Count a starter at its place ``times`` times (-1 takes it away)."""
        self.counts[place:] += times

    def add_room(self, place: int, times: float) -> None:
        """Count a room at its place ``times`` times (-1 takes it away)."""
        self.counts[:place] += times

    def reuses(self) -> float:
        """Return how many starters can come from leftovers."""
        return float(self.counts.min())

    def prices(self, warmth: float) -> Floats:
        """Return the cumulated weights of the thresholds by soft minimum; first 0, last 1."""
        weights = np.exp((self.counts.min() - self.counts) / warmth)
        total = np.concatenate([[0.0], np.cumsum(weights)])
        shares: Floats = total / total[-1]
        return shares


def tally_of(starters: Sequence[Floats], at_hand: AtHand, terms: Terms) -> Tally:
    """Return a tally over the starters that runs may choose, with what is at hand counted."""
    rests = np.array([terms.room(rest - terms.wall_error) for rest in at_hand.rests])
    marks = np.unique(np.concatenate([rests, *starters]))
    tally = Tally(np.append(marks[marks < NEVER / 2], NEVER))
    for room in at_hand.rooms:
        tally.add_room(int(tally.reaches(np.array(room))), 1)
    for rest in rests:
        tally.add_starter(int(tally.starts(np.array(rest))), 1)
    return tally
