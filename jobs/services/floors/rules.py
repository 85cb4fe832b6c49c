"""What is done to one floor: rules of its own, piles, what is down of it, a break."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from jobs.domain.checks import BadValueError
from jobs.domain.floors.breaks import parts_at
from jobs.domain.floors.piles import CountedPile, stored_piles
from jobs.models import Doorway, FloorPlan, FloorZone, Treatment, User
from jobs.readers.floors.breaks import links_of, rings_of
from jobs.readers.plan_request import request_of
from jobs.services.floors.names import free_name
from jobs.services.openings import doorways
from jobs.services.records import audit_job, save_versioned, writes_once

_AS_BEFORE = (
    *("product", "direction_deg", "start", "own_rules", "wall_error_mm", "pad", "barrier"),
    *("spares", "prefer"),
)
"""What a floor beyond a break takes over from the floor it was part of."""


@writes_once(FloorZone, "set rules")
def set_rules(
    *,
    zone: FloorZone,
    user: User,
    key: str,
    expected: int,
    lengths: Mapping[str, Decimal | None],
    stagger: str,
) -> FloorZone:
    """Return the floor with rules of its own; what is None or empty is as its product has it.

    ``lengths``: by the name of the product's field, in mm. Raises StaleError where somebody else
    saved first.
    """
    rules = {name: f"{mm.normalize():f}" for name, mm in lengths.items() if mm is not None}
    zone.own_rules = rules | ({"stagger": stagger} if stagger else {})
    save_versioned(zone, expected=expected, names=("own_rules",))
    audit_job(job=zone.job, user=user, act=f"Set rules for {zone}")
    return zone


@writes_once(FloorZone, "count piles")
def set_piles(
    *, zone: FloorZone, user: User, key: str, expected: int, piles: Iterable[CountedPile]
) -> FloorZone:
    """Return the floor with its piles as they were counted; all empty: planned by the carton.

    Raises StaleError where somebody else saved first, InputError for piles that are none of its
    product; nothing is written.
    """
    zone.piles = stored_piles(piles)
    save_versioned(zone, expected=expected, names=("piles",))
    request_of(zone)
    audit_job(job=zone.job, user=user, act=f"Counted the piles of {zone}")
    return zone


@writes_once(FloorZone, "go on")
def set_going_on(
    *,
    zone: FloorZone,
    user: User,
    key: str,
    expected: int,
    plan: FloorPlan,
    laid: Sequence[str],
    planks: int,
    gone: Sequence[str],
    wider: float = 0.0,
) -> FloorZone:
    """Return the floor with what is down and at hand; no piece down begins it anew.

    ``wider``: how much further off the far wall is than the rooms have it, so that the last row
    comes out wider; below nought narrower.

    Piles that were counted before are no longer those that are there.

    Raises StaleError where somebody else saved first, InputError where the floor can't be gone on
    with from there; nothing is written.
    """
    going_on: dict[str, object] = {
        "plan": plan.pk,
        "laid": list(laid),
        "planks": planks,
        "gone": sorted(gone),
    }
    if wider:
        going_on["wider"] = wider
    zone.going_on = going_on if laid else {}
    zone.piles = []
    save_versioned(zone, expected=expected, names=("going_on", "piles"))
    request_of(zone)
    audit_job(job=zone.job, user=user, act=f"Noted what is down of {zone}")
    return zone


@writes_once(FloorZone, "break floor")
def break_floor(
    *, zone: FloorZone, user: User, key: str, expected: int, doorway: Doorway
) -> FloorZone:
    """Return the new floor beyond a doorway: a T-molding there, the rooms beyond on their own.

    The new floor is laid as the old one was. Raises StaleError where somebody else saved first,
    BadValueError where the doorway does not part the floor.
    """
    parts = parts_at(rings_of(zone), links_of(zone), doorway.pk)
    if parts is None:
        accepted = "a doorway that is the only way between two parts of the floor"
        raise BadValueError(field="doorway", value=str(doorway), accepted=accepted)
    save_versioned(zone, expected=expected, names=())
    beyond = FloorZone.objects.create(
        job=zone.job,
        name=free_name(zone.job, ", ".join(parts[1])),
        **{name: getattr(zone, name) for name in _AS_BEFORE},
    )
    zone.rooms.filter(name__in=parts[1]).update(zone=beyond)
    doorways.change_doorway(
        doorway=doorway,
        user=user,
        key=f"{key[:56]}-strip",
        expected=doorway.version,
        values={"treatment": Treatment.T_MOLDING},
    )
    audit_job(job=zone.job, user=user, act=f"Broke at {doorway} {zone}")
    return beyond
