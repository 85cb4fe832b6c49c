"""How often to knock, what came of it, and how far a long run got."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

PLUGIN = "knocks"
"""The name under which the command line hands the test its numbers."""


@dataclass(kw_only=True)
class KnockTally:
    """What came of the knocks: answers by status, and the faults."""

    statuses: Counter[int] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)

    @property
    def count(self) -> int:
        """Return how many knocks were made."""
        return sum(self.statuses.values())


class Knocks:
    """What the command line says: the seed, how many, from which on, and where the tally is put.

    With a ``record`` the run is kept after every few knocks, and one broken off goes on from there.
    """

    def __init__(
        self, seed: int, count: int, *, first: int = 0, record: Path | None = None
    ) -> None:
        self.seed, self.count, self.first, self.record = seed, count, first, record
        self.tally = KnockTally()
        if record is not None and record.exists():
            self._go_on(json.loads(record.read_text()))

    def _go_on(self, kept: dict[str, object]) -> None:
        if (kept["seed"], kept["first"]) != (self.seed, self.first):
            message = f"{self.record} is of seed {kept['seed']} from {kept['first']} on"
            raise ValueError(message)
        statuses, faults = kept["statuses"], kept["faults"]
        if isinstance(statuses, dict) and isinstance(faults, list):
            self.tally.statuses.update({int(status): n for status, n in statuses.items()})
            self.tally.faults += faults

    def keep(self) -> None:
        """Write down how far the run is."""
        if self.record is None:
            return
        kept = {
            "seed": self.seed,
            "first": self.first,
            "statuses": dict(self.tally.statuses),
            "faults": self.tally.faults,
        }
        part = self.record.with_name(f"{self.record.name}.part")
        part.write_text(json.dumps(kept, indent=1))
        part.replace(self.record)
