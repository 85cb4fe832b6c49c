"""What a change of days does beyond the job: the crew's other jobs, people twice, who must hear."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from datetime import date

from jobs.domain.days.moves import DayStanding, EffectLine, effect_lines
from jobs.domain.days.placed.reasons import day_words
from jobs.models import WorkDay


def whole_effect(
    day: WorkDay, now: Sequence[DayStanding], then: Sequence[DayStanding]
) -> list[EffectLine]:
    """Return all that a change of a day's job does, now and then."""
    was, will = {one.date for one in now}, {one.date for one in then}
    others = _others(day, was | will)
    return [
        *effect_lines(now, then),
        EffectLine(
            name=f"Crew on {day_words(day.date)}",
            now=_crew_on(day, was, others),
            then=_crew_on(day, will, others),
        ),
        *_people_twice(day, was, will, others),
        *_who_must_hear(day, was != will),
    ]


def _others(day: WorkDay, dates: Collection[date]) -> dict[date, list[WorkDay]]:
    """Return the days on other jobs, by date, on which somebody of this crew works."""
    people = day.crew.members.all()
    days = WorkDay.objects.filter(date__in=dates, crew__members__in=people).exclude(job=day.job)
    by_date: dict[date, list[WorkDay]] = defaultdict(list)
    rows = days.distinct().select_related("job").prefetch_related("crew__members")
    for other in rows.order_by("date", "job__number"):
        by_date[other.date].append(other)
    return by_date


def _crew_on(day: WorkDay, dates: Collection[date], others: dict[date, list[WorkDay]]) -> str:
    """Return where the crew is on the date of a day."""
    if day.date in dates:
        return "here"
    jobs = [f"job {one.job.number}" for one in others.get(day.date, ())]
    return "at " + ", ".join(jobs) if jobs else "free"


def _people_twice(
    day: WorkDay,
    was: Collection[date],
    will: Collection[date],
    others: dict[date, list[WorkDay]],
) -> Iterator[EffectLine]:
    """Yield everybody who is on two jobs on one day, now or then."""
    mine = set(day.crew.members.all())
    for one_date, days in sorted(others.items()):
        for other in days:
            for person in sorted(mine & set(other.crew.members.all()), key=str):
                alone = f"on job {other.job.number}"
                both = f"on two jobs: {other.job.number} and {day.job.number}"
                yield EffectLine(
                    name=f"{person.name}, {day_words(one_date)}",
                    now=both if one_date in was else alone,
                    then=both if one_date in will else alone,
                )


def _who_must_hear(day: WorkDay, moved: bool) -> Iterator[EffectLine]:
    """Yield whom the days were told to: the homeowner, and the packet that is printed."""
    if not moved:
        return
    yield EffectLine(name="Homeowner", now="these days", then="other days: has to be told")
    packet = day.job.packets.first()
    if packet is not None:
        name = f"Packet {packet.number}"
        yield EffectLine(name=name, now="shows these days", then="has to be printed again")
