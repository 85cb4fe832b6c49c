"""The ways to do a planned job otherwise that its own facts offer.

Lay over or tear out, pad attached or separate, base reused or new, a thicker core or leveling.
Each changes what is counted, and hours and material follow from that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import cast

from django.urls import reverse

from estimates.readers.options.way import NoWay, Otherwise, Way, WayPage
from jobs.domain.checks import ZERO
from jobs.domain.floors.suitability import GROUNDS
from jobs.domain.scope.inputs import BaseTreatment, JobTake, OldFloor, Roll, RoomTake, TrimTake
from jobs.domain.site.cautions import cautions_for
from jobs.models import ExistingFloor, FloorZone, SiteFacts
from jobs.readers.scope import PAD
from jobs.readers.site import OPEN_QUESTIONS, cleared_holds
from jobs.services.scope import WorkBasis

PUT_ON = ("reinstall", "replace")
"""What may happen to base that is put on: the old one again, or a new one."""

STAYS = {
    ExistingFloor.RESILIENT: "resilient",
    ExistingFloor.TILE: "tile",
    ExistingFloor.WOOD: "wood floor",
    ExistingFloor.LAMINATE: "laminate",
}
"""An old floor that a floating floor may be laid over, as a product's sheet names it."""

HIGHER = "The new floor stands higher by the old one that stays: look at doors and level changes."
FLATNESS = "Only where the maker allows a subfloor as uneven as this one."


def ways_of(basis: WorkBasis) -> tuple[tuple[Way, ...], tuple[NoWay, ...]]:
    """Return the ways that the facts of a job offer, and those that they don't with the reason."""
    job, zones, takes = basis.job, list(basis.plans), basis.takes
    site = SiteFacts.objects.filter(job=job).first() or SiteFacts(job=job)
    rooms = WayPage(words="Open the rooms", url=reverse("room-list", args=[job.pk]))
    offered: list[Way | NoWay] = [
        _old_floor(basis, site, zones),
        _pads(zones),
        *_bases(takes, rooms),
        leveler_way(takes, rooms),
    ]
    ways = tuple(each for each in offered if isinstance(each, Way))
    return ways, tuple(each for each in offered if isinstance(each, NoWay))


def _old_floor(basis: WorkBasis, site: SiteFacts, zones: Sequence[FloorZone]) -> Way | NoWay:
    """Return the old floor laid over where it comes out, else torn out where it stays."""
    title = "Lay over or tear out"
    page = WayPage(words="Open the site", url=reverse("site-edit", args=[basis.job.pk]))
    if site.existing_floor == ExistingFloor.UNKNOWN:
        return NoWay(title=title, reason="What is down now is not noted yet.", page=page)
    if site.existing_floor == ExistingFloor.NONE:
        return NoWay(title=title, reason="Nothing is down now.")
    named = site.get_existing_floor_display().lower()
    if not site.tear_out:
        old = cast(OldFloor, str(site.existing_floor))
        return Way(
            key="tear_out",
            title=f"Tear out: {named}",
            instead="in place of laying over it",
            otherwise=_torn_out(old),
            is_plain=True,
            cautions=_tear_out_cautions(basis),
        )
    if reason := _never_over(ExistingFloor(site.existing_floor), zones):
        return NoWay(title=title, reason=reason, page=page)
    return Way(
        key="lay_over",
        title=f"Lay over: {named}",
        instead="in place of tearing it out",
        otherwise=_torn_out("none"),
        is_plain=True,
        cautions=(HIGHER,),
    )


def _never_over(old: ExistingFloor, zones: Sequence[FloorZone]) -> str:
    """Return why a floor may not be laid over the old one; empty where it may."""
    if old not in STAYS:
        return "A floating floor is not laid over carpet.†"
    ground = STAYS[old]
    for zone in zones:
        if zone.product.laid_over and ground not in zone.product.laid_over:
            return f"{zone.product} is not laid over {GROUNDS[ground]}, as its sheet says."
    return ""


def _torn_out(old: OldFloor) -> Otherwise:
    def otherwise(takes: JobTake) -> JobTake:
        return replace(takes, rooms=tuple(replace(room, old_floor=old) for room in takes.rooms))

    return otherwise


