"""Doorways saved, their treatment chosen from the heights where nobody chose it by hand."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.db import transaction

from jobs.domain.lengths import length_words
from jobs.models import (
    Doorway,
    Job,
    Removal,
    RemovedKind,
    Room,
    SiteFacts,
    Transition,
    Treatment,
    User,
)
from jobs.models.base import Values
from jobs.readers.openings.doorways import doorways_of, fixing_for, proposal_of, step_of
from jobs.readers.openings.openings import refuse_misplaced
from jobs.services.archive.removals import take_out
from jobs.services.records import audit_job, put_values, writes_once
from jobs.services.saving import save_measured
from jobs.services.trim import derive_trim

DOORWAY_FIELDS = (
    *("wall", "offset_mm", "width_mm", "depth_mm", "beyond", "beyond_floor", "beyond_wall"),
    *("beyond_offset_mm", "step_mm", "beyond_high_mm", "kind", "beyond_kind", "swing"),
    *("clearance_mm", "metal_frame", "treatment", "chosen_by_hand", "casings", "doors_off"),
    *("strip_covers_mm", "strip_down_mm", "strip_up_mm"),
)


@writes_once(Doorway, "add doorway")
def add_doorway(*, room: Room, user: User, key: str, values: Values) -> Doorway:
    """Return the new doorway. Raises ValidationError, by field, where it does not fit its walls.

    A treatment that is left out, or empty, is the one proposed.
    """
    doorway = filled(Doorway(room=room), values)
    _refuse(doorway)
    doorway.save(force_insert=True)
    _follow(doorway)
    act = f"Added a doorway in wall {doorway.wall + 1} of {room}"
    audit_job(job=room.job, user=user, act=act)
    return doorway


@writes_once(Doorway, "change doorway")
def change_doorway(
    *, doorway: Doorway, user: User, key: str, expected: int, values: Values
) -> Doorway:
    """Return the changed doorway. Raises StaleError, or ValidationError by field."""
    job = doorway.room.job
    filled(doorway, values)
    _refuse(doorway)
    save_measured(doorway, expected=expected, names=DOORWAY_FIELDS, system=job.units)
    _follow(doorway)
    act = f"Changed the doorway in wall {doorway.wall + 1} of {doorway.room}"
    audit_job(job=job, user=user, act=act)
    return doorway


@transaction.atomic
def remove_doorway(*, doorway: Doorway, user: User) -> Removal:
    """Return what is kept of a doorway removed with its transition."""
    job = doorway.room.job
    act = f"Removed the doorway in wall {doorway.wall + 1} of {doorway.room}"
    audit_job(job=job, user=user, act=act)
    kind = RemovedKind.DOORWAY
    removal = take_out(doorway, kind=kind, company=job.company, user=user, where=str(job))
    derive_trim(job=job)
    return removal


def filled(doorway: Doorway, values: Values) -> Doorway:
    """Return a doorway with these values, unsaved; without a treatment it gets the proposal."""
    put_values(doorway, values)
    by_hand = values.get("treatment", "")
    doorway.chosen_by_hand = bool(by_hand)
    doorway.treatment = by_hand or proposal_of(doorway).treatment
    return doorway


@transaction.atomic
def follow_proposals(*, job: Job) -> int:
    """Let treatments that nobody chose by hand follow heights and floors; return how many did."""
    changed = 0
    for doorway in doorways_of(job):
        proposed = proposal_of(doorway).treatment
        if doorway.chosen_by_hand or proposed == doorway.treatment:
            continue
        doorway.treatment = proposed
        Doorway.objects.filter(pk=doorway.pk).update(treatment=proposed)
        put_strip(doorway)
        changed += 1
    return changed


def _refuse(doorway: Doorway) -> None:
    """Refuse a doorway that does not fit its walls, or a floor that is to climb a step."""
    step = step_of(doorway)
    if doorway.treatment == Treatment.CARRY and step:
        words = length_words(abs(step), doorway.room.job.units)
        message = f"Nothing carries through a step of {words}; accepted: a profile, or no step."
        raise ValidationError({"treatment": message})
    refuse_misplaced(doorway)


def _follow(doorway: Doorway) -> None:
    """Let transition and trim follow a saved doorway."""
    put_strip(doorway)
    derive_trim(job=doorway.room.job)


def put_strip(doorway: Doorway) -> None:
    """Let the strip of a saved doorway follow its treatment."""
    if doorway.treatment == Treatment.CARRY:
        Transition.objects.filter(doorway=doorway).delete()
        return
    job = doorway.room.job
    site = SiteFacts.objects.filter(job=job).first()
    Transition.objects.update_or_create(
        doorway=doorway,
        defaults={
            "job": job,
            "profile": doorway.treatment,
            "length_mm": doorway.width_mm,
            "fixing": fixing_for(doorway, site),
        },
    )
