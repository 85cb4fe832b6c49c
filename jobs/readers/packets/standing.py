"""Whether the newest packet of a job still says how things stand, and what has changed since."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import prefetch_related_objects

from jobs.domain.formats import BrokenDocumentError, Fields
from jobs.domain.packet.basis import changes_since
from jobs.models import Job, Packet
from jobs.readers.packets.basis import bases_of
from jobs.readers.stored_packet import stored_packet


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


def packet_standings(jobs: Sequence[Job]) -> dict[int, PacketStanding]:
    """Return the newest packet of each of these jobs that has one, by the job's pk.

    The packet of a closed job stays as it is: nobody lays from it any more.
    """
    newest = _newest(jobs)
    looked = [job for job in jobs if job.pk in newest and job.closed_at is None]
    now = bases_of(looked) if looked else {}
    return {
        pk: PacketStanding(
            packet=packet, changed=tuple(changes_since(basis_of(packet), now.get(pk, {})))
        )
        for pk, packet in newest.items()
    }


def packet_standing(job: Job) -> PacketStanding | None:
    """Return the newest packet of a job; None where there is none."""
    return packet_standings([job]).get(job.pk)


def _newest(jobs: Sequence[Job]) -> dict[int, Packet]:
    newest: dict[int, Packet] = {}
    rows = Packet.objects.filter(job__in=jobs).select_related("pdf", "changed_pdf")
    for packet in rows.order_by("number"):
        newest[packet.job_id] = packet
    # What a packet was made from stands beside it; those of before must be opened for it.
    prefetch_related_objects([row for row in newest.values() if not row.basis], "document")
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
