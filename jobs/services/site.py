"""What the visit measured: depths of a low subfloor, moisture readings."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction

from jobs.domain.site.moisture import LOG, Reading, reading_row
from jobs.models import DayLog, HoldClearance, Job, Room, SiteFacts, User
from jobs.models.base import Values
from jobs.models.old_floors.old_floor import BEFORE_FIELDS
from jobs.services.records import audit_job, put_values, save_versioned, writes_once

PLACE_FIELDS = ("parking", "saw_spot", "power", "disposal_place")
"""What a crew has to find at this address; the packet prints it."""
SITE_FIELDS = (
    *PLACE_FIELDS,
    *("year_built", "existing_floor", "floor_year", "tear_out", "subfloor"),
    *("heated_floor", "accessible_route", "bag_fills_ft3"),
    *("painted_ft2_per_room", "flights", "fire_door", "gas_appliance", "grinding", "access"),
    *("aquarium", "piano", "electronics", "pets", "other_bath"),
)


@writes_once(Room, "note depths")
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
    room.depths = list(depths)
    if bags is not None:
        room.leveler_bags = bags
    save_versioned(room, expected=expected, names=("depths", "leveler_bags"))
    audit_job(job=room.job, user=user, act=f"Noted {len(depths)} depths of {room}")
    return room


def add_reading(
    *,
    site: SiteFacts,
    user: User,
    key: str,
    expected: int,
    reading: Reading,
    log: DayLog | None = None,
) -> SiteFacts:
    """Return the site with one reading more; ``log``: the day's log that brought it.

    Raises StaleError where somebody saved first.
    """
    row = reading_row(reading) | ({LOG: str(log.pk)} if log else {})
    return _save_readings(
        site=site,
        user=user,
        key=key,
        expected=expected,
        readings=[*site.readings, row],
        act="Added a moisture reading",
    )


def remove_reading(
    *, site: SiteFacts, user: User, key: str, expected: int, place: int
) -> SiteFacts:
    """Return the site without its reading number ``place`` (from 0). Raises StaleError."""
    kept = [row for i, row in enumerate(site.readings) if i != place]
    act = "Removed a moisture reading"
    return _save_readings(site=site, user=user, key=key, expected=expected, readings=kept, act=act)


@writes_once(SiteFacts, "moisture reading")
def _save_readings(
    *,
    site: SiteFacts,
    user: User,
    key: str,
    expected: int,
    readings: list[dict[str, str]],
    act: str,
) -> SiteFacts:
    site.readings = readings
    save_versioned(site, expected=expected, names=("readings",))
    audit_job(job=site.job, user=user, act=act)
    return site


@writes_once(SiteFacts, "change site")
def change_site(
    *, site: SiteFacts, user: User, key: str, expected: int, values: Values
) -> SiteFacts:
    """Return the changed site facts. Raises StaleError where somebody else saved first."""
    put_values(site, values)
    save_versioned(site, expected=expected, names=SITE_FIELDS)
    audit_job(job=site.job, user=user, act="Changed the site facts")
    return site


@writes_once(Room, "what was in a room")
def change_before(*, room: Room, user: User, key: str, expected: int, values: Values) -> Room:
    """Return the room with what was found in it. Raises StaleError where somebody saved first."""
    put_values(room, values)
    save_versioned(room, expected=expected, names=BEFORE_FIELDS)
    audit_job(job=room.job, user=user, act=f"Noted what was in {room}")
    return room


@transaction.atomic
def clear_hold(
    *, job: Job, user: User, code: str, by: str, note: str, log: DayLog | None = None
) -> HoldClearance:
    """Return the clearance of a hold point; a second one changes nothing."""
    cleared, new = HoldClearance.objects.get_or_create(
        job=job, code=code, defaults={"by": by, "note": note, "user": user, "log": log}
    )
    if new:
        audit_job(job=job, user=user, act=f"Cleared the hold point {code}, named: {by}")
    return cleared
