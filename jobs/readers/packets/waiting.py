"""Packets that nobody should lay from any more, for the office's first page."""

from __future__ import annotations

from collections.abc import Iterator

from django.urls import reverse

from jobs.models import Company, Job
from jobs.readers import today
from jobs.readers.packets.standing import packet_standings
from jobs.readers.today import Waiting


def register() -> None:
    """Let the first page look for packets that are out of date."""
    today.register(_outdated)


def _outdated(company: Company) -> Iterator[Waiting]:
    """Yield the packets of open jobs that are out of date, with the first thing that changed."""
    jobs = Job.objects.filter(company=company, closed_at=None, archived_at=None)
    printed = list(jobs.filter(packets__isnull=False).distinct().select_related("client"))
    standings = packet_standings(printed)
    for job in printed:
        standing = standings[job.pk]
        if standing.out_of_date:
            yield Waiting(
                text=f"Packet {standing.packet.number} of job {job.number}, {job.title}, "
                f"is out of date: {standing.changed[0]}",
                url=reverse("packet-list", args=[job.pk]),
                at=standing.packet.made_at,
                kind="packet",
            )
