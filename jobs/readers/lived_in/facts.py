"""Rooms that nobody can do without for a night, and those that may be open all the same."""

from __future__ import annotations

from jobs.domain.scope.by_room.places import use_of
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Job, OtherBath, Room, SiteFacts


def has_other_bath(site: SiteFacts | None) -> bool:
    """Whether a bathroom may be open overnight; what is not known counts as the only one."""
    return site is not None and site.other_bath == OtherBath.YES


def use_of_room(room: Room, site: SiteFacts | None) -> str:
    """Return what nobody can do without in a room: bedroom, kitchen, the only bath; else empty."""
    use = use_of(room.name, room.toilets)
    return "" if use == "bath" and has_other_bath(site) else use


def lived_in_rooms(job: Job) -> list[tuple[Room, str]]:
    """Return the rooms of a job's floors that nobody can do without for a night, with their use."""
    site = SiteFacts.objects.filter(job=job).first()
    rooms = job.rooms.filter(zone__isnull=False)
    return [(room, use) for room in rooms if (use := use_of_room(room, site))]


def may_be_open(job: Job, scope: FrozenScope | None = None) -> dict[str, bool]:
    """Return by name the rooms that may be open for nights, and whether weekends too.

    Rooms are called as in a ``scope`` where one is given, else as they are called now.
    """
    rows = list(job.agreed_nights.filter(nights=None).select_related("room"))
    places = scope.places if scope else ()
    names = {place.key: place.name for place in places}
    agreed: dict[str, bool] = {}
    for row in rows:
        rooms = [row.room] if row.room else [room for room, _ in lived_in_rooms(job)]
        for room in rooms:
            name = names.get(f"room-{room.pk}", room.name)
            agreed[name] = agreed.get(name, False) or row.days_off
    return agreed
