"""How often to knock, and what came of it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

PLUGIN = "knocks"
"""The name under which the command line hands the test its numbers."""


@dataclass(kw_only=True)
class KnockTally:
    """What came of the knocks: answers by status, and the faults."""

    statuses: Counter[int] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


class Knocks:
    """What the command line says: the seed, how many, and where the tally is put."""

    def __init__(self, seed: int, count: int) -> None:
        self.seed, self.count = seed, count
        self.tally = KnockTally()
