"""The path of a job: where it stands, what is missing, what to do next.

Site, Rooms, Floor, Price, Quote, Days, Packet, Log, Review. This module knows the steps of time
and place; the steps of money are registered from above, so that imports keep pointing down.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from jobs.access import SignedInRequest
from jobs.models import FloorZone, Job, LogEntry, Subfloor
from jobs.readers.floors.suitability import faults_of

NAMES = ("Site", "Rooms", "Floor", "Price", "Quote", "Days", "Packet", "Log", "Review")


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """What is known of one step: done or not, what is missing, and what to do about it."""

    done: bool
    note: str
    todo: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PathStep:
    """One step as the page shows it."""

    name: str
    url: str
    state: str
    note: str


@dataclass(frozen=True, kw_only=True, slots=True)
class _Kind:
    """A step: its address, who sees it, how to find where it stands."""

    url_name: str
    office_only: bool
    look: Callable[[Job], Finding]


_KINDS: dict[str, _Kind] = {}


def register(
    name: str, *, url_name: str, office_only: bool, look: Callable[[Job], Finding]
) -> None:
    """Give the path a step. ``url_name`` takes the job's pk. Raises ValueError for an odd name."""
    if name not in NAMES:
        message = f"{name} is no step of a job; accepted: {', '.join(NAMES)}"
        raise ValueError(message)
    _KINDS[name] = _Kind(url_name=url_name, office_only=office_only, look=look)


def path_context(request: SignedInRequest, job: Job, here: str) -> dict[str, Any]:
    """Return ``job``, ``steps`` and ``next_sentence`` for a page that stands at step ``here``."""
    steps: list[PathStep] = []
    sentence = ""
    for name in NAMES:
        kind = _KINDS.get(name)
        if kind is None or (kind.office_only and not request.user.is_office):
            continue
        found = kind.look(job)
        past = bool(sentence) or job.closed_at is not None
        state = _state(found, here=name == here, earlier_open=past)
        if not found.done and not past:
            sentence = found.todo
        url = reverse(kind.url_name, args=[job.pk])
        steps.append(PathStep(name=name, url=url, state=state, note=found.note))
    return {"job": job, "steps": steps, "next_sentence": sentence}


def standing(job: Job) -> str:
    """Return the name of the first step of ``job`` that is not done, or ``Closed``."""
    if job.closed_at:
        return "Closed"
    for name in NAMES:
        kind = _KINDS.get(name)
        if kind and not kind.look(job).done:
            return name
    return NAMES[-1]


def _state(found: Finding, *, here: bool, earlier_open: bool) -> str:
    """Return the word for a step's state."""
    if here:
        return "here"
    if found.done:
        return "done"
    return "later" if earlier_open else "next"


def _site(job: Job) -> Finding:
    site = getattr(job, "site", None)
    missing = []
    if site is None or site.year_built is None:
        missing.append("year built")
    if site is None or site.subfloor == Subfloor.UNKNOWN:
        missing.append("subfloor")
    note = "Missing: " + ", ".join(missing) if missing else ""
    todo = f"Note the site facts still missing: {', '.join(missing)}."
    return Finding(done=not missing, note=note, todo=todo)


def _rooms(job: Job) -> Finding:
    count = job.rooms.count()
    note = f"{count} measured" if count else "None yet"
    return Finding(done=count > 0, note=note, todo="Measure the first room.")


def _floor(job: Job) -> Finding:
    zones = FloorZone.objects.filter(job=job)
    count = zones.count()
    open_zones = [zone.name for zone in zones.filter(plans__isnull=True)]
    loose = job.rooms.filter(zone__isnull=True).count()
    if not count:
        return Finding(done=False, note="No floor yet", todo="Put the rooms together as a floor.")
    if open_zones:
        names = ", ".join(open_zones)
        return Finding(done=False, note=f"Not planned: {names}", todo=f"Plan the floor of {names}.")
    for zone in zones.select_related("product"):
        for fault in faults_of(zone):
            todo = f"{zone.name} can't be priced yet: {fault.sentence}"
            return Finding(done=False, note=f"Not fit: {zone.name}", todo=todo)
    note = f"{loose} room{'s' * (loose != 1)} without a floor" if loose else "Planned"
    return Finding(done=True, note=note, todo="")


def _days(job: Job) -> Finding:
    if job.agreed_scope_id is None:
        todo = "Have the quote accepted; then lay the work onto days."
        return Finding(done=False, note="Waits for an accepted quote", todo=todo)
    days = list(job.days.order_by("date").values_list("date", flat=True))
    if not days:
        return Finding(done=False, note="", todo="Lay the work onto days of a crew.")
    return Finding(done=True, note=f"{len(days)} from {days[0]:%b} {days[0].day}", todo="")


def _packet(job: Job) -> Finding:
    packet = job.packets.first()
    if packet is None:
        return Finding(done=False, note="", todo="Print the job packet for the crew.")
    return Finding(done=True, note=f"Packet {packet.number}", todo="")


def _log(job: Job) -> Finding:
    days = job.days.count()
    logged = LogEntry.objects.filter(day__job=job).values("day").distinct().count()
    note = f"{logged} of {days} days" if days else ""
    todo = "Log each day as it is worked."
    return Finding(done=0 < days <= logged, note=note, todo=todo)


register("Site", url_name="job", office_only=False, look=_site)
register("Rooms", url_name="room-list", office_only=True, look=_rooms)
register("Floor", url_name="zone-list", office_only=False, look=_floor)
register("Days", url_name="job-days", office_only=False, look=_days)
register("Packet", url_name="packet-list", office_only=False, look=_packet)
register("Log", url_name="job-log", office_only=False, look=_log)
