"""What the visit measured: depths of a low subfloor, moisture readings."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.models import Room, SiteFacts, User
from jobs.moisture import Reading, reading_row
from jobs.records import audit, save_versioned, write_once

MOST_READINGS = 60


def note_depths(
    *,
    room: Room,
    user: User,
    key: str,
    expected: int,
    depths: Sequence[dict[str, str]],
    bags: int | None,
) -> Room:
    """Return the room with its depth survey; ``bags`` None leaves its bags of leveler alone.

    Raises StaleError where somebody else saved first.
    """
    job = room.job

    def write() -> Room:
        room.depths = list(depths)
        if bags is not None:
            room.leveller_bags = bags
        save_versioned(room, expected=expected, names=("depths", "leveller_bags"))
        act = f"Noted {len(depths)} depths of {room}"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
        return room

    rows = job.rooms.all()
    return write_once(company=job.company, key=key, action="note depths", rows=rows, write=write)


def add_reading(
    *, site: SiteFacts, user: User, key: str, expected: int, reading: Reading
) -> SiteFacts:
    """Return the site with one reading more. Raises StaleError where somebody saved first."""
    return _save(site, user, key, expected, [*site.readings, reading_row(reading)], "Added a")


def remove_reading(
    *, site: SiteFacts, user: User, key: str, expected: int, place: int
) -> SiteFacts:
    """Return the site without its reading number ``place`` (from 0). Raises StaleError."""
    kept = [row for i, row in enumerate(site.readings) if i != place]
    return _save(site, user, key, expected, kept, "Removed a")


def _save(
    site: SiteFacts, user: User, key: str, expected: int, readings: list[dict[str, str]], act: str
) -> SiteFacts:
    job = site.job

    def write() -> SiteFacts:
        site.readings = readings[:MOST_READINGS]
        save_versioned(site, expected=expected, names=("readings",))
        said = f"{act} moisture reading"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=said)
        return site

    rows, action = SiteFacts.objects.filter(job=job), "moisture reading"
    return write_once(company=job.company, key=key, action=action, rows=rows, write=write)
