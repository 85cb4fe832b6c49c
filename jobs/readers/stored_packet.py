"""The one reader of stored packets."""

from __future__ import annotations

from jobs.domain.formats import Fields
from jobs.domain.packet.content import PACKET, packet_from
from jobs.models import Packet
from jobs.readers.documents import opened


def stored_packet(packet: Packet) -> Fields:
    """Return what a packet says, as it was issued, with days as dates and hours as decimals.

    Raises BrokenDocumentError where it can't be read.
    """
    return opened(packet.document, PACKET, packet_from)
