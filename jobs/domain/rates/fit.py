"""The fit of the rates of one task: least squares that are never negative, held to what was.

Unknown is for each rate by which part of itself it is off, x >= -1. What is not known yet holds it
at nought: the rates of a task are thought to be off together by a quarter or so, and each by itself
by as much again. The more work is logged, the less that weighs.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from jobs.domain.rates.boxed import Floats, least_in_box
from jobs.domain.rates.noise import DAY_SCATTER, Scatter
from jobs.domain.rates.spread import t_80

OFF_TOGETHER = 0.3
"""How far the rates of a task are off together, before anything is known; practice, no source."""
OFF_EACH = 0.25
"""How far each rate is off by itself; common practice, no source."""
KNOWN_BEFORE = 8.0
"""How many stretches of work the usual scatter of a day is worth."""
COUNTS_LESS = 2.0
"""From so many times its scatter on a stretch of work counts for less."""
STANDS_OUT = 3.0
"""From so many times its scatter on a stretch of work is named."""
_ROUNDS = 12


@dataclass(frozen=True, slots=True)
class Fitted:
    """By which part of itself each rate is off, how sure that is, how far each stretch lies off.

    `low` and `high` hold the truth four times of five; `outlying` in times of the scatter.
    """

    off: Floats
    low: Floats
    high: Floats
    outlying: Floats


def fitted(
    parts: Floats, hours: Floats, days: Floats, jobs: Sequence[str], fixed: Floats | None = None
) -> Fitted:
    """Return the fit of the hours of stretches of work to the parts that each rate has in them.

    `parts` are the hours by the rates before: a row for each stretch, a column for each rate;
    `fixed` are hours beside them by rates that stand. Where every stretch took longer than its
    parts no rate comes out faster, and the other way round.
    """
    usual = parts.sum(axis=1) + (0 if fixed is None else fixed)
    names = {name: place for place, name in enumerate(dict.fromkeys(jobs))}
    groups = np.array([names[job] for job in jobs], dtype=np.int64)
    scatter = Scatter(usual=usual, days=days, groups=groups, weight=np.ones(len(usual)))
    before = np.linalg.inv(_off_before(parts.shape[1]))
    low, high = _bounds(hours - usual, parts.shape[1])
    off, freedom = np.zeros(parts.shape[1]), KNOWN_BEFORE
    for _ in range(_ROUNDS):
        bowl = parts.T @ scatter.undone(parts) + before
        pull = parts.T @ scatter.undone((hours - usual)[:, None])[:, 0]
        off = least_in_box(bowl, pull, low, high)
        outlying = _outlying(parts, hours - usual, scatter, bowl)
        day, freedom = _day_scatter(parts, hours - usual - parts @ off, scatter, bowl)
        weight = (COUNTS_LESS / np.maximum(np.abs(outlying), COUNTS_LESS)) ** 2
        scatter = Scatter(usual=usual, days=days, groups=groups, weight=weight, day=day)
    reach = t_80(freedom) * np.sqrt(np.diag(np.linalg.inv(bowl)))
    return Fitted(
        off=off,
        low=np.maximum(off - reach, -1.0),
        high=off + reach,
        outlying=outlying,
    )


def _off_before(count: int) -> Floats:
    """Return how the rates of a task are thought to be off, before anything is known."""
    together = np.full((count, count), OFF_TOGETHER**2)
    return together + np.eye(count) * OFF_EACH**2


def _bounds(beyond: Floats, count: int) -> tuple[Floats, Floats]:
    """Return the bounds: never negative, and never against what every stretch of work says."""
    low, high = np.full(count, -1.0), np.full(count, np.inf)
    if (beyond >= 0).all():
        low = np.zeros(count)
    if (beyond <= 0).all():
        high = np.zeros(count)
    return low, high


def _outlying(parts: Floats, beyond: Floats, scatter: Scatter, bowl: Floats) -> Floats:
    """Return how far each stretch lies from what all the others say of it, in its own scatter."""
    through = scatter.undone(parts)
    spread = np.linalg.inv(bowl)
    undone = scatter.undone(beyond[:, None])[:, 0] - through @ spread @ (through.T @ beyond)
    diagonal = scatter.undone_diagonal() - ((through @ spread) * through).sum(axis=1)
    without = np.maximum(1 / diagonal - scatter.alone, 0.0)
    return np.asarray((undone / diagonal) / np.sqrt(without + scatter.bare), dtype=np.float64)


def _day_scatter(
    parts: Floats, left: Floats, scatter: Scatter, bowl: Floats
) -> tuple[float, float]:
    """Return how far a day lies off by what is left over, and how many stretches speak of it."""
    squares = float(left @ scatter.undone(left[:, None])[:, 0]) * scatter.day**2
    gained = np.trace(np.linalg.solve(bowl, parts.T @ scatter.undone(parts)))
    speaks = KNOWN_BEFORE + max(len(left) - float(gained), 0.0)
    known = KNOWN_BEFORE * DAY_SCATTER**2
    return float(np.sqrt((known + squares) / speaks)), speaks
