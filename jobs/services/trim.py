"""Trim runs derived from walls and openings; what a person edited stays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from django.db import transaction
from django.db.models import Max

from jobs.domain.lengths import mm_from
from jobs.domain.trim.runs import runs_of, spans_of
from jobs.models import BaseTreatment, Job, Room, TrimKind, TrimRun, User
from jobs.models.base import Values
from jobs.readers.openings.openings import openings_of
from jobs.services.records import audit_job, put_values, writes_once
from jobs.services.saving import save_measured

RUN_FIELDS = (
    "kind",
    "beside",
    "length_mm",
    "start_end",
    "finish_end",
    "action",
    "profile",
    "left_out",
    "edited",
)
CARRIES_TRIM = ("wall", "radiator")
"""What may stand along a side that still carries base: common practice, no source."""

Key = tuple[str, int, int]


@transaction.atomic
def derive_trim(*, job: Job) -> int:
    """Derive the trim runs of every room of ``job`` anew; return how many there are.

    Base runs along every wall but where a room has none, shoe where it is added; both stop at
    openings. Runs that a person edited or left out stay as they are.
    """
    rows = TrimRun.objects.filter(room__job=job)
    rows.filter(edited=False, left_out=False).delete()
    kept = {(run.room_id, *key_of(run)) for run in rows.all()}
    new = [
        run
        for room in job.rooms.all()
        for run in derived_runs(room)
        if (room.pk, *key_of(run)) not in kept
    ]
    TrimRun.objects.bulk_create(new)
    return len(new) + len(kept)


def key_of(run: TrimRun) -> Key:
    """Return what tells a run from the others of its room: kind, wall and place."""
    return run.kind, run.wall, run.place


def derived_runs(room: Room) -> Iterator[TrimRun]:
    """Yield the runs that follow from a room's walls and openings, unsaved."""
    kinds = [] if room.base == BaseTreatment.NONE else [TrimKind.BASE]
    kinds += [TrimKind.SHOE] if room.shoe else []
    unit = room.job.unit
    ring = tuple((x, y) for x, y in room.outline)
    gaps = [opening.gap(unit) for opening in openings_of(room)]
    runs = runs_of(ring, gaps, unit=unit, bare=bare_sides(room)) if ring and kinds else []
    for kind in kinds:
        for run in runs:
            yield TrimRun(
                room=room,
                wall=run.wall,
                kind=kind,
                place=run.place,
                length_mm=mm_from(run.length, unit),
                start_end=run.start_end,
                finish_end=run.finish_end,
            )


def run_spans(room: Room) -> dict[tuple[int, int], tuple[float, float]]:
    """Return where the runs of a room begin and end on their walls, by wall and place."""
    unit, ring = room.job.unit, tuple((x, y) for x, y in room.outline)
    gaps = [opening.gap(unit) for opening in openings_of(room)]
    return spans_of(ring, gaps, unit=unit, bare=bare_sides(room)) if ring else {}


def bare_sides(room: Room) -> frozenset[int]:
    """Return the sides of a room's outline along which no base runs.

    Base follows walls: what stands on the floor, a hearth or a cabinet, has a side of no wall. A
    run round it is added by a person.
    """
    return frozenset(
        place
        for place, side in enumerate(room.edges)
        if side["wall"] is None or side["kind"] not in CARRIES_TRIM
    )


@writes_once(TrimRun, "trim run")
def change_run(*, run: TrimRun, user: User, key: str, expected: int, values: Values) -> TrimRun:
    """Return the run as a person set it; from now on it stays. Raises StaleError."""
    job = run.room.job
    put_values(run, values)
    run.edited = True
    save_measured(run, expected=expected, names=RUN_FIELDS, system=job.units)
    audit_job(job=job, user=user, act=f"Set {run}")
    return run


@writes_once(TrimRun, "add trim run")
def add_run(*, room: Room, user: User, key: str, values: Values) -> TrimRun:
    """Return a run of a room that follows no wall: round a hearth, an island, a column."""
    job = room.job
    numbers = TrimRun.objects.filter(room=room, wall__gte=TrimRun.ADDED_FROM)
    last = numbers.aggregate(last=Max("wall"))["last"]
    run = TrimRun(room=room, wall=TrimRun.ADDED_FROM if last is None else last + 1, edited=True)
    put_values(run, values)
    run.save()
    audit_job(job=job, user=user, act=f"Added {run}")
    return run


@transaction.atomic
def take_derived(*, run: TrimRun, user: User) -> None:
    """Let a run follow its wall again; it goes where the walls have no such run any more.

    A run that a person added follows no wall: it is taken off.
    """
    job = run.room.job
    act = f"Removed {run}" if run.is_added else f"Took the derived value for {run}"
    audit_job(job=job, user=user, act=act)
    TrimRun.objects.filter(pk=run.pk).delete()
    derive_trim(job=job)


@writes_once(Job, "trim stock")
def set_stock(
    *, job: Job, user: User, key: str, expected: int, lengths_mm: Sequence[Decimal]
) -> Job:
    """Return the job with the lengths its trim is bought in; none: the usual ones.

    Raises StaleError.
    """
    job.trim_stock = [str(length) for length in lengths_mm]
    save_measured(job, expected=expected, names=("trim_stock",), system=job.units)
    audit_job(job=job, user=user, act="Set trim lengths")
    return job
