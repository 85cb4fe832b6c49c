"""What packets of some jobs would be made from now, in short, in as many queries as for one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from jobs.domain.documents import canonical_json, digest
from jobs.domain.formats import BrokenDocumentError, Fields
from jobs.domain.packet.moisture import moisture_holds
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job, SiteFacts, Versioned
from jobs.readers.board import holds as open_holds
from jobs.readers.current_plan.marks import marks_from
from jobs.readers.old_floors.rooms import said_of_rooms
from jobs.readers.scope import scope_value
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, RowKind, Wanted

_OF_PAPER = (
    *(of_jobs.SCOPES, of_jobs.ZONES, of_jobs.PLANS, of_jobs.REST_PLANS, of_jobs.DAYS),
    *(of_jobs.CREW_PEOPLE, of_jobs.CLEARANCES, of_jobs.SITES, of_jobs.DOORWAYS, of_jobs.STAIRS),
    of_jobs.ROOMS,
)
KINDS = (
    *_OF_PAPER,
    *(kind for kind in open_holds.KINDS if kind not in _OF_PAPER),
)
"""The rows that a basis is made of."""

_READINGS = "readings"
_SITE = (
    *("year_built", "existing_floor", "floor_year", "tear_out", "subfloor", _READINGS),
    *("heated_floor", "painted_ft2_per_room", "flights", "fire_door", "gas_appliance", "grinding"),
    *("parking", "saw_spot", "power", "disposal_place"),
)


def bases_of(jobs: Sequence[Job], rows: KindRows | None = None) -> dict[int, Fields]:
    """Return the basis of a packet made now, by the job's pk; empty where its scope can't be read.

    A job without an agreed scope has none. ``rows``: those of `KINDS` where they are at hand.
    """
    if rows is None:
        keys = [job.pk for job in jobs]
        wanted: dict[RowKind[Any], Wanted] = dict.fromkeys(KINDS, keys)
        rows = KindRows(wanted | {of_jobs.SCOPES: of_jobs.agreed_scopes(keys)})
    scopes = _scopes(rows, {job.pk for job in jobs})
    floors = _floors({pk: value for pk, (_, value) in scopes.items()}, rows)
    days, cleared, sites = _days(rows, scopes), _cleared(rows), _sites(rows, scopes)
    edges = _edges(rows, scopes)
    people = _people(rows)
    holds = open_holds.open_holds_by_job([job.pk for job in jobs], rows)
    return {
        job.pk: {
            "scope": scopes[job.pk][0],
            "floors": floors[job.pk],
            "days": days[job.pk],
            "job": [job.title, job.address, job.client.name, job.client.phone],
            "people": people[job.pk],
            **(sites.get(job.pk) or dict.fromkeys(("site", "facts", "access"), "")),
            "moisture": moisture_holds(holds.get(job.pk, {})),
            "cleared": cleared[job.pk],
            "edges": edges[job.pk],
        }
        for job in jobs
        if job.pk in scopes
    }


def _scopes(rows: KindRows, jobs: Collection[int]) -> dict[int, tuple[Fields, FrozenScope]]:
    """Return number and digest of the agreed scope of each of these jobs, and what it says."""
    scopes = {}
    for scope in rows[of_jobs.SCOPES]:
        if scope.job_id not in jobs:
            continue
        try:
            value = scope_value(scope)
        except BrokenDocumentError:
            continue
        scopes[scope.job_id] = (
            {"number": scope.number, "sha256": scope.document.sha256},
            value,
        )
    return scopes


def _floors(scopes: Mapping[int, FrozenScope], rows: KindRows) -> dict[int, dict[str, Fields]]:
    marks = marks_from({pk: scope.zones for pk, scope in scopes.items()}, rows)
    return {
        pk: {mark.zone.name: {"plan": mark.number, "sha256": mark.sha256} for mark in of_job}
        for pk, of_job in marks.items()
    }


def _days(rows: KindRows, jobs: Collection[int]) -> dict[int, dict[str, Fields]]:
    days: dict[int, dict[str, Fields]] = defaultdict(dict)
    for day in rows[of_jobs.DAYS]:
        if day.job_id not in jobs:
            continue
        days[day.job_id][str(day.number)] = {
            "date": day.date.isoformat(),
            "crew": day.crew.name,
            "work": _fingerprint([day.entries, day.lanes, day.notes]),
        }
    return days


def _people(rows: KindRows) -> dict[int, list[list[str]]]:
    """Return name and phone of everybody in a crew of each job's days."""
    members: dict[int, set[tuple[str, str]]] = defaultdict(set)
    for row in rows[of_jobs.CREW_PEOPLE]:
        members[row.crew_id].add((row.user.name, row.user.phone))
    people: dict[int, set[tuple[str, str]]] = defaultdict(set)
    for day in rows[of_jobs.DAYS]:
        people[day.job_id] |= members[day.crew_id]
    return defaultdict(
        list, {pk: [list(one) for one in sorted(all_)] for pk, all_ in people.items()}
    )


def _cleared(rows: KindRows) -> dict[int, list[str]]:
    cleared: dict[int, list[str]] = defaultdict(list)
    for row in rows[of_jobs.CLEARANCES]:
        cleared[row.job_id].append(row.code)
    return cleared


def _sites(rows: KindRows, jobs: Collection[int]) -> dict[int, dict[str, str]]:
    """Return what is known of each site, and the way in, as fingerprints: they are not for all.

    ``site`` has the readings in it, as packets keep it that know no ``facts``.
    """
    said = said_of_rooms(room for room in rows[of_jobs.ROOMS] if room.job_id in jobs)
    without = tuple(name for name in _SITE if name != _READINGS)
    return {
        site.job_id: {
            "site": _known(site, _SITE, said.get(site.job_id, [])),
            "facts": _known(site, without, said.get(site.job_id, [])),
            "access": _fingerprint(site.access),
        }
        for site in rows[of_jobs.SITES]
        if site.job_id in jobs
    }


def _known(site: SiteFacts, names: Collection[str], of_rooms: Collection[object]) -> str:
    return _fingerprint([*(str(getattr(site, name)) for name in names), *of_rooms])


def _fingerprint(value: object) -> str:
    return digest(canonical_json(value))[:16]


def _edges(rows: KindRows, jobs: Collection[int]) -> dict[int, list[int]]:
    """Return how many doorways and stairs each job has, and how often they were saved."""
    doorways: dict[int, list[Versioned]] = defaultdict(list)
    stairs: dict[int, list[Versioned]] = defaultdict(list)
    for doorway in rows[of_jobs.DOORWAYS]:
        doorways[doorway.room.job_id].append(doorway)
    for flight in rows[of_jobs.STAIRS]:
        stairs[flight.job_id].append(flight)
    return {job: _saved(doorways[job]) + _saved(stairs[job]) for job in jobs}


def _saved(rows: Sequence[Versioned]) -> list[int]:
    """Return how many rows these are, and a figure that grows with every saving of one."""
    return [len(rows), sum(row.version for row in rows) + max((row.pk for row in rows), default=0)]
