"""A room, a floor or a whole job copied."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.domain.checks import BadValueError
from jobs.models import Client, FloorZone, Job, JobPayer, Room, SiteFacts, User
from jobs.models.base import Values
from jobs.services.copies.twins import copy_into, twin
from jobs.services.jobs import add_job
from jobs.services.payers.payer import PAYER_FIELDS
from jobs.services.plans import ask_for_plan
from jobs.services.records import audit_job, put_values, writes_once
from jobs.services.site import PLACE_FIELDS, SITE_FIELDS
from layout.values.errors import LayoutError

_KEY_LENGTH = 50  # of a key's 64 letters, so that the lot's number still stands behind
NOT_COPIED = ("access", "aquarium", "piano", "electronics", "pets", *PLACE_FIELDS)
SITE_COPIED = tuple(name for name in SITE_FIELDS if name not in NOT_COPIED)
"""What the visit saw of a house that others are built like; the way in is of one house alone."""


def refuse_target(job: Job, *, units: str) -> None:
    """Refuse a job that nothing is copied into: closed, archived, or measured in other units.

    Raises BadValueError for the field ``number``.
    """
    accepted = "the number of an open job"
    if job.closed_at is not None:
        raise BadValueError(field="number", value=f"{job.number}, a closed job", accepted=accepted)
    if job.archived_at is not None:
        value = f"{job.number}, an archived job"
        raise BadValueError(field="number", value=value, accepted=accepted)
    if job.units != units:
        value = f"{job.number}, measured in {job.get_units_display().lower()}"
        accepted = "a job measured in the units of this one"
        raise BadValueError(field="number", value=value, accepted=accepted)


@writes_once(Room, "copy room")
def copy_room(*, room: Room, to: Job, user: User, key: str, name: str) -> Room:
    """Return the copy of a room, in no floor yet.

    Raises BadValueError for a job that nothing is copied into.
    """
    refuse_target(to, units=room.job.units)
    new = copy_into(to, rooms=[room], names={room.pk: name}).rooms[room.pk]
    audit_job(job=to, user=user, act=f"Copied {room} of job {room.job.number} as {new}")
    return new


@writes_once(FloorZone, "copy floor")
def copy_floor(*, zone: FloorZone, to: Job, user: User, key: str) -> FloorZone:
    """Return the copy of a floor with its rooms, not planned yet. Raises as `copy_room`."""
    refuse_target(to, units=zone.job.units)
    rooms = list(zone.rooms.order_by("order", "pk"))
    new = copy_into(to, rooms=rooms, zones=[zone]).zones[zone.pk]
    audit_job(job=to, user=user, act=f"Copied {zone} of job {zone.job.number} as {new}")
    return new


def copy_job(
    *, job: Job, user: User, key: str, client: Client, title: str, addresses: Sequence[str]
) -> list[Job]:
    """Return a job like this one for each address, in their order.

    Each is written by itself, so others may write meanwhile; broken off and sent again under the
    same key, it goes on where it ended.
    """
    base = {"client": client, "title": title, "units": job.units}
    return [
        _copy_to_lot(
            job=job,
            user=user,
            key=f"{key[:_KEY_LENGTH]}-lot{place}",
            values={**base, "address": address},
        )
        for place, address in enumerate(addresses)
    ]


@writes_once(Job, "copy job")
def _copy_to_lot(*, job: Job, user: User, key: str, values: Values) -> Job:
    """Return one new job with rooms, floors, stairs, trim and site facts of ``job``."""
    new = add_job(company=job.company, user=user, key=f"{key}-job", values=values)
    new.trim_stock = list(job.trim_stock)
    new.save(update_fields=["trim_stock"])
    _copy_site(job, new)
    _copy_payer(job, new)
    rooms, zones = list(job.rooms.order_by("order", "pk")), list(job.zones.order_by("pk"))
    for flight in job.stairs.order_by("pk"):
        twin(flight, job=new)
    copy_into(new, rooms=rooms, zones=zones)
    audit_job(job=new, user=user, act=f"Copied from {job}")
    return new


def _copy_site(job: Job, new: Job) -> None:
    """Copy what the visit saw, but for readings and the way in."""
    site = SiteFacts.objects.filter(job=job).first()
    if site is not None:
        facts = SiteFacts.objects.get(job=new)
        put_values(facts, {name: getattr(site, name) for name in SITE_COPIED})
        facts.save()


def _copy_payer(job: Job, new: Job) -> None:
    """Let who pays for a house plan pay for its copies; an order number is of one job alone."""
    payer = JobPayer.objects.filter(job=job).first()
    if payer is not None:
        names = (name for name in PAYER_FIELDS if name != "order_number")
        JobPayer.objects.create(job=new, **{name: getattr(payer, name) for name in names})


def plan_copies(*, job: Job, copies: Sequence[Job], user: User) -> int:
    """Return how many floors of the copies are being planned now: those planned in ``job``."""
    planned = set(job.zones.filter(plans__isnull=False).values_list("name", flat=True))
    zones = FloorZone.objects.filter(job__in=copies, name__in=planned).order_by("pk")
    waiting = 0
    for zone in zones.select_related("job__company", "product"):
        try:
            ask_for_plan(zone=zone, user=user)
            waiting += 1
        except LayoutError:  # its page says why
            continue
    return waiting
