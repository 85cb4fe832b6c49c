"""How much work may be done on a plan, and how far it has come."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from layout.solver import Stop
from layout.values.plan import Plan

_RESERVE = 1.9  # of what writing a plan down took: its offcuts take about as long


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far the planner is: the best plan's planks, the proven bound, the work done so far."""

    planks: int
    lower_bound: int
    iterations: int


class Effort:
    """How much work may still be done: iterations where given, the caller's stop and clock.

    ``left`` tells the seconds that are left, where seconds count. What writing a plan down takes is
    kept in reserve, so that the best plan can still be written and its offcuts listed in time.
    """

    def __init__(
        self,
        stop: Stop | None,
        iterations: int | None,
        left: Callable[[], float] | None = None,
    ) -> None:
        self._stop = stop or (lambda: False)
        self._limit = iterations
        self._left = left
        self._reserve = 0.0
        self.iterations = 0

    @property
    def counted(self) -> bool:
        """Whether iterations are counted, so that the same work is done every time."""
        return self._limit is not None

    def enough(self, iterations: int) -> bool:
        """Whether iterations are counted, and so many or more may be done."""
        return self._limit is not None and self._limit >= iterations

    def step(self) -> bool:
        """Whether the effort is spent, one more iteration counted."""
        self.iterations += 1
        return self.spent()

    def stopped(self) -> bool:
        """Whether the caller said stop or the time is up, whatever the iterations."""
        return self._stop() or (self._left is not None and self._left() <= self._reserve)

    def spent(self) -> bool:
        """Whether the effort is spent."""
        over = self._limit is not None and self.iterations >= self._limit
        return over or self.stopped()

    def writing(self, written: Callable[[], Plan]) -> Plan:
        """Return a plan written down; as long as that took, and more, is kept in reserve."""
        if self._left is None:
            return written()
        began = self._left()
        plan = written()
        self._reserve = max(self._reserve, _RESERVE * (began - self._left()))
        return plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """What the caller says about time: when to stop, how much is left, who hears of progress."""

    stop: Stop | None = None
    left: Callable[[], float] | None = None
    progress: Callable[[Progress], None] | None = None

    @property
    def endless(self) -> bool:
        """Whether nothing but iterations can end the work."""
        return self.stop is None and self.left is None

    def over(self) -> bool:
        """Whether the time is up."""
        return self.effort(None).spent()

    def effort(self, iterations: int | None) -> Effort:
        """Return an effort of so many iterations, or by the time alone."""
        return Effort(self.stop, iterations, self.left)
