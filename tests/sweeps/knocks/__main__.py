"""Knocks at every door: so many random requests, the same ones for a seed.

    python -m tests.sweeps.knocks [--count 20000] [--seed 12] [--first 0] [--record FILE]

Under `bin/with-postgres` it does so on PostgreSQL. With a record, a run that was broken off goes on
where it was, and a larger count adds to it. Exit 1 where the program was at fault, or a
refusal wrote something.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import pytest

from tests.sweeps.knocks.tally import PLUGIN, Knocks

TEST = "tests/sweeps/knocks/test_knocks.py::test_no_knock_is_a_fault_and_no_refusal_writes"


class _TellsHowMany:
    """Puts the numbers where the test looks for them."""

    def __init__(self, knocks: Knocks) -> None:
        self.knocks = knocks

    def pytest_configure(self, config: pytest.Config) -> None:
        """Register them under their name."""
        config.pluginmanager.register(self.knocks, PLUGIN)


def main() -> int:
    """Return 0 where no knock showed a fault."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.knocks")
    parser.add_argument("--count", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=12)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--record", type=Path)
    chosen = parser.parse_args()
    knocks = Knocks(chosen.seed, chosen.count, first=chosen.first, record=chosen.record)
    began, before = time.monotonic(), knocks.tally.count
    code = pytest.main(
        ["-q", "--show-capture=no", "--tb=no", TEST], plugins=[_TellsHowMany(knocks)]
    )
    statuses = ", ".join(f"{status}: {n}" for status, n in sorted(knocks.tally.statuses.items()))
    faults = "\n".join(knocks.tally.faults) or "no fault"
    took = time.monotonic() - began
    made = knocks.tally.count
    sys.stdout.write(f"{made} knocks, {made - before} of them in {took:.0f} s; {statuses}\n")
    sys.stdout.write(f"{faults}\n")
    return int(code)


if __name__ == "__main__":
    sys.exit(main())
