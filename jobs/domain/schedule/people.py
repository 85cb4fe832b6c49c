"""People: how long each works a day, what each may do, and how the drive shortens the day."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from math import floor

from jobs.domain.checks import ZERO, require_number, require_text, require_unique
from jobs.domain.days.crew import CrewDay
from jobs.domain.schedule.halves import quarters_of


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewPerson:
    """One of a crew: hours a day of this very person, and the dates between which they are in it.

    A `helper` does helpers' tasks alone. `skills` are codes of tasks; empty: all.
    """

    name: str
    hours: Decimal = Decimal(8)
    helper: bool = False
    skills: frozenset[str] = frozenset()
    since: date | None = None
    until: date | None = None

    def __post_init__(self) -> None:
        """Refuse somebody without a name, and a day of no hours or of more than there are."""
        require_text("person.name", self.name)
        require_number(f"person {self.name}.hours", self.hours, above=0, below=24)

    def is_in(self, day: date) -> bool:
        """Whether they belong to the crew on this day."""
        begun = self.since is None or self.since <= day
        return begun and (self.until is None or day <= self.until)

    def may_do(self, code: str, *, for_helpers: bool) -> bool:
        """Whether they may do a task of this kind."""
        return (for_helpers or not self.helper) and (not self.skills or code in self.skills)


@dataclass(frozen=True, kw_only=True, slots=True)
class Team:
    """Who works, from when, and the man-hours that all of them drive a day, out and home.

    The crew itself are the first `size` people (0: all); on the dates of `others` another crew
    works, of so many, for so many hours each.
    """

    people: tuple[CrewPerson, ...]
    starts: Decimal = Decimal(8)
    drive: Decimal = ZERO
    size: int = 0
    others: Mapping[date, tuple[int, Decimal]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse a crew of nobody and a day that does not begin on one."""
        require_number("crew.people", len(self.people), least=1)
        require_unique("crew.people", [person.name for person in self.people])
        require_number("crew.starts", self.starts, least=0, below=24)
        require_number("crew.drive", self.drive, least=0)

    @property
    def leg(self) -> int:
        """Quarters of an hour on the clock from the door to the site, and as many home."""
        return quarters_of(self.drive / (self.size or len(self.people)) / 2)

    @property
    def opens(self) -> int:
        """The quarter of a day in which the crew is on site."""
        return quarters_of(self.starts) + self.leg

    def with_one_on(self, day: date) -> "Team":
        """Return the team where the lead alone comes on a day."""
        return replace(self, others={**self.others, day: (1, self.people[0].hours)})

    def halves(self, day: date) -> tuple[int, ...]:
        """Return the half hours that each has on site; none of those who are away."""
        if day in self.others:
            many, hours = self.others[day]
            whole = max(0, floor(hours * 2) - self.leg)
            return tuple(whole if place < many else 0 for place in range(len(self.people)))
        size = self.size or len(self.people)
        return tuple(
            max(0, floor(person.hours * 2) - self.leg) if place < size and person.is_in(day) else 0
            for place, person in enumerate(self.people)
        )


def named_people(crew: CrewDay) -> tuple[CrewPerson, ...]:
    """Return a crew that is known by its number: the lead, others, and helpers beside them.

    Who leaves are the last of the installers: the lead stays longest.
    """
    lasts: list[date | None] = [None] * (crew.people - len(crew.leaving))
    lasts += sorted(crew.leaving, reverse=True)
    lasts += [None] * crew.helpers
    return tuple(
        CrewPerson(name=name, hours=crew.hours_per_day, helper=place >= crew.people, until=last)
        for place, (name, last) in enumerate(zip(_names(crew), lasts, strict=True))
    )


def _names(crew: CrewDay) -> Sequence[str]:
    others = [f"Installer {number}" for number in range(2, crew.people + 1)]
    return ["Lead", *others, *(f"Helper {number}" for number in range(1, crew.helpers + 1))]
