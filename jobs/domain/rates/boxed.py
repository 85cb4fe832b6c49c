"""The least of a bowl within a box: a quadratic with a lower and an upper bound for each unknown.

The active-set method: unknowns at a bound are held there, the others go to the least that they can
reach, and whoever would rather leave its bound is let go, one after the other. Each step lowers
the quadratic and there are finitely many sets, so it ends.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_CLOSE = float(np.finfo(np.float64).eps) ** 0.6


def least_in_box(bowl: Floats, pull: Floats, low: Floats, high: Floats) -> Floats:
    """Return the x between `low` and `high` with the least x'Bx / 2 - p'x; B positive definite."""
    x: Floats = np.clip(np.linalg.solve(bowl, pull), low, high)
    held = (x <= low) | (x >= high)
    for _ in range(20 * (len(x) + 1)):
        x = _to_the_least(bowl, pull, low, high, x, held)
        slope = bowl @ x - pull
        wish = np.where(x <= low, -slope, np.where(x >= high, slope, 0.0))
        wish = np.where(held & (high > low), wish, 0.0)
        leaves = int(np.argmax(wish))
        if wish[leaves] <= _CLOSE * max(1.0, float(np.abs(pull).max())):
            break
        held[leaves] = False
    return x


def _to_the_least(
    bowl: Floats, pull: Floats, low: Floats, high: Floats, x: Floats, held: NDArray[np.bool_]
) -> Floats:
    """Return x with what is free at its least; what meets a bound on the way is `held`."""
    while not held.all():
        free = ~held
        there = x.copy()
        rest = pull[free] - bowl[np.ix_(free, held)] @ x[held]
        there[free] = np.linalg.solve(bowl[np.ix_(free, free)], rest)
        step = there - x
        with np.errstate(divide="ignore", invalid="ignore"):
            room = np.where(
                step < 0, (low - x) / step, np.where(step > 0, (high - x) / step, np.inf)
            )
        room = np.where(free, room, np.inf)
        first = int(np.argmin(room))
        if room[first] >= 1:
            return there
        x = x + max(float(room[first]), 0.0) * step
        x[first] = low[first] if step[first] < 0 else high[first]
        held[first] = True
    return x
