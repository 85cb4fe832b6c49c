"""The steps of a job's path that are about time and place."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from jobs.models import Job, SiteFacts, Subfloor
from jobs.readers import path
from jobs.readers.floors import suitability
from jobs.readers.floors.suitability import faults_by_floor
from jobs.readers.packets import standing
from jobs.readers.packets.standing import PacketStanding, packet_standings
from jobs.readers.path import Finding
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, RowKind

NO_CREW = "No crew days"


def register() -> None:
    """Give the path its steps of time and place."""
    path.register("Site", url_name="job", office_only=False, look=_sites, rows=[of_jobs.SITES])
    path.register(
        "Rooms", url_name="room-list", office_only=True, look=_rooms, rows=[of_jobs.ROOMS]
    )
    floors: list[RowKind[Any]] = [of_jobs.ZONES, of_jobs.PLANS, *suitability.KINDS]
    path.register("Floor", url_name="zone-list", office_only=False, look=_floors, rows=floors)
    path.register("Days", url_name="job-days", office_only=False, look=_days, rows=[of_jobs.DAYS])
    packets = standing.KINDS
    path.register("Packet", url_name="packet-list", office_only=False, look=_packets, rows=packets)
    logs: list[RowKind[Any]] = [of_jobs.DAYS, of_jobs.ENTRIES]
    path.register("Log", url_name="job-log", office_only=False, look=_logs, rows=logs)


def _sites(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    sites = {site.job_id: site for site in rows[of_jobs.SITES]}
    return {job.pk: _site(sites.get(job.pk)) for job in jobs}


def _site(site: SiteFacts | None) -> Finding:
    missing = []
    if site is None or site.year_built is None:
        missing.append("year built")
    if site is None or site.subfloor == Subfloor.UNKNOWN:
        missing.append("subfloor")
    note = "Missing: " + ", ".join(missing) if missing else ""
    todo = f"Note the site facts still missing: {', '.join(missing)}."
    return Finding(done=not missing, note=note, todo=todo)


def _rooms(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    counts = Counter(room.job_id for room in rows[of_jobs.ROOMS])
    return {job.pk: _room(counts[job.pk]) for job in jobs}


def _room(count: int) -> Finding:
    note = f"{count} measured" if count else "None yet"
    return Finding(done=count > 0, note=note, todo="Measure the first room.")


@dataclass(frozen=True, kw_only=True, slots=True)
class _JobFloor:
    """A floor on its way to a price: whether it has a plan, why its product may not lie there."""

    name: str
    planned: bool
    fault: str


def _floors(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    zones = rows[of_jobs.ZONES]
    planned = {plan.zone_id for plan in rows[of_jobs.PLANS]}
    faults = faults_by_floor(zones, rows)
    floors: dict[int, list[_JobFloor]] = defaultdict(list)
    for zone in zones:
        fault = next((fault.sentence for fault in faults[zone.pk]), "")
        floor = _JobFloor(name=zone.name, planned=zone.pk in planned, fault=fault)
        floors[zone.job_id].append(floor)
    loose = Counter(room.job_id for room in rows[of_jobs.ROOMS] if room.zone_id is None)
    return {job.pk: _floor(floors[job.pk], loose[job.pk]) for job in jobs}


def _floor(floors: Sequence[_JobFloor], loose: int) -> Finding:
    if not floors:
        return Finding(done=False, note="No floor yet", todo="Put the rooms together as a floor.")
    if names := ", ".join(floor.name for floor in floors if not floor.planned):
        return Finding(done=False, note=f"Not planned: {names}", todo=f"Plan the floor of {names}.")
    for floor in floors:
        if floor.fault:
            todo = f"{floor.name} can't be laid yet: {floor.fault}"
            note = f"Not fit: {floor.name}"
            return Finding(done=False, note=note, todo=todo, stopped_by=todo)
    note = f"{loose} room{'s' * (loose != 1)} without a floor" if loose else "Planned"
    return Finding(done=True, note=note, todo="")


def _days(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    laid: dict[int, list[date]] = defaultdict(list)
    for day in rows[of_jobs.DAYS]:
        laid[day.job_id].append(day.date)
    return {job.pk: _day(job, laid[job.pk]) for job in jobs}


def _day(job: Job, laid: Sequence[date]) -> Finding:
    if job.agreed_scope_id is None:
        todo = "Have the quote accepted; then plan the days."
        return Finding(done=False, note="Waits for an accepted quote", todo=todo)
    if not laid and "lay" in job.left_to_homeowner:
        return Finding(done=True, note=NO_CREW, todo="")
    if not laid:
        return Finding(done=False, note="", todo="Plan the days with a crew.")
    first = laid[0]
    return Finding(done=True, note=f"{len(laid)} from {first:%b} {first.day}", todo="")


def _packets(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    standings = packet_standings(jobs, rows)
    return {job.pk: _packet(standings.get(job.pk)) for job in jobs}


def _packet(newest: PacketStanding | None) -> Finding:
    if newest is None:
        return Finding(done=False, note="", todo="Print the job packet for the crew.")
    if newest.out_of_date:
        todo = f"Print the packet again: {newest.changed[0]}"
        return Finding(done=False, note=newest.said, todo=todo)
    return Finding(done=True, note=newest.said, todo="")


def _logs(jobs: Sequence[Job], rows: KindRows) -> dict[int, Finding]:
    logged = {entry.day_id for entry in rows[of_jobs.ENTRIES]}
    days: dict[int, list[bool]] = defaultdict(list)
    for day in rows[of_jobs.DAYS]:
        days[day.job_id].append(day.pk in logged)
    return {job.pk: _log(job, len(days[job.pk]), sum(days[job.pk])) for job in jobs}


def _log(job: Job, days: int, logged: int) -> Finding:
    if not days and job.agreed_scope_id and "lay" in job.left_to_homeowner:
        return Finding(done=True, note=NO_CREW, todo="")
    note = f"{logged} of {days} days" if days else ""
    todo = "Log each day as it is worked."
    return Finding(done=0 < days <= logged, note=note, todo=todo)
