"""Whether the newest packet of a job still says how things stand, and what has changed since."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from jobs.domain.formats import BrokenDocumentError, Fields
from jobs.domain.packet.basis import changes_since
from jobs.models import Job, Packet
from jobs.readers.packets import basis as of_now
from jobs.readers.stored_packet import stored_packet
from jobs.readers.together import of_jobs
from jobs.readers.together.round_trip import KindRows, rows_of

KINDS = (of_jobs.PACKETS, of_jobs.PACKET_PAPERS, *of_now.KINDS)
"""The rows that tell how packets stand."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PacketStanding:
    """The newest packet of a job, and in sentences what has changed since it was issued."""

    packet: Packet
    changed: tuple[str, ...]

    @property
    def out_of_date(self) -> bool:
        """Whether nobody should lay from it any more."""
        return bool(self.changed)

    @property
    def said(self) -> str:
        """How it stands, in words for a link or a list."""
        return f"Packet {self.packet.number}" + (", out of date" if self.changed else "")


def packet_standings(
    jobs: Sequence[Job], rows: KindRows | None = None
) -> dict[int, PacketStanding]:
    """Return the newest packet of each of these jobs that has one, by the job's pk.

    The packet of a closed job stays as it is: nobody lays from it any more. ``rows``: those of
    `KINDS` where they are at hand.
    """
    if rows is None:
        rows = rows_of([job.pk for job in jobs], *KINDS)
    newest = _newest(rows, {job.pk for job in jobs})
    looked = [job for job in jobs if job.pk in newest and job.closed_at is None]
    now = of_now.bases_of(looked, rows) if looked else {}
    return {
        pk: PacketStanding(
            packet=packet, changed=tuple(changes_since(basis_of(packet), now.get(pk, {})))
        )
        for pk, packet in newest.items()
    }


def packet_standing(job: Job) -> PacketStanding | None:
    """Return the newest packet of a job; None where there is none."""
    return packet_standings([job]).get(job.pk)


def _newest(rows: KindRows, jobs: Collection[int]) -> dict[int, Packet]:
    """Return the newest packets by job, each with its paper where it doesn't know its basis."""
    papers = {paper.pk: paper for paper in rows[of_jobs.PACKET_PAPERS]}
    newest = {packet.job_id: packet for packet in rows[of_jobs.PACKETS] if packet.job_id in jobs}
    for packet in newest.values():
        if packet.document_id in papers:
            packet.document = papers[packet.document_id]
    return newest


def basis_of(packet: Packet) -> Fields:
    """Return what a packet was made from; of packets of before, what they say themselves."""
    if packet.basis:
        basis: Fields = packet.basis
        return basis
    try:
        said = stored_packet(packet)
    except BrokenDocumentError:
        return {}
    return {
        "scope": said["scope"],
        "floors": {
            floor["name"]: {"plan": floor["plan"], "sha256": floor["plan_sha256"]}
            for floor in said["floors"]
        },
        "days": {
            str(day["number"]): {"date": day["date"].isoformat(), "crew": day["crew"]}
            for day in said["days"]
        },
    }
