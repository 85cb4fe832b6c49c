"""Extra work noted by the crew or the office: once, atomic, audited.

Whoever makes something of it (a draft of a change order) registers with `register`, so that
imports keep pointing down.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from jobs.domain.checks import BadValueError
from jobs.models import DayLog, Job, JobExtra, StoredFile, User, WorkDay
from jobs.services.files import store_picture
from jobs.services.log import Photo
from jobs.services.records import audit_job, writes_once

Follow = Callable[[JobExtra, User], object]
_FOLLOWS: list[Follow] = []
_GIVES_UP: list[Follow] = []


def register(follow: Follow, *, give_up: Follow) -> None:
    """Call ``follow`` with each extra and who noted it, within the same write.

    ``give_up`` is called within the write that takes an extra back with its log; it raises
    BadValueError where something was built on it that stays.
    """
    if follow not in _FOLLOWS:
        _FOLLOWS.append(follow)
        _GIVES_UP.append(give_up)


def note_extra(
    *,
    job: Job,
    user: User,
    key: str,
    text: str,
    asked_by: str = "",
    hours: Decimal | None = None,
    day: WorkDay | None = None,
    log: DayLog | None = None,
    photo: Photo | None = None,
) -> JobExtra:
    """Return the extra work as it was noted; sent again, the one of the first time.

    The photograph is written anew before anything is kept, so that others may write meanwhile.

    Raises BadValueError for a job that is closed, an empty text, or a file that is no picture.
    """
    if job.closed_at is not None:
        accepted = "a job that is open; open it again first"
        raise BadValueError(field="job", value="closed", accepted=accepted)
    if not text.strip():
        accepted = "what is wanted, or what was seen"
        raise BadValueError(field="text", value="nothing", accepted=accepted)
    return _write(
        job=job,
        user=user,
        key=key,
        picture=_stored(job, photo),
        values={"day": log.day if log else day, "log": log}
        | {"text": text.strip(), "asked_by": asked_by.strip(), "hours": hours},
    )


def _stored(job: Job, photo: Photo | None) -> StoredFile | None:
    if photo is None:
        return None
    return store_picture(company=job.company, upload=photo.upload, size=photo.size, name=photo.name)


@writes_once(JobExtra, "note extra work")
def _write(
    *,
    job: Job,
    user: User,
    key: str,
    picture: StoredFile | None,
    values: dict[str, object],
) -> JobExtra:
    extra = JobExtra.objects.create(job=job, who=user, photo=picture, **values)
    audit_job(job=job, user=user, act=f"Noted: {extra}")
    for follow in _FOLLOWS:
        follow(extra, user)
    return extra


@transaction.atomic
def drop_extra(*, extra: JobExtra, user: User) -> JobExtra:
    """Take extra work off the list; that it was there is kept in the book."""
    if extra.dropped_at is None:
        extra.dropped_at = timezone.now()
        extra.save(update_fields=["dropped_at"])
        audit_job(job=extra.job, user=user, act=f"Dropped: {extra}")
    return extra


@transaction.atomic
def take_back_extra(*, extra: JobExtra, user: User) -> None:
    """Drop extra work whose log is undone, with what nobody has built on since.

    Raises BadValueError where something was.
    """
    for give_up in _GIVES_UP:
        give_up(extra, user)
    drop_extra(extra=extra, user=user)