def _tear_out_cautions(basis: WorkBasis) -> tuple[str, ...]:
    """Return the questions that would stop the tear-out, each in a sentence."""
    cautions = cautions_for(replace(basis.facts, tear_out=True))
    open_now = OPEN_QUESTIONS - cleared_holds(basis.job)
    return tuple(
        f"{each.title}: nobody takes it out until that is cleared."
        for each in cautions
        if each.code in open_now and "tear_out" in each.blocks
    )


def _pads(zones: Sequence[FloorZone]) -> Way | NoWay:
    """Return the other kind of pad than the floors are planned with."""
    first, *_ = zones
    compare = WayPage(
        words="Compare products on this floor", url=reverse("zone-compare", args=[first.pk])
    )
    if any(zone.pad and not zone.product.attached_pad for zone in zones):
        return Way(
            key="pad_attached",
            title="Attached pad",
            instead="in place of a separate pad",
            otherwise=_with_pad(None),
            page=compare,
            boards_differ=True,
        )
    if all(zone.product.attached_pad for zone in zones):
        return Way(
            key="pad_of_other_boards",
            title="Separate pad",
            instead="in place of the attached pad",
            otherwise=_with_pad(PAD),
            page=compare,
            boards_differ=True,
        )
    forbids = [zone.product for zone in zones if zone.product.separate_pad == "no"]
    if forbids:
        reason = f"No separate pad goes under {forbids[0]}, as its sheet says."
        return NoWay(title="Attached or separate pad", reason=reason)
    return Way(
        key="pad_separate",
        title="Separate pad",
        instead="where none is planned",
        otherwise=_with_pad(PAD, only_bare=True),
        is_plain=True,
    )


def _with_pad(pad: Roll | None, *, only_bare: bool = False) -> Otherwise:
    """Return the job on this pad; with None its boards have theirs attached."""

    def otherwise(takes: JobTake) -> JobTake:
        zones = tuple(
            zone
            if only_bare and zone.product.attached_pad
            else replace(zone, product=replace(zone.product, attached_pad=pad is None, pad=pad))
            for zone in takes.zones
        )
        return replace(takes, zones=zones)

    return otherwise


def _bases(takes: JobTake, rooms: WayPage) -> list[Way | NoWay]:
    """Return the old base where new base is planned, and the other way round."""
    planned = {room.base_treatment for room in takes.rooms if room.base_run_in}
    ways: list[Way | NoWay] = []
    if "replace" in planned:
        ways.append(
            Way(
                key="base_old",
                title="Old base reused",
                instead="in place of new base",
                otherwise=_base_as("reinstall"),
                is_plain=True,
            )
        )
    if "reinstall" in planned:
        ways.append(
            Way(
                key="base_new",
                title="New base",
                instead="in place of the old base reused",
                otherwise=_base_as("replace"),
                is_plain=True,
            )
        )
    reason = "No base comes off and goes on again in these rooms."
    return ways or [NoWay(title="Old base reused or new base", reason=reason, page=rooms)]


def _base_as(treatment: BaseTreatment) -> Otherwise:
    def otherwise(takes: JobTake) -> JobTake:
        return replace(takes, rooms=tuple(_room_base(room, treatment) for room in takes.rooms))

    return otherwise


def _room_base(room: RoomTake, treatment: BaseTreatment) -> RoomTake:
    if room.base_treatment not in PUT_ON:
        return room
    trim = tuple(_run_base(run, treatment) for run in room.trim)
    return replace(room, base_treatment=treatment, trim=trim)


def _run_base(run: TrimTake, treatment: BaseTreatment) -> TrimTake:
    if run.kind != "base" or run.action not in PUT_ON:
        return run
    return replace(run, action=treatment)


def leveler_way(takes: JobTake, rooms: WayPage) -> Way | NoWay:
    """Return a thicker core in place of the leveler that is counted."""
    if not any(room.leveler_bags for room in takes.rooms):
        reason = "No leveler is counted in these rooms."
        return NoWay(title="Thicker core or leveling", reason=reason, page=rooms)
    return Way(
        key="no_leveler",
        title="Thicker core, no leveling",
        instead="in place of leveling",
        otherwise=without_leveler,
        boards_differ=True,
        page=rooms,
        cautions=(FLATNESS,),
    )


def without_leveler(takes: JobTake) -> JobTake:
    """Return the job with no leveler and no primer under it."""
    rooms = tuple(replace(room, leveler_bags=0, primer_in2=ZERO) for room in takes.rooms)
    return replace(takes, rooms=rooms)
