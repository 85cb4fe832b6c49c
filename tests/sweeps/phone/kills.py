"""How often the server is killed: a few times in the suite, as often as is said in a sweep."""

from __future__ import annotations

import pytest

FEW = 3
PLUGIN = "kills of a sweep"


class Kills:
    """What a sweep hands to the test: how many kills."""

    def __init__(self, count: int) -> None:
        self.count = count


def kills_wanted(config: pytest.Config) -> int:
    """Return how many kills the test is run with."""
    of_sweep = config.pluginmanager.get_plugin(PLUGIN)
    return of_sweep.count if isinstance(of_sweep, Kills) else FEW
