"""Rows of a log: "through row 15" is all up to it that no log has yet, and a row counts once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

Run = tuple[int, int]


@dataclass(frozen=True, kw_only=True, slots=True)
class RowsOfDay:
    """The rows of a floor that a day was to lay, and whether its log says how far it came."""

    rows: Run
    logged: bool


def not_yet(rows: Run, logged: Iterable[Run]) -> tuple[Run, ...]:
    """Return what of ``rows`` is not logged yet, as runs; none where all of it is."""
    left = _single([rows]) - _single(logged)
    return _runs(left)


def on_no_day(days: Iterable[RowsOfDay], logged: Iterable[Run]) -> tuple[Run, ...]:
    """Return the rows of logged days that no log has and no day still to come, as runs."""
    days = list(days)
    planned = _single(day.rows for day in days if day.logged)
    to_come = _single(day.rows for day in days if not day.logged)
    return _runs(planned - _single(logged) - to_come)


def _single(runs: Iterable[Run]) -> set[int]:
    return {row for first, last in runs for row in range(first, last + 1)}


def _runs(rows: Iterable[int]) -> tuple[Run, ...]:
    runs = []
    for _, group in groupby(enumerate(sorted(rows)), key=lambda pair: pair[1] - pair[0]):
        run = [row for _, row in group]
        runs.append((run[0], run[-1]))
    return tuple(runs)
