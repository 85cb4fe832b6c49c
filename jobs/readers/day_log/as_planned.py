"""A day as it was planned, for the log: who is at what for how long, rows, what is left to lay."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Q

from jobs.domain.checks import ZERO
from jobs.domain.day_log.shares import Stint, lane_shares, planned_shares
from jobs.domain.days.placed.pieces import spells_of
from jobs.domain.days.remaining import unbroken
from jobs.models import LogEntry, User, WorkDay

QUARTERS_AN_HOUR = 4
LAYING = "lay"


def people_of(day: WorkDay, user: User, named: Collection[int] = ()) -> list[User]:
    """Return the crew of a day, in the order of its lanes; whoever looks where it has nobody.

    ``named``: people whose hours were sent. One who left the crew since, or logged on this job
    before, is of it still.
    """
    left = day.crew.last_days
    gone = left.filter(date__lt=day.date).exclude(person__in=named).values("person")
    members = list(day.crew.members.exclude(pk__in=gone).order_by("pk"))
    more = set(named) - {person.pk for person in members}
    if more:
        before = LogEntry.objects.filter(day__crew=day.crew_id, who__in=more).values("who")
        was = Q(pk__in=before) | Q(pk__in=left.filter(person__in=more).values("person"))
        was |= Q(pk=user.pk)
        members += User.objects.filter(was, company=day.job.company_id, pk__in=more).order_by("pk")
    return members or [user]


def planned_hours(day: WorkDay, people: Sequence[User]) -> dict[tuple[str, int], Decimal]:
    """Return the planned hours of a day by task key and person's pk, in quarter hours."""
    stints = [
        Stint(
            person=spell.person,
            task=spell.task,
            hours=Decimal(spell.ends - spell.begins) / QUARTERS_AN_HOUR,
        )
        for spell in sorted(spells_of(day.date, day.lanes), key=lambda each: each.begins)
    ]
    lanes = lane_shares(stints, len(people))
    by_place = planned_shares(_entry_hours(day), lanes, len(people))
    return {(task, people[place].pk): hours for (task, place), hours in by_place.items()}


def _entry_hours(day: WorkDay) -> dict[str, Decimal]:
    hours: dict[str, Decimal] = {}
    for entry in day.entries:
        hours[entry["key"]] = hours.get(entry["key"], ZERO) + Decimal(entry["hours"])
    return hours


@dataclass(frozen=True, kw_only=True, slots=True)
class RowsOfFloor:
    """The rows of one floor on a day: planned up to `stop`, logged up to `down` without a gap."""

    zone: str
    of: int
    down: int
    stop: int

    @property
    def planned(self) -> str:
        """The rows that the day is to finish, in words; empty for none."""
        if self.stop <= self.down:
            return ""
        first = self.down + 1
        return f"row {first}" if first == self.stop else f"rows {first} to {self.stop}"


def floor_rows(day: WorkDay, rows: Mapping[str, int]) -> dict[str, RowsOfFloor]:
    """Return the rows by floor; ``rows`` is how many each floor has by the plan laid now."""
    stops = {
        entry["zone"]: entry["rows"][1]
        for entry in day.entries
        if entry["task"] == LAYING and entry["rows"]
    }
    spans: dict[str, list[tuple[int, int]]] = {}
    logged = LogEntry.objects.filter(
        day__job=day.job_id, task=LAYING, row_from__isnull=False, row_to__isnull=False
    )
    for zone, first, last in logged.values_list("zone", "row_from", "row_to"):
        spans.setdefault(zone, []).append((int(first or 0), int(last or 0)))
    return {
        zone: RowsOfFloor(
            zone=zone,
            of=count,
            down=min(unbroken(spans.get(zone, ())), count),
            stop=min(stops.get(zone, 0), count),
        )
        for zone, count in rows.items()
    }
