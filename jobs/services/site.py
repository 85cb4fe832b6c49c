"""What the visit measured: depths of a low subfloor, moisture readings."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from jobs.domain.site.moisture import Reading, reading_row
from jobs.models import HoldClearance, Job, Room, SiteFacts, User
from jobs.services.records import audit, save_versioned, write_once

SITE_FIELDS = (
    *("year_built", "existing_floor", "floor_year", "tear_out", "subfloor"),
    *("heated_floor", "accessible_route", "bag_fills_ft3"),
    *("painted_ft2_per_room", "flights", "fire_door", "gas_appliance", "grinding", "access"),
)


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


def change_site(*, site: SiteFacts, user: User, key: str, expected: int) -> SiteFacts:
    """Save edited site facts. Raises StaleError where somebody else saved first."""
    job = site.job

    def write() -> SiteFacts:
        save_versioned(site, expected=expected, names=SITE_FIELDS)
        act = "Changed the site facts"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
        return site

    rows = SiteFacts.objects.filter(job=job)
    return write_once(company=job.company, key=key, action="change site", rows=rows, write=write)


@transaction.atomic
def clear_hold(*, job: Job, user: User, code: str, by: str, note: str) -> HoldClearance:
    """Return the clearance of a hold point; a second one changes nothing."""
    cleared, new = HoldClearance.objects.get_or_create(
        job=job, code=code, defaults={"by": by, "note": note, "user": user}
    )
    if new:
        act = f"Cleared the hold point {code}, named: {by}"
        audit(user=user, company=job.company, subject=f"job {job.pk}", act=act)
    return cleared
