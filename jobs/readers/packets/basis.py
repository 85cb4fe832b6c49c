"""What packets of some jobs would be made from now, in short, in as many queries as for one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from django.db.models import Count, Max, Sum

from jobs.domain.documents import canonical_json, digest
from jobs.domain.formats import BrokenDocumentError, Fields
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Doorway, HoldClearance, Job, Scope, SiteFacts, StairFlight, WorkDay
from jobs.readers.current_plan.marks import plan_marks
from jobs.readers.old_floors.rooms import said_of_rooms
from jobs.readers.scope import scope_value

_SITE = (
    *("year_built", "existing_floor", "floor_year", "tear_out", "subfloor", "readings"),
    *("heated_floor", "painted_ft2_per_room", "flights", "fire_door", "gas_appliance", "grinding"),
    *("parking", "saw_spot", "power", "disposal_place"),
)


def bases_of(jobs: Sequence[Job]) -> dict[int, Fields]:
    """Return the basis of a packet made now, by the job's pk; empty where its scope can't be read.

    A job without an agreed scope has none.
    """
    scopes = _scopes(jobs)
    floors = _floors({pk: value for pk, (_, value) in scopes.items()})
    days, cleared, sites, edges = _days(jobs), _cleared(jobs), _sites(jobs), _edges(jobs)
    people = _people(jobs)
    return {
        job.pk: {
            "scope": scopes[job.pk][0],
            "floors": floors[job.pk],
            "days": days[job.pk],
            "job": [job.title, job.address, job.client.name, job.client.phone],
            "people": people[job.pk],
            "site": sites.get(job.pk, ["", ""])[0],
            "access": sites.get(job.pk, ["", ""])[1],
            "cleared": cleared[job.pk],
            "edges": edges[job.pk],
        }
        for job in jobs
        if job.pk in scopes
    }


def _scopes(jobs: Sequence[Job]) -> dict[int, tuple[Fields, FrozenScope]]:
    """Return number and digest of each agreed scope, and what it says."""
    wanted = [job.agreed_scope_id for job in jobs if job.agreed_scope_id]
    scopes = {}
    for scope in Scope.objects.filter(pk__in=wanted).select_related("document"):
        try:
            value = scope_value(scope)
        except BrokenDocumentError:
            continue
        scopes[scope.job_id] = (
            {"number": scope.number, "sha256": scope.document.sha256},
            value,
        )
    return scopes


def _floors(scopes: Mapping[int, FrozenScope]) -> dict[int, dict[str, Fields]]:
    marks = plan_marks({pk: scope.zones for pk, scope in scopes.items()})
    return {
        pk: {mark.zone.name: {"plan": mark.number, "sha256": mark.sha256} for mark in of_job}
        for pk, of_job in marks.items()
    }


def _days(jobs: Sequence[Job]) -> dict[int, dict[str, Fields]]:
    days: dict[int, dict[str, Fields]] = defaultdict(dict)
    for day in WorkDay.objects.filter(job__in=jobs).select_related("crew"):
        days[day.job_id][str(day.number)] = {
            "date": day.date.isoformat(),
            "crew": day.crew.name,
            "work": _fingerprint([day.entries, day.lanes, day.notes]),
        }
    return days


def _people(jobs: Sequence[Job]) -> dict[int, list[list[str]]]:
    """Return name and phone of everybody in a crew of each job's days."""
    rows = WorkDay.objects.filter(job__in=jobs, crew__members__isnull=False)
    people: dict[int, set[tuple[str, str]]] = defaultdict(set)
    for pk, name, phone in rows.values_list("job", "crew__members__name", "crew__members__phone"):
        people[pk].add((name, phone))
    return defaultdict(
        list, {pk: [list(one) for one in sorted(all_)] for pk, all_ in people.items()}
    )


def _cleared(jobs: Sequence[Job]) -> dict[int, list[str]]:
    cleared: dict[int, list[str]] = defaultdict(list)
    rows = HoldClearance.objects.filter(job__in=jobs).order_by("code")
    for pk, code in rows.values_list("job", "code"):
        cleared[pk].append(code)
    return cleared


def _sites(jobs: Sequence[Job]) -> dict[int, list[str]]:
    """Return what is known of each site, and the way in, as fingerprints: they are not for all."""
    rows = SiteFacts.objects.filter(job__in=jobs).values_list("job", "access", *_SITE)
    said = said_of_rooms([job.pk for job in jobs])
    return {
        pk: [_fingerprint([*map(str, values), *said.get(pk, [])]), _fingerprint(access)]
        for pk, access, *values in rows
    }


def _fingerprint(value: object) -> str:
    return digest(canonical_json(value))[:16]


def _edges(jobs: Sequence[Job]) -> dict[int, list[int]]:
    """Return how many doorways and stairs each job has, and how often they were saved."""
    edges: dict[int, list[int]] = defaultdict(lambda: [0, 0, 0, 0])
    doorways = Doorway.objects.filter(room__job__in=jobs).values_list("room__job")
    for pk, count, saved, newest in doorways.annotate(Count("pk"), Sum("version"), Max("pk")):
        edges[pk][:2] = [count, saved + newest]
    stairs = StairFlight.objects.filter(job__in=jobs).values_list("job")
    for pk, count, saved, newest in stairs.annotate(Count("pk"), Sum("version"), Max("pk")):
        edges[pk][2:] = [count, saved + newest]
    return edges
