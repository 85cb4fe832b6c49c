"""What can't be as it stands on the board: each kind by a rule of its own. Pure.

A conflict has a key made of what it is between. Kept with a reason, it stays kept only while it is
between the same: a further job, another date or hold is another conflict.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from jobs.domain.board.booked import BookedDay, Named, Promise, day_words, hours_words, listed

ConflictKind = Literal["crew", "person", "gate", "promise"]

TITLES: Mapping[ConflictKind, str] = {
    "crew": "One crew, two jobs",
    "person": "One person, two crews",
    "gate": "HOLD not cleared",
    "promise": "Promised date",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Conflict:
    """One thing that can't be as it stands: where, in words, and the jobs that are in it.

    ``crew`` and ``person`` are whose day it is, where it is a crew's or a person's.
    """

    kind: ConflictKind
    key: str
    date: date
    text: str
    jobs: tuple[Named, ...]
    crew: int | None = None
    person: int | None = None

    def is_of(self, day: BookedDay, person: int | None = None) -> bool:
        """Whether a day is in it, as the crew has that day or as one person of the crew has it."""
        if self.date != day.date or day.job not in {job for job, _ in self.jobs}:
            return False
        if self.person is not None:
            people = {one for one, _ in day.people} if person is None else {person}
            return self.person in people
        return self.crew is None or self.crew == day.crew

    @property
    def title(self) -> str:
        """The kind in words."""
        return TITLES[self.kind]


def conflicts_in(days: Sequence[BookedDay], promises: Iterable[Promise] = ()) -> list[Conflict]:
    """Return every conflict of these days, by date."""
    every = [*_crews(days), *_people(days), *_gates(days), *_promises(promises)]
    return sorted(every, key=lambda one: (one.date, one.kind, one.key))


def _crews(days: Iterable[BookedDay]) -> Iterator[Conflict]:
    """Yield each crew that is on several jobs in one day."""
    together: dict[tuple[date, int], list[BookedDay]] = defaultdict(list)
    for day in days:
        together[day.date, day.crew].append(day)
    for (on, crew), those in together.items():
        jobs = _jobs(those)
        if len(jobs) > 1:
            parts = listed([f"job {d.job_number} ({hours_words(d.clock_hours)})" for d in those])
            whole = hours_words(those[0].hours_per_day)
            yield Conflict(
                kind="crew",
                key=_key("crew", crew, on, jobs),
                date=on,
                text=f"{those[0].crew_name} is on {parts} on {day_words(on)}; a day has {whole}.",
                jobs=jobs,
                crew=crew,
            )


def _people(days: Iterable[BookedDay]) -> Iterator[Conflict]:
    """Yield each person whom two crews have on two jobs in one day."""
    together: dict[tuple[date, Named], list[BookedDay]] = defaultdict(list)
    for day in days:
        for each in day.people:
            together[day.date, each].append(day)
    for (on, (person, name)), those in together.items():
        jobs = _jobs(those)
        if len(jobs) > 1 and len({day.crew for day in those}) > 1:
            parts = listed([f"job {d.job_number} ({d.crew_name})" for d in those])
            yield Conflict(
                kind="person",
                key=_key("person", person, on, jobs),
                date=on,
                text=f"{name} is on {parts} on {day_words(on)}.",
                jobs=jobs,
                person=person,
            )


def _gates(days: Iterable[BookedDay]) -> Iterator[Conflict]:
    """Yield each hold that nobody cleared and the first day of a job whose work it stops."""
    firsts: dict[tuple[int, str], tuple[BookedDay, str]] = {}
    for day in sorted(days, key=lambda one: one.date):
        for code, title in day.stops:
            firsts.setdefault((day.job, code), (day, title))
    for (job, code), (day, title) in firsts.items():
        yield Conflict(
            kind="gate",
            key=f"gate:{job}:{code}:{day.date}",
            date=day.date,
            text=f"Job {day.job_number}, {day_words(day.date)}: {title}. Nobody cleared it yet.",
            jobs=((job, str(day.job_number)),),
        )


def _promises(promises: Iterable[Promise]) -> Iterator[Conflict]:
    """Yield each promise that the first day of its job breaks."""
    for one in promises:
        if one.is_broken:
            yield Conflict(
                kind="promise",
                key=f"promise:{one.job}:{one.earliest}:{one.latest}:{one.first}",
                date=one.first,
                text=f"Job {one.job_number} begins on {day_words(one.first)}. {one.words}",
                jobs=((one.job, str(one.job_number)),),
            )


def _jobs(days: Iterable[BookedDay]) -> tuple[Named, ...]:
    return tuple(sorted({(day.job, str(day.job_number)) for day in days}))


def _key(kind: ConflictKind, who: int, on: date, jobs: Iterable[Named]) -> str:
    return f"{kind}:{who}:{on}:{'+'.join(str(job) for job, _ in jobs)}"
