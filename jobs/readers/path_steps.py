"""The steps of a job's path that are about time and place."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Min

from jobs.models import FloorPlan, FloorZone, Job, Room, SiteFacts, Subfloor, WorkDay
from jobs.readers import path
from jobs.readers.floors.suitability import faults_by_floor
from jobs.readers.packets.standing import PacketStanding, packet_standings
from jobs.readers.path import Finding

NO_CREW = "No crew days"


def register() -> None:
    """Give the path its steps of time and place."""
    path.register("Site", url_name="job", office_only=False, look=_sites)
    path.register("Rooms", url_name="room-list", office_only=True, look=_rooms)
    path.register("Floor", url_name="zone-list", office_only=False, look=_floors)
    path.register("Days", url_name="job-days", office_only=False, look=_days)
    path.register("Packet", url_name="packet-list", office_only=False, look=_packets)
    path.register("Log", url_name="job-log", office_only=False, look=_logs)


def _sites(jobs: Sequence[Job]) -> dict[int, Finding]:
    sites = {site.job_id: site for site in SiteFacts.objects.filter(job__in=jobs)}
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


def _rooms(jobs: Sequence[Job]) -> dict[int, Finding]:
    rooms = Room.objects.filter(job__in=jobs).values_list("job").annotate(Count("pk"))
    counts = dict(rooms)
    return {job.pk: _room(counts.get(job.pk, 0)) for job in jobs}


def _room(count: int) -> Finding:
    note = f"{count} measured" if count else "None yet"
    return Finding(done=count > 0, note=note, todo="Measure the first room.")


@dataclass(frozen=True, kw_only=True, slots=True)
class _JobFloor:
    """A floor on its way to a price: whether it has a plan, why its product may not lie there."""

    name: str
    planned: bool
    fault: str


def _floors(jobs: Sequence[Job]) -> dict[int, Finding]:
    zones = list(FloorZone.objects.filter(job__in=jobs).select_related("product"))
    planned = set(FloorPlan.objects.filter(zone__in=zones).values_list("zone", flat=True))
    faults = faults_by_floor(zones)
    floors: dict[int, list[_JobFloor]] = defaultdict(list)
    for zone in zones:
        fault = next((fault.sentence for fault in faults[zone.pk]), "")
        floor = _JobFloor(name=zone.name, planned=zone.pk in planned, fault=fault)
        floors[zone.job_id].append(floor)
    rooms = Room.objects.filter(job__in=jobs, zone__isnull=True)
    loose = dict(rooms.values_list("job").annotate(Count("pk")))
    return {job.pk: _floor(floors[job.pk], loose.get(job.pk, 0)) for job in jobs}


def _floor(floors: Sequence[_JobFloor], loose: int) -> Finding:
    if not floors:
        return Finding(done=False, note="No floor yet", todo="Put the rooms together as a floor.")
    if names := ", ".join(floor.name for floor in floors if not floor.planned):
        return Finding(done=False, note=f"Not planned: {names}", todo=f"Plan the floor of {names}.")
    for floor in floors:
        if floor.fault:
            todo = f"{floor.name} can't be priced yet: {floor.fault}"
            return Finding(done=False, note=f"Not fit: {floor.name}", todo=todo)
    note = f"{loose} room{'s' * (loose != 1)} without a floor" if loose else "Planned"
    return Finding(done=True, note=note, todo="")


def _days(jobs: Sequence[Job]) -> dict[int, Finding]:
    days = WorkDay.objects.filter(job__in=jobs)
    rows = days.values_list("job").annotate(Count("pk"), Min("date"))
    laid = {pk: (count, first) for pk, count, first in rows}
    return {job.pk: _day(job, laid.get(job.pk)) for job in jobs}


def _day(job: Job, laid: tuple[int, date] | None) -> Finding:
    if job.agreed_scope_id is None:
        todo = "Have the quote accepted; then plan the days."
        return Finding(done=False, note="Waits for an accepted quote", todo=todo)
    if laid is None and "lay" in job.left_to_homeowner:
        return Finding(done=True, note=NO_CREW, todo="")
    if laid is None:
        return Finding(done=False, note="", todo="Plan the days with a crew.")
    count, first = laid
    return Finding(done=True, note=f"{count} from {first:%b} {first.day}", todo="")


def _packets(jobs: Sequence[Job]) -> dict[int, Finding]:
    standings = packet_standings(jobs)
    return {job.pk: _packet(standings.get(job.pk)) for job in jobs}


def _packet(standing: PacketStanding | None) -> Finding:
    if standing is None:
        return Finding(done=False, note="", todo="Print the job packet for the crew.")
    if standing.out_of_date:
        todo = f"Print the packet again: {standing.changed[0]}"
        return Finding(done=False, note=standing.said, todo=todo)
    return Finding(done=True, note=standing.said, todo="")


def _logs(jobs: Sequence[Job]) -> dict[int, Finding]:
    days = WorkDay.objects.filter(job__in=jobs)
    rows = days.values_list("job").annotate(
        Count("pk", distinct=True), Count("log__day", distinct=True)
    )
    logged = {pk: (count, with_log) for pk, count, with_log in rows}
    return {job.pk: _log(job, *logged.get(job.pk, (0, 0))) for job in jobs}


def _log(job: Job, days: int, logged: int) -> Finding:
    if not days and job.agreed_scope_id and "lay" in job.left_to_homeowner:
        return Finding(done=True, note=NO_CREW, todo="")
    note = f"{logged} of {days} days" if days else ""
    todo = "Log each day as it is worked."
    return Finding(done=0 < days <= logged, note=note, todo=todo)
