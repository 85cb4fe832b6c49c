"""Photographs of jobs closed long ago, where the owner keeps them only so long."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction

from jobs.domain.keeping import months_before
from jobs.models import Company, Job, JobExtra, LogEntry, LogPhoto, RoomNote, StoredFile
from jobs.services.records import audit
from jobs.services.sweeping.orphans import drop_unneeded_files


def sweep_photographs(now: datetime) -> int:
    """Take away what each company keeps no longer; return how many photographs went."""
    went = 0
    for company in Company.objects.filter(photographs_months__isnull=False):
        until = months_before(now, company.photographs_months or 0)
        jobs = company.jobs.filter(closed_at__lt=until)
        gone = take_photographs(jobs)
        if gone:
            act = f"Removed {gone} photographs of jobs closed before {until:%Y-%m-%d}"
            audit(user=None, company=company, subject="photographs", act=act)
        went += gone
    return went


@transaction.atomic
def take_photographs(jobs: Iterable[Job]) -> int:
    """Take the photographs from these jobs; return how many. Signatures and papers stay.

    A frozen quote or change order that shows a photograph keeps it.
    """
    keys = [job.pk for job in jobs]
    notes = RoomNote.objects.filter(room__job__in=keys, photo__isnull=False)
    entries = LogEntry.objects.filter(day__job__in=keys, photo__isnull=False)
    extras = JobExtra.objects.filter(job__in=keys, photo__isnull=False)
    shots = LogPhoto.objects.filter(log__day__job__in=keys)
    shots = shots.exclude(side=LogPhoto.TakenWhen.SIGNED)
    files = {
        key for rows in (notes, entries, extras) for key in rows.values_list("photo", flat=True)
    }
    files |= set(shots.values_list("file", flat=True))
    gone = notes.count() + entries.count() + extras.count() + shots.count()
    notes.filter(text="").delete()
    for rows in (notes, entries, extras):
        rows.update(photo=None)
    shots.delete()
    drop_unneeded_files(StoredFile.objects.filter(pk__in=files))
    return gone
