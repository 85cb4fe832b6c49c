"""Kills the server while a browser's own queue sends its log: `--kills 20`.

    python -m tests.sweeps.phone [--kills 20]

Exit 1 where an entry is missing or doubled.
"""

from __future__ import annotations

import argparse
import sys

import pytest

from tests.sweeps.phone.kills import PLUGIN, Kills

TEST = "tests/browser/day_log/test_killed_while_sending.py"


class _Named:
    """Puts the number of kills where the test looks for it."""

    def __init__(self, count: int) -> None:
        self.count = count

    def pytest_configure(self, config: pytest.Config) -> None:
        """Register it under its name."""
        config.pluginmanager.register(Kills(self.count), PLUGIN)


def main() -> int:
    """Return 0 where nothing is missing or doubled."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.phone")
    parser.add_argument("--kills", type=int, default=20)
    chosen = parser.parse_args()
    return int(pytest.main(["-m", "browser", "-q", TEST], plugins=[_Named(chosen.kills)]))


if __name__ == "__main__":
    sys.exit(main())
