"""Which tests one process runs, one after another, where several share a run."""

from __future__ import annotations

import re

import pytest
from xdist.scheduler import LoadGroupScheduling

_KEPT_BOOK = re.compile(r"/test_kept_books\.py::\w+\[(\w+)\]$")


def place_of(nodeid: str) -> str:
    """Return the name under which tests run together; a test's own where it runs alone.

    Reading a kept book takes minutes: what looks at one is not shared out. The marks of groups
    reach no scheduler with this pytest, which lets nobody change the id of a test.
    """
    kept = _KEPT_BOOK.search(nodeid)
    return f"book {kept[1]}" if kept else nodeid


def scheduler_of(config: pytest.Config, log: object) -> object:
    """Return what shares the tests of this run out one by one, those of a kept book at once."""
    scheduler = LoadGroupScheduling(config, log)
    scheduler._split_scope = place_of
    return scheduler
