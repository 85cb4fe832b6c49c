"""Days that are only thought of: a change before it is saved, crews penciled in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.board.booked import BookedDay, Named
from jobs.domain.board.conflicts import Conflict
from jobs.domain.days.moves import DayStanding, EffectLine
from jobs.models import Crew, Job, PenciledCrew
from jobs.readers.board.holds import OpenHolds

IN_THE_EFFECT = ("person", "promise")
"""Conflicts that the effect of a change says by itself."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TentativeDays:
    """The days of a job as they lie, and as they would lie."""

    job: Job
    now: Sequence[DayStanding]
    then: Sequence[DayStanding]

    @property
    def first(self) -> date:
        """The first date that is touched; that of the job where none is."""
        was, will = set(map(_place, self.now)), set(map(_place, self.then))
        days = (*self.now, *self.then)
        return min(
            (one.date for one in days if _place(one) in was ^ will), default=days[0].date
        )  # fmt: skip


def people_of(crew: Crew) -> list[Named]:
    """Return the people of a crew who have not left."""
    return [(one.pk, one.name) for one in crew.members.all() if one.is_active]


def tentative_days(change: TentativeDays, holds: OpenHolds) -> Iterator[BookedDay]:
    """Yield the days of a job as they would lie; those that would be others are penciled."""
    keys = {one.crew for one in change.then}
    crews = {crew.pk: crew for crew in Crew.objects.filter(pk__in=keys).prefetch_related("members")}
    was, job = set(map(_place, change.now)), change.job
    still_open = holds.get(job.pk, {}).values()
    for one in change.then:
        crew = crews[one.crew]
        yield BookedDay(
            date=one.date,
            number=one.number,
            job=job.pk,
            job_number=job.number,
            crew=crew.pk,
            crew_name=crew.name,
            people=tuple(people_of(crew)),
            man_hours=one.booked,
            hours_per_day=crew.hours_per_day,
            stops=tuple((h.code, h.title) for h in still_open if one.tasks & set(h.blocks)),
            penciled=_place(one) not in was,
        )


def penciled_days(rows: Iterable[PenciledCrew]) -> Iterator[BookedDay]:
    """Yield the days that penciled crews would have, as they were worked out."""
    for row in rows:
        people = tuple(people_of(row.crew))
        for number, day in enumerate(row.days, start=1):
            yield BookedDay(
                date=date.fromisoformat(day["date"]),
                number=number,
                job=row.job_id,
                job_number=row.job.number,
                crew=row.crew_id,
                crew_name=row.crew.name,
                people=people,
                man_hours=Decimal(day["hours"]),
                hours_per_day=row.crew.hours_per_day,
                penciled=True,
            )


def conflict_lines(was: Sequence[Conflict], will: Sequence[Conflict]) -> list[EffectLine]:
    """Return the conflicts that a change makes or mends, now and then."""
    was = [one for one in was if one.kind not in IN_THE_EFFECT]
    will = [one for one in will if one.kind not in IN_THE_EFFECT]
    made, gone = {one.key for one in will}, {one.key for one in was}
    return [
        *(_line(one, was="none", will=one.text) for one in will if one.key not in gone),
        *(_line(one, was=one.text, will="none") for one in was if one.key not in made),
    ]


def _line(one: Conflict, *, was: str, will: str) -> EffectLine:
    return EffectLine(name=f"Conflict: {one.title.lower()}", now=was, then=will)


def _place(day: DayStanding) -> tuple[int, date, int]:
    return day.number, day.date, day.crew
