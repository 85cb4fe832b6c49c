"""What the board knows of a day: a crew with its people on a job. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.checks import require_number, require_text
from jobs.domain.days.clock_hours import clock_hours

Named = tuple[int, str]
"""A key with the name that stands behind it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BookedDay:
    """A day of a crew on a job. ``stops`` are codes and titles of open holds on its work.

    ``penciled``: it is only thought of, a move that is not saved or a job nobody agreed on yet.
    """

    date: date
    number: int
    job: int
    job_number: int
    crew: int
    crew_name: str
    people: tuple[Named, ...] = ()
    man_hours: Decimal
    hours_per_day: Decimal
    stops: tuple[tuple[str, str], ...] = ()
    penciled: bool = False

    def __post_init__(self) -> None:
        """Refuse a crew without a name, a day below the first, hours below none."""
        require_text("crew", self.crew_name)
        require_number("day", self.number, least=1)
        require_number("man-hours", self.man_hours, least=0)
        require_number("hours a day", self.hours_per_day, above=0)

    @property
    def clock_hours(self) -> Decimal:
        """How long the crew is away, in half hours."""
        return clock_hours(self.man_hours, len(self.people))


@dataclass(frozen=True, kw_only=True, slots=True)
class Promise:
    """What a client was promised of a job's first day: that it lies between two dates."""

    job: int
    job_number: int
    first: date
    earliest: date
    latest: date
    words: str

    @property
    def is_broken(self) -> bool:
        """Whether the first day lies outside."""
        return not self.earliest <= self.first <= self.latest


def day_words(day: date) -> str:
    """Return a day as the board names it: Thu, Dec 3."""
    return f"{day:%a, %b} {day.day}"


def hours_words(hours: Decimal) -> str:
    """Return hours as crews say them: 7 1/2 h, 1/2 h."""
    whole, rest = divmod(hours, 1)
    half = "1/2" if rest else ""
    figure = " ".join(part for part in (str(int(whole)) if whole else "", half) if part)
    return f"{figure or '0'} h"


def listed(words: list[str]) -> str:
    """Return words in one: a, b and c."""
    *rest, last = words
    return f"{', '.join(rest)} and {last}" if rest else last
