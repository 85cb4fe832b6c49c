"""Nights without a room: agreed to room by room, for the whole job, or by accepting a quote."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from jobs.domain.checks import BadValueError
from jobs.domain.scope.schedule import RoomNights
from jobs.models import AgreedNights, Job, Room, User
from jobs.services.records import audit_job, writes_once


@dataclass(frozen=True, kw_only=True, slots=True)
class NightsWord:
    """Somebody's word: these rooms, or all, may be open for nights; by whom, on which day."""

    rooms: Collection[int]
    whole_job: bool
    days_off: bool
    by: str
    on: date


@writes_once(Job, "agree to nights")
def agree_to_nights(*, job: Job, user: User, key: str, word: NightsWord) -> Job:
    """Return the job with this word in place of what the office noted before.

    Nights that a quote's acceptance named stay where the word says nothing of their room. A word of
    no room at all takes the office's notes back.

    Raises BadValueError for a room of another job, and for a word of nobody.
    """
    job = Job.objects.select_for_update(of=("self",)).select_related("company").get(pk=job.pk)
    rooms = list(job.rooms.filter(pk__in=word.rooms))
    if len(rooms) != len(set(word.rooms)):
        raise BadValueError(field="rooms", value="unknown", accepted="rooms of this job")
    if (rooms or word.whole_job) and not word.by.strip():
        accepted = "the name of whoever lives there and agreed"
        raise BadValueError(field="by", value="nobody", accepted=accepted)
    job.agreed_nights.filter(nights=None).delete()
    for room in [*rooms, *([None] if word.whole_job else [])]:
        _keep(job, room, word, user)
    audit_job(job=job, user=user, act=_said(rooms, word))
    return job


def _keep(job: Job, room: Room | None, word: NightsWord, user: User) -> AgreedNights:
    values = {
        "nights": None,
        "days_off": word.days_off,
        "by": word.by.strip(),
        "on": word.on,
        "quote": None,
        "who": user,
    }
    row, _ = AgreedNights.objects.update_or_create(job=job, room=room, defaults=values)
    return row


def _said(rooms: Iterable[Room], word: NightsWord) -> str:
    names = ["any room"] if word.whole_job else [room.name for room in rooms]
    if not names:
        return "Took back that rooms may be open for nights"
    weekend = ", weekends too" if word.days_off else ""
    return f"{word.by.strip()} agreed to nights without {', '.join(names)}{weekend}"


@transaction.atomic
def agree_by_quote(
    *, job: Job, nights: Iterable[RoomNights], quote: int, by: str, on: date, user: User | None
) -> list[AgreedNights]:
    """Return what accepting a quote agreed to: the nights that it names, room by room.

    What the office noted room by room goes further and stays.
    """
    rooms = {room.name: room for room in job.rooms.all()}
    agreed = []
    for one in nights:
        room = rooms.get(one.room)
        if room is None or job.agreed_nights.filter(room=room, nights=None).exists():
            continue
        values = {"nights": one.nights, "by": by, "on": on, "quote": quote, "who": user}
        row, _ = AgreedNights.objects.update_or_create(job=job, room=room, defaults=values)
        agreed.append(row)
    return agreed
