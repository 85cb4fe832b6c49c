"""How much work may be done on a plan, and how far it has come."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from layout.solver import Stop


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far the planner is: the best plan's planks, the proven bound, the work done so far."""

    planks: int
    lower_bound: int
    iterations: int


class Effort:
    """How much work may still be done: iterations where given, and the caller's stop.

    ``halfway`` is called where half the work would have ended.
    """

    def __init__(self, stop: Stop | None, iterations: int | None) -> None:
        self._stop = stop or (lambda: False)
        self._limit = iterations
        self.iterations = 0
        self.halfway: Callable[[], None] | None = None

    def step(self) -> bool:
        """Whether the effort is spent, one more iteration counted."""
        self.iterations += 1
        if self.halfway and self._limit is not None and self.iterations == self._limit // 2:
            self.halfway()
        return self.spent()

    def counts(self, iterations: int) -> bool:
        """Whether iterations are counted, and so many or more may be done in all."""
        return self._limit is not None and self._limit >= iterations

    def stopped(self) -> bool:
        """Whether the caller said stop, whatever the iterations."""
        return self._stop()

    def spent(self) -> bool:
        """Whether the effort is spent."""
        over = self._limit is not None and self.iterations >= self._limit
        return over or self._stop()
