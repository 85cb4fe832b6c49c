"""Packets that nobody should lay from any more, for the office's first page."""

from __future__ import annotations

from collections.abc import Iterator

from django.urls import reverse

from jobs.models import Company
from jobs.readers import today
from jobs.readers.packets import standing
from jobs.readers.packets.standing import packet_standings
from jobs.readers.today import JOBS_UNDER_WAY, Waiting
from jobs.readers.together.round_trip import KindRows


def register() -> None:
    """Let the first page look for packets that are out of date."""
    today.register(_outdated, under_way=[JOBS_UNDER_WAY, *standing.KINDS])


def _outdated(_: Company, rows: KindRows) -> Iterator[Waiting]:
    """Yield the packets of open jobs that are out of date, with the first thing that changed."""
    jobs = rows[JOBS_UNDER_WAY]
    standings = packet_standings(jobs, rows)
    for job in jobs:
        newest = standings.get(job.pk)
        if newest is not None and newest.out_of_date:
            yield Waiting(
                text=f"Packet {newest.packet.number} of job {job.number}, {job.title}, "
                f"is out of date: {newest.changed[0]}",
                url=reverse("packet-list", args=[job.pk]),
                at=newest.packet.made_at,
                kind="packet",
                stops=job.pk,
            )
