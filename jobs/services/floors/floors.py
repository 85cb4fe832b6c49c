"""Floors put together from rooms, and the rooms placed in them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction

from jobs.domain.floors.walls import wall_error_of_new
from jobs.models import Doorway, FloorZone, Job, Product, Removal, RemovedKind, Room, User
from jobs.models.base import Values
from jobs.readers.floors.floors import zone_of
from jobs.readers.openings.openings import refuse_misplaced
from jobs.services.archive.removals import take_out
from jobs.services.floors.joining import set_apart, settle
from jobs.services.floors.names import fault_of_name, free_name
from jobs.services.floors.stock import free_other_stock
from jobs.services.openings.doorways import follow_proposals
from jobs.services.records import audit_job, put_values, save_versioned, writes_once
from jobs.services.saving import save_measured
from layout.values.material import Prefer

FIELDS = (
    *("name", "product", "direction_deg", "start", "control_row", "wall_error_mm", "spares"),
    *("attic_carton", "pad", "barrier", "prefer", "piles", "stock_planks"),
)


@writes_once(FloorZone, "add zone")
def add_zone(*, job: Job, user: User, key: str, values: Values, rooms: Iterable[Room]) -> FloorZone:
    """Return the new floor; rooms that its doorways lead to are placed.

    Where ``values`` don't say how far its walls may stand off, the company's figure is taken, and
    where they don't say what to prefer, what `preference_of_new` says.

    Raises ValidationError, by field, for a name that can't be a floor's.
    """
    _refuse_name(job, values["name"])
    walls = {"wall_error_mm": wall_error_of_new(job.company.wall_error_mm, job.units)}
    prefer = {"prefer": preference_of_new(job, values["product"])}
    zone = FloorZone.objects.create(job=job, **(walls | prefer | dict(values)))
    _gather(zone, list(rooms))
    follow_proposals(job=job)
    audit_job(job=job, user=user, act=f"Put together {zone}")
    return zone


def preference_of_new(job: Job, product: Product | None) -> str:
    """Return what a new floor prefers: alone in its product it spends what its last carton leaves.

    Of several floors what is left is offered once all of them are planned.
    """
    alone = not job.zones.filter(product=product).exists() if product else not job.zones.exists()
    return (Prefer.CARTONS if alone else Prefer.PLANKS).value


def add_zone_of_room(*, room: Room, product: Product, user: User, key: str) -> FloorZone:
    """Return a floor of one room, under the room's name."""
    values = {"name": free_name(room.job, room.name), "product": product}
    return add_zone(job=room.job, user=user, key=key, values=values, rooms=[room])


@writes_once(FloorZone, "change zone")
def change_zone(
    *,
    zone: FloorZone,
    user: User,
    key: str,
    expected: int,
    values: Values,
    rooms: Iterable[Room],
) -> FloorZone:
    """Return the changed floor. Raises StaleError where somebody else saved first.

    Raises ValidationError, by field, for a name that can't be a floor's.
    """
    job = zone.job
    if "name" in values:
        _refuse_name(job, values["name"], but=zone.pk)
    before = zone.product_id
    put_values(zone, values)
    if zone.product_id != before:
        zone.piles = []  # of other boards
        free_other_stock(zone)
    save_measured(zone, expected=expected, names=FIELDS, system=job.units)
    _gather(zone, list(rooms))
    follow_proposals(job=job)
    audit_job(job=job, user=user, act=f"Changed {zone}")
    return zone


@transaction.atomic
def remove_zone(*, zone: FloorZone, user: User) -> Removal:
    """Return what is kept of a floor removed with its plans; the rooms stay."""
    job = zone.job
    audit_job(job=job, user=user, act=f"Removed {zone}")
    kind = RemovedKind.FLOOR
    removal = take_out(zone, kind=kind, company=job.company, user=user, where=str(job))
    follow_proposals(job=job)
    return removal


@writes_once(FloorZone, "place rooms")
def arrange(
    *,
    zone: FloorZone,
    user: User,
    key: str,
    expected: int,
    places: Mapping[int, Mapping[str, Decimal]],
) -> FloorZone:
    """Return the floor with its rooms at the given places, by the rooms' pk.

    Raises StaleError, or ZoningError where the rooms overlap or don't touch; nothing is written.
    """
    save_versioned(zone, expected=expected, names=())
    for pk, place in places.items():
        zone.rooms.filter(pk=pk).update(**place)
    zone_of(zone)
    audit_job(job=zone.job, user=user, act=f"Placed the rooms of {zone}")
    return zone


@writes_once(FloorZone, "place beside")
def place_beside(
    *, doorway: Doorway, user: User, key: str, expected: int, wall: int, offset_mm: Decimal
) -> FloorZone:
    """Return the floor with the two rooms of a doorway set against each other.

    ``wall`` (from 0) and ``offset_mm`` say where the opening lies in the room beyond. The first
    room of the floor stays where it is. Raises StaleError, or ValidationError by field where the
    opening does not fit there.
    """
    zone = doorway.room.zone
    if zone is None or doorway.beyond is None or doorway.beyond.zone_id != zone.pk:
        raise ValueError("The doorway leads to no room of this floor.")
    save_versioned(zone, expected=expected, names=())
    doorway.beyond_wall, doorway.beyond_offset_mm = wall, offset_mm
    _refuse_beyond(doorway)
    kept = Doorway.objects.filter(pk=doorway.pk)
    kept.update(beyond_wall=wall, beyond_offset_mm=offset_mm)
    members = list(zone.rooms.select_related("job").order_by("order", "pk"))
    settle(members, members[:1])
    act = f"Placed {doorway.beyond} beside {doorway.room} in {zone}"
    audit_job(job=zone.job, user=user, act=act)
    return zone


def _refuse_beyond(doorway: Doorway) -> None:
    """Refuse a place that the room beyond does not have, under the names of `place_beside`."""
    try:
        refuse_misplaced(doorway)
    except ValidationError as bad:
        faults = bad.message_dict
        by_field = {
            "wall": faults.get("beyond_wall", []),
            "offset": faults.get("beyond_offset", []),
        }
        named = {name: texts for name, texts in by_field.items() if texts}
        raise ValidationError(named or bad.messages) from None


def _refuse_name(job: Job, name: str, *, but: int = 0) -> None:
    fault = fault_of_name(job, name, but=but)
    if fault:
        raise ValidationError({"name": fault})


def _gather(zone: FloorZone, rooms: Sequence[Room]) -> None:
    """Make exactly these rooms the floor's; those that come new are placed."""
    pks = {room.pk for room in rooms}
    taken = Room.objects.filter(pk__in=pks, zone__isnull=False).exclude(zone=zone).first()
    if taken is not None:
        message = (
            f"{taken} is in the floor {taken.zone} already; accepted: rooms of no other floor."
        )
        raise ValidationError(message)
    zone.rooms.exclude(pk__in=pks).update(zone=None)
    stood = set(zone.rooms.values_list("pk", flat=True))
    Room.objects.filter(pk__in=pks).update(zone=zone)
    members = list(zone.rooms.select_related("job").order_by("order", "pk"))
    settled = [room for room in members if room.pk in stood] or members[:1]
    set_apart(settle(members, settled), settled)
