"""The log of a day for the whole crew: one sending, counted once, all of it or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from jobs.domain.checks import ZERO
from jobs.domain.tasks import OTHER
from jobs.models import (
    Company,
    DayLog,
    LogPhoto,
    PunchItem,
    SentOnce,
    SiteFacts,
    StoredFile,
    User,
    WorkDay,
)
from jobs.services.day_log.telling import Pictures, Telling
from jobs.services.extras.extras import note_extra
from jobs.services.files import store_picture
from jobs.services.log import (
    LogLine,
    Photo,
    check_hours,
    check_work,
    hold_still,
    hours_words,
    write_lines,
)
from jobs.services.records import audit_job, first_time
from jobs.services.site import add_reading, clear_hold

ACTION = "log day"
_KEY_LENGTH = 56


@dataclass(frozen=True, kw_only=True, slots=True)
class _Kept:
    """The pictures of a telling, written anew before anything of it is kept."""

    before: tuple[StoredFile, ...] = ()
    after: tuple[StoredFile, ...] = ()
    beside: tuple[StoredFile, ...] = ()
    signed: tuple[StoredFile, ...] = ()


def record_crew_log(*, day: WorkDay, user: User, key: str, telling: Telling) -> DayLog:
    """Return the log of a day as it was written; sent again, that of the first time.

    Raises:
        BadValueError: a task that is neither in the scope nor other work, rows that the plan
            doesn't have, a task behind an open hold, more than 24 hours of a person in a day, a
            file that is no picture. Nothing is written then.
    """
    company = day.job.company
    if SentOnce.objects.filter(company=company, key=key, action=ACTION).exists():
        kept = _Kept()  # no picture is written anew for what is there already
    else:
        kept = _pictures(company, telling)
    return _write(day=day, user=user, key=key, telling=telling, kept=kept)


@transaction.atomic
def _write(*, day: WorkDay, user: User, key: str, telling: Telling, kept: _Kept) -> DayLog:
    sending, new = first_time(company=day.job.company, key=key, action=ACTION)
    if not new:
        return DayLog.objects.get(day=day, key=key[:_KEY_LENGTH])
    people = {who.pk: who for who, _ in telling.lines}
    hold_still(day, people.values())
    log = _log(day, user, key, telling)
    for code, gate in telling.gates.items():
        clear_hold(job=day.job, user=user, code=code, by=gate.by, note=gate.note, log=log)
    check_work(day, [line for _, line in telling.lines], telling.note)
    for who in people.values():
        check_hours(day, who, [line for each, line in telling.lines if each.pk == who.pk])
    write_lines(log, _with_note(telling, user))
    _beside(log, user, telling, kept)
    sending.result = f"day {day.pk}"
    sending.save(update_fields=["result"])
    hours = sum((line.hours for _, line in telling.lines), ZERO)
    names = ", ".join(who.name for who in people.values()) or user.name
    audit_job(job=day.job, user=user, act=f"Logged {hours_words(hours)} of {names} on {day}")
    return log


def _log(day: WorkDay, user: User, key: str, telling: Telling) -> DayLog:
    return DayLog.objects.create(
        day=day,
        teller=user,
        key=key[:_KEY_LENGTH],
        phone=telling.phone[:64],
        phone_at=telling.phone_at,
        note=telling.note.strip(),
        in_the_way=list(telling.in_the_way),
        cartons=telling.cartons,
        lot=telling.lot.strip(),
        last_width=telling.last_width.strip(),
        broken=telling.broken,
        signed_by=telling.signed_by.strip(),
    )


def _with_note(telling: Telling, user: User) -> list[tuple[User, LogLine]]:
    """Return the lines with the note at other work, which it tells of; else a line of its own.

    A note is of the day: at one of its tasks it would stand where it does not belong. A log without
    hours has a line too, by which it can be undone.
    """
    note = telling.note.strip()
    lines = list(telling.lines)
    if lines and not note:
        return lines
    for place, (who, line) in enumerate(lines):
        if line.task == OTHER:
            lines[place] = (who, LogLine(task=OTHER, hours=line.hours, note=note))
            return lines
    return [*lines, (user, LogLine(task=OTHER, note=note))]


def _beside(log: DayLog, user: User, telling: Telling, kept: _Kept) -> None:
    """Write what stands beside the hours: photographs, readings, punch list, extra work."""
    _photos(log, telling.pictures, kept)
    _readings(log, user, telling)
    for text in telling.punch:
        PunchItem.objects.create(job=log.day.job, log=log, text=text, who=user)
    still_open = PunchItem.objects.filter(job=log.day.job, done_at__isnull=True)
    done = {"done_at": timezone.now(), "done_by": user, "done_in": log}
    still_open.filter(pk__in=telling.punch_done).update(**done)
    extra = telling.extra
    if extra is not None:
        note_extra(
            job=log.day.job,
            user=user,
            key=f"{log.key}-extra",
            text=extra.text,
            asked_by=extra.asked_by,
            hours=extra.hours,
            log=log,
            photo=extra.photo,
        )


def _photos(log: DayLog, pictures: Pictures, kept: _Kept) -> None:
    """Write the photographs; those from after belong to one from before, by their place."""
    make, side = LogPhoto.objects.create, LogPhoto.TakenWhen
    before = [make(log=log, file=file, side=side.BEFORE) for file in kept.before]
    known = LogPhoto.objects.filter(log__day__job=log.day.job_id, side=side.BEFORE)
    earlier = known.filter(pk=pictures.after_of or 0).first()
    for place, file in enumerate(kept.after):
        same_spot = earlier or (before[place] if place < len(before) else None)
        make(log=log, file=file, side=side.AFTER, before=same_spot)
    for file in kept.beside:
        make(log=log, file=file)
    for file in kept.signed:
        make(log=log, file=file, side=side.SIGNED)


def _readings(log: DayLog, user: User, telling: Telling) -> None:
    for place, reading in enumerate(telling.readings):
        site, _ = SiteFacts.objects.select_for_update().get_or_create(job=log.day.job)
        key = f"{log.key}-read{place}"
        add_reading(site=site, user=user, key=key, expected=site.version, reading=reading, log=log)


def _pictures(company: Company, telling: Telling) -> _Kept:
    pictures = telling.pictures
    return _Kept(
        before=_anew(company, pictures.before),
        after=_anew(company, pictures.after),
        beside=_anew(company, pictures.beside),
        signed=_anew(company, [telling.signature] if telling.signature else []),
    )


def _anew(company: Company, photos: Sequence[Photo]) -> tuple[StoredFile, ...]:
    return tuple(
        store_picture(company=company, upload=one.upload, size=one.size, name=one.name)
        for one in photos
    )
