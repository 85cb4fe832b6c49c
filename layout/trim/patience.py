"""How long trim may be looked at: looks counted, and the caller's stop heard in every phase."""

from __future__ import annotations

from collections.abc import Callable

from layout.solver import Stop


class OutOfTimeError(Exception):
    """The time is up, or a table grew beyond its limit; what stands by then is taken."""


class Patience:
    """The looks that are left, None without end, and the caller's stop.

    A *look* is one round of work that could be the last: where looks are counted the same order
    ends the same way on every machine. The stop is heard between looks as well; ``left`` tells
    the seconds that are left, where the caller's clock counts: programs end by them.
    """

    def __init__(
        self,
        stop: Stop | None = None,
        looks: int | None = None,
        left: Callable[[], float] | None = None,
    ) -> None:
        self._stop = stop or (lambda: False)
        self._left = looks
        self._seconds = left

    def seconds(self) -> float | None:
        """Return the seconds that are left, None where no clock counts."""
        return None if self._seconds is None else max(0.0, self._seconds())

    def look(self) -> bool:
        """Whether the work is to end, one more look counted."""
        if self._left is not None:
            self._left -= 1
            if self._left < 0:
                return True
        return self._stop()

    def over(self) -> bool:
        """Whether the caller says stop; no look is counted."""
        return self._stop()

    def check(self) -> None:
        """Raise OutOfTimeError once the caller says stop; no look is counted."""
        if self._stop():
            raise OutOfTimeError


FOREVER = Patience()
