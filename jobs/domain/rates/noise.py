"""How work scatters: from day to day, from job to job, and by the quarter hour it is logged in.

A day's hours scatter by a part of themselves, those of several days by less; a job's days go fast
or slow together; and hours are logged in quarters. A day that stands far out counts for less.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from jobs.domain.rates.boxed import Floats

DAY_SCATTER = 0.25
"""How far a day lies from what it should take, before any is known; common practice, no source."""
JOB_PART = 0.5
"""How far a whole job lies off, as a part of how far a day does; common practice, no source."""
QUARTER_SCATTER = 0.25 / 12**0.5
"""What rounding to a quarter hour does: the spread of an even error of up to an eighth."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Scatter:
    """Variances of stretches of work, beside each other and in their jobs.

    `usual` are the hours of each at the rates before; `groups` say by number which job it is of.
    """

    usual: Floats
    days: Floats
    groups: NDArray[np.int64]
    day: float = DAY_SCATTER
    weight: Floats

    @property
    def alone(self) -> Floats:
        """The variance of each by itself; one that counts for less has more."""
        return self.bare / self.weight

    @property
    def bare(self) -> Floats:
        """The variance of each by itself as if it counted in full."""
        return (self.day * self.usual) ** 2 / self.days + QUARTER_SCATTER**2

    def undone(self, columns: Floats) -> Floats:
        """Return the inverse of the whole covariance times these columns, job by job.

        Within a job it is a diagonal and one pair of vectors more (Sherman and Morrison).
        """
        alone, together = 1 / self.alone, JOB_PART * self.day * self.usual
        along = alone * together
        count = int(self.groups.max()) + 1
        heavy = 1 + np.bincount(self.groups, weights=along * together, minlength=count)
        summed = np.zeros((count, columns.shape[1]))
        np.add.at(summed, self.groups, along[:, None] * columns)
        return alone[:, None] * columns - along[:, None] * (summed / heavy[:, None])[self.groups]

    def undone_diagonal(self) -> Floats:
        """Return the diagonal of that inverse."""
        alone, together = 1 / self.alone, JOB_PART * self.day * self.usual
        along = alone * together
        heavy = 1 + np.bincount(self.groups, weights=along * together)
        return alone - along**2 / heavy[self.groups]
