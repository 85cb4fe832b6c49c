"""The rows that hang on jobs, kind by kind, by the keys of the jobs."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet

from jobs.models import (
    Crew,
    DayLog,
    Document,
    Doorway,
    FloorPlan,
    FloorZone,
    HoldClearance,
    Job,
    LogEntry,
    Packet,
    Room,
    Scope,
    SiteFacts,
    StairFlight,
    TrimKind,
    TrimRun,
    WorkDay,
)
from jobs.models.old_floors.old_floor import BEFORE_FIELDS
from jobs.readers.together.keys import KeyList
from jobs.readers.together.round_trip import RowKind

Keys = Iterable[int] | KeyList
"""The keys of jobs."""

_PAPER = ("kind", "format", "text", "sha256")
"""What a document is opened by."""

_LOGGED = (
    *("day", "task", "zone", "hours", "row_from", "row_to"),
    *("planks_spoiled", "log", "at"),
)
"""What of an entry pages of many jobs look at."""


def _newest_packets(jobs: Keys) -> QuerySet[Packet]:
    later = Packet.objects.filter(job=OuterRef("job"), number__gt=OuterRef("number"))
    return Packet.objects.filter(~Exists(later), job__in=jobs)


def agreed_scopes(jobs: Keys) -> QuerySet[Scope]:
    """Return the agreed scopes of these jobs with their documents."""
    agreed = Job.objects.filter(pk__in=jobs).values("agreed_scope")
    rows = Scope.objects.filter(pk__in=agreed).select_related("document")
    return rows.only("job", "number", *(f"document__{name}" for name in _PAPER))


def _plans(jobs: Keys, *further: str) -> QuerySet[FloorPlan]:
    rows = FloorPlan.objects.filter(zone__job__in=jobs).select_related("document")
    return rows.only("zone", "number", "made_at", "document__sha256", *further)


def _rest_plans(jobs: Keys) -> QuerySet[FloorPlan]:
    rows = _plans(jobs, *(f"request__{name}" for name in _PAPER))
    return rows.exclude(zone__going_on={}).select_related("document", "request")


def _crew_people(jobs: Keys) -> QuerySet[Any]:
    rows = Crew.members.through.objects.filter(crew__days__job__in=jobs).select_related("user")
    return rows.only("crew", "user__name", "user__phone").distinct()


def _odd_logs(jobs: Keys) -> QuerySet[DayLog]:
    rows = DayLog.objects.filter(~Q(last_width="") | Q(broken__gt=0), day__job__in=jobs)
    return rows.only("day", "at", "broken", "last_width")


def _days(jobs: Keys) -> QuerySet[WorkDay]:
    rows = WorkDay.objects.filter(job__in=jobs).select_related("crew")
    return rows.only("job", "date", "number", "entries", "lanes", "notes", "crew__name")


SITES = RowKind(of=lambda jobs: SiteFacts.objects.filter(job__in=jobs))
"""What the visits found."""

ROOMS = RowKind(
    of=lambda jobs: Room.objects.filter(job__in=jobs).only(
        "job", "zone", "name", "moisture", "order", "base", *BEFORE_FIELDS
    ),
    by=lambda room: (room.order, room.pk),
)
"""Rooms by name, without their walls."""

BASE_RUNS = RowKind(
    of=lambda jobs: TrimRun.objects.filter(room__job__in=jobs, kind=TrimKind.BASE).only(
        "room", "kind", "length_mm", "action", "left_out"
    )
)
"""Runs of base, as far as it counts what becomes of them."""

ZONES = RowKind(of=lambda jobs: FloorZone.objects.filter(job__in=jobs).select_related("product"))
"""Floors, each with its product."""

PLANS = RowKind(of=_plans, by=lambda plan: -plan.number)
"""Plans of the floors, newest first: which they are, not what they say."""

REST_PLANS = RowKind(of=_rest_plans, by=lambda plan: -plan.number)
"""Plans of floors where laying has begun, newest first, with what was asked for."""

SCOPES = RowKind(of=lambda jobs: agreed_scopes(jobs).filter(job__closed_at=None))
"""Agreed scopes of open jobs."""

PACKETS = RowKind(of=_newest_packets)
"""The newest packet of each job."""

PACKET_PAPERS = RowKind(
    of=lambda jobs: Document.objects.filter(packet__in=_newest_packets(jobs).filter(basis={}))
)
"""What the newest packets say that do not know what they were made from."""

DAYS = RowKind(of=_days, by=lambda day: (day.date, day.number, day.pk))
"""Days with their crews, in order."""

CREW_PEOPLE = RowKind(of=_crew_people)
"""Who is in the crews of the days."""

ENTRIES = RowKind(
    of=lambda jobs: LogEntry.objects.filter(day__job__in=jobs).only(*_LOGGED),
    by=lambda entry: (entry.at, entry.pk),
)
"""What is in the logs, in the order in which it came."""

DAY_LOGS = RowKind(of=_odd_logs, by=lambda log: (log.at, log.pk))
"""Logs of days on which a floor came out unlike its plan."""

CLEARANCES = RowKind(
    of=lambda jobs: HoldClearance.objects.filter(job__in=jobs).only("job", "code"),
    by=lambda row: row.code,
)
"""Hold points that somebody cleared."""

DOORWAYS = RowKind(
    of=lambda jobs: (
        Doorway.objects.filter(room__job__in=jobs)
        .select_related("room")
        .only("version", "room__job")
    ),
)
"""Doorways, as far as it counts that they were saved."""

STAIRS = RowKind(of=lambda jobs: StairFlight.objects.filter(job__in=jobs).select_related("job"))
"""Flights of stairs."""
