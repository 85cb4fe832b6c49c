"""Rows of a log: "through row 15" is all up to it that no log has yet, and a row counts once."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

Run = tuple[int, int]


def rows_through(last: int, logged: Iterable[Run]) -> tuple[Run, ...]:
    """Return the rows from 1 to ``last`` that are not logged yet, as runs."""
    return not_yet((1, last), logged)


def not_yet(rows: Run, logged: Iterable[Run]) -> tuple[Run, ...]:
    """Return what of ``rows`` is not logged yet, as runs; none where all of it is."""
    known = {row for first, last in logged for row in range(first, last + 1)}
    left = [row for row in range(rows[0], rows[1] + 1) if row not in known]
    runs = []
    for _, group in groupby(enumerate(left), key=lambda pair: pair[1] - pair[0]):
        run = [row for _, row in group]
        runs.append((run[0], run[-1]))
    return tuple(runs)
