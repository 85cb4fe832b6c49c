"""What a change of days does beyond the job: other jobs, people twice, promises, who must hear."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from jobs.domain.days.moves import DayStanding, EffectLine, effect_lines
from jobs.domain.days.placed.reasons import day_words
from jobs.models import Crew, User, WorkDay
from jobs.readers.board.promises import promised_starts


@dataclass(frozen=True, slots=True)
class _Neighbors:
    """The crews of a job's days, now or then, and the days on other jobs of their people."""

    crews: Mapping[int, Crew]
    others: Mapping[date, Sequence[WorkDay]]

    def people(self, crew: int) -> set[User]:
        """Return who is in a crew."""
        return set(self.crews[crew].members.all()) if crew in self.crews else set()

    def jobs_of(self, person: User, on: date) -> list[int]:
        """Return the numbers of the other jobs that a person is on."""
        days = self.others.get(on, ())
        return [one.job.number for one in days if person in one.crew.members.all()]


def whole_effect(
    day: WorkDay, now: Sequence[DayStanding], then: Sequence[DayStanding]
) -> list[EffectLine]:
    """Return all that a change of a day's job does, now and then."""
    around = _neighbors(day, (*now, *then))
    moved = [(one.date, one.crew) for one in now] != [(one.date, one.crew) for one in then]
    return [
        *effect_lines(now, then),
        EffectLine(
            name=f"{day.crew} on {day_words(day.date)}",
            now=_crew_on(day, now, around),
            then=_crew_on(day, then, around),
        ),
        *_people_twice(day, now, then, around),
        *_promises(day, now, then),
        *_who_must_hear(day, moved=moved),
    ]


def _neighbors(day: WorkDay, standings: Sequence[DayStanding]) -> _Neighbors:
    keys = {day.crew_id, *(one.crew for one in standings if one.crew)}
    crews = {crew.pk: crew for crew in Crew.objects.filter(pk__in=keys).prefetch_related("members")}
    people = {person.pk for crew in crews.values() for person in crew.members.all()}
    dates = {day.date, *(one.date for one in standings)}
    days = WorkDay.objects.filter(date__in=dates, crew__members__in=people).exclude(job=day.job)
    rows = days.distinct().select_related("job").prefetch_related("crew__members")
    by_date: dict[date, list[WorkDay]] = defaultdict(list)
    for other in rows.order_by("date", "job__number"):
        by_date[other.date].append(other)
    return _Neighbors(crews=crews, others=by_date)


def _crew_on(day: WorkDay, standings: Sequence[DayStanding], around: _Neighbors) -> str:
    """Return where the crew of a day is on the date of the day."""
    if any(one.date == day.date and one.crew in (0, day.crew_id) for one in standings):
        return "here"
    people = around.people(day.crew_id)
    numbers = dict.fromkeys(
        number for person in people for number in around.jobs_of(person, day.date)
    )
    return "at " + ", ".join(f"job {number}" for number in sorted(numbers)) if numbers else "free"


def _people_twice(
    day: WorkDay, now: Sequence[DayStanding], then: Sequence[DayStanding], around: _Neighbors
) -> Iterator[EffectLine]:
    """Yield everybody who is on two jobs on one day, now or then."""
    was, will = (_people_by_date(days, day, around) for days in (now, then))
    for on in sorted(around.others):
        for person in sorted(was.get(on, set()) | will.get(on, set()), key=str):
            for number in around.jobs_of(person, on):
                alone = f"on job {number}"
                both = f"on two jobs: {number} and {day.job.number}"
                yield EffectLine(
                    name=f"{person.name}, {day_words(on)}",
                    now=both if person in was.get(on, ()) else alone,
                    then=both if person in will.get(on, ()) else alone,
                )


def _people_by_date(
    standings: Sequence[DayStanding], day: WorkDay, around: _Neighbors
) -> dict[date, set[User]]:
    return {one.date: around.people(one.crew or day.crew_id) for one in standings}


def _promises(
    day: WorkDay, now: Collection[DayStanding], then: Collection[DayStanding]
) -> Iterator[EffectLine]:
    """Yield the start that was promised, and whether it is kept."""
    was, will = (min((one.date for one in days), default=day.date) for days in (now, then))
    for said in promised_starts({day.job_id: day.job}):
        first, second = (
            f"{day_words(on)}, {'kept' if said.earliest <= on <= said.latest else 'broken'}"
            for on in (was, will)
        )
        yield EffectLine(name=f"Promised start: {said.words}", now=first, then=second)


def _who_must_hear(day: WorkDay, *, moved: bool) -> Iterator[EffectLine]:
    """Yield whom the days were told to: the homeowner, and the packet that is printed."""
    if not moved:
        return
    yield EffectLine(name="Homeowner", now="these days", then="other days: has to be told")
    packet = day.job.packets.first()
    if packet is not None:
        name = f"Packet {packet.number}"
        yield EffectLine(name=name, now="shows these days", then="has to be printed again")
