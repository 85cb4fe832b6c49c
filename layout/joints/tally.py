"""Counting reuse: starters and rooms by threshold, and what each threshold is worth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from layout.joints.choices import NEVER, AtHand, Choices, Floats, Terms
from layout.values.tolerances import TOUCHING_TOLERANCE

Places = NDArray[np.int64]


@dataclass(slots=True)
class Tally:
    """For every threshold: how many starters are shorter, plus how many rooms reach it."""

    thresholds: Floats
    counts: Floats = field(init=False)

    def __post_init__(self) -> None:
        self.counts = np.zeros(len(self.thresholds))

    def places(self, choices: Choices, terms: Terms) -> tuple[Places, Places]:
        """Return from which threshold on a starter is shorter, and up to which a room reaches."""
        rooms = terms.rooms(choices.ender)
        return (
            np.searchsorted(self.thresholds, choices.starter + TOUCHING_TOLERANCE, side="left"),
            np.searchsorted(self.thresholds, rooms + TOUCHING_TOLERANCE, side="right"),
        )

    def add(self, starter: int, room: int, times: float) -> None:
        """Count a starter and a room, at their places, ``times`` times (-1 takes them away)."""
        self.counts[starter:] += times
        self.counts[:room] += times

    def reuses(self) -> float:
        """Return how many starters can come from leftovers."""
        return float(self.counts.min())

    def prices(self, warmth: float) -> Floats:
        """Return the cumulated weights of the thresholds by soft minimum; first 0, last 1."""
        weights = np.exp((self.counts.min() - self.counts) / warmth)
        total = np.concatenate([[0.0], np.cumsum(weights)])
        shares: Floats = total / total[-1]
        return shares


def tally_of(choices: Sequence[Choices], at_hand: AtHand, terms: Terms) -> Tally:
    """Return a tally over the starters that runs may choose, with what is at hand counted."""
    rests = np.array([terms.room(rest - terms.wall_error) for rest in at_hand.rests])
    marks = np.unique(np.concatenate([rests, *(of_run.starter for of_run in choices)]))
    tally = Tally(np.append(marks[marks < NEVER], NEVER))
    for room in at_hand.rooms:
        tally.counts[
            : int(np.searchsorted(tally.thresholds, room + TOUCHING_TOLERANCE, side="right"))
        ] += 1
    for rest in rests:
        tally.counts[
            int(np.searchsorted(tally.thresholds, rest + TOUCHING_TOLERANCE, side="left")) :
        ] += 1
    return tally
