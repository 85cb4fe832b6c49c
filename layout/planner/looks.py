"""What the eye sees in the joints of rows, counted again as rows change."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from layout.values.tolerances import TOUCHING_TOLERANCE


class Looks:
    """Joints row by row, and the H-joints and staircases among them.

    An H-joint: two joints of a row and the next but one within an inch. A staircase: a step from
    one row to the next that comes again twice more.
    """

    def __init__(self, rows: Sequence[Sequence[float]], length: float, inch: float) -> None:
        self.rows = [sorted(row) for row in rows]
        self._half = length / 2
        self._inch = inch
        self._faults = [self._begun_at(k) for k in range(len(rows))]

    @property
    def total(self) -> int:
        """H-joints and staircases together."""
        return sum(self._faults)

    def faulty_rows(self) -> list[int]:
        """Return the rows, counted from 0, that H-joints and staircases lie in."""
        reach = {k + i for k, faults in enumerate(self._faults) if faults for i in range(4)}
        return sorted(row for row in reach if row < len(self.rows))

    def replace(self, number: int, row: Sequence[float]) -> None:
        """Give one row (counted from 0) other joints."""
        self.rows[number] = sorted(row)
        for k in range(max(0, number - 3), number + 1):
            self._faults[k] = self._begun_at(k)

    def _begun_at(self, k: int) -> int:
        """Return the H-joints and staircases whose first row is ``k``."""
        rows = self.rows[k : k + 4]
        if len(rows) < 3:
            return 0
        faults = sum(self._near(x, rows[2]) for x in rows[0])
        if len(rows) < 4:
            return faults
        for a in rows[0]:
            for b in rows[1]:
                if self._inch < abs(b - a) <= self._half + self._inch / 100:
                    step = b - a
                    faults += self._near(b + step, rows[2]) and self._near(b + 2 * step, rows[3])
        return faults

    def _near(self, x: float, row: Sequence[float]) -> bool:
        """Whether a joint of the row stands within an inch (and rounding) of ``x``."""
        k = bisect_left(row, x - self._inch - TOUCHING_TOLERANCE)
        return k < len(row) and row[k] <= x + self._inch + TOUCHING_TOLERANCE
