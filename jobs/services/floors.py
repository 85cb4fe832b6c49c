"""What is set for one floor only: its rules, and what is down of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal

from jobs.models import FloorPlan, FloorZone, User
from jobs.planning import request_of
from jobs.records import audit, save_versioned, write_once


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

    def write() -> FloorZone:
        rules = {name: f"{mm.normalize():f}" for name, mm in lengths.items() if mm is not None}
        zone.own_rules = rules | ({"stagger": stagger} if stagger else {})
        save_versioned(zone, expected=expected, names=("own_rules",))
        note(zone, user, "Set rules for")
        return zone

    rows, action = zone.job.zones.all(), "set rules"
    return write_once(company=zone.job.company, key=key, action=action, rows=rows, write=write)


def note(zone: FloorZone, user: User, act: str) -> None:
    """Leave the audit line of something done to a floor."""
    subject = f"job {zone.job_id}"
    audit(user=user, company=zone.job.company, subject=subject, act=f"{act} {zone}")


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
) -> FloorZone:
    """Return the floor with what is down and at hand; no piece down begins it anew.

    Raises StaleError where somebody else saved first, InputError where the floor can't be gone on
    with from there; nothing is written.
    """

    def write() -> FloorZone:
        told = {"plan": plan.pk, "laid": list(laid), "planks": planks, "gone": sorted(gone)}
        zone.going_on = told if laid else {}
        save_versioned(zone, expected=expected, names=("going_on",))
        request_of(zone)
        note(zone, user, "Noted what is down of")
        return zone

    rows, action = zone.job.zones.all(), "go on"
    return write_once(company=zone.job.company, key=key, action=action, rows=rows, write=write)
