"""The best that could be known of a crew: the fit of one who knows how it is off and scatters.

Generalised least squares with the very spreads that the crews are drawn with, and without the logs
that are nonsense: what the logs of so many jobs can tell at all. No fit of rates can be better on
average, so the learned rates are held against it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from statistics import fmean

import numpy as np
from numpy.typing import NDArray

from jobs.domain.rates.work import WorkDone

Floats = NDArray[np.float64]
Key = tuple[str, str, str]

EACH_OFF = 0.2
"""How far the rates of the drawn crews are off each by itself, on average."""
TASK_OFF = (0.15**2 + 0.225**2) ** 0.5
"""How far those of a task are off together: the crew as a whole and the task, on average."""
QUARTER = 0.25 / 12**0.5


def least_error(
    truth: Mapping[Key, float],
    before: Mapping[Key, float],
    scatter: tuple[float, float],
    stretches: Sequence[tuple[WorkDone, Mapping[Key, float]]],
) -> float:
    """Return the mean error of all rates that this work speaks of, for one who knows the crew.

    `scatter` is how far a day and a whole job lie off; each stretch has the amount by its rate.
    """
    errors: list[float] = []
    for code in dict.fromkeys(work.task_code for work, _ in stretches):
        of_task = [each for each in stretches if each[0].task_code == code]
        errors += _errors(truth, before, scatter, of_task)
    return fmean(errors)


def _errors(
    truth: Mapping[Key, float],
    before: Mapping[Key, float],
    scatter: tuple[float, float],
    stretches: Sequence[tuple[WorkDone, Mapping[Key, float]]],
) -> list[float]:
    keys = sorted({key for _, amounts in stretches for key in amounts})
    parts = np.array([[before[k] * amounts.get(k, 0.0) for k in keys] for _, amounts in stretches])
    hours = np.array([float(work.hours) for work, _ in stretches])
    off = np.array([truth[key] / before[key] for key in keys])
    sense = (hours < 1.9 * parts @ off) & (hours > 0.45 * parts @ off)
    jobs = np.array([work.job for work, _ in stretches])[sense]
    known = 1 + _best(parts[sense], hours[sense], scatter, (parts @ off)[sense], jobs)
    return [abs(float(best / true) - 1) for best, true in zip(known, off, strict=True)]


def _best(
    parts: Floats,
    hours: Floats,
    scatter: tuple[float, float],
    takes: Floats,
    jobs: NDArray[np.str_],
) -> Floats:
    day, job = scatter
    noise = np.diag((day * takes) ** 2 + QUARTER**2)
    noise += (jobs[:, None] == jobs[None, :]) * np.outer(takes, takes) * job**2
    count = parts.shape[1]
    thought = np.full((count, count), TASK_OFF**2) + np.eye(count) * EACH_OFF**2
    through = np.linalg.solve(noise, parts)
    bowl = parts.T @ through + np.linalg.inv(thought)
    best: Floats = np.linalg.solve(bowl, through.T @ (hours - parts.sum(axis=1)))
    return best
