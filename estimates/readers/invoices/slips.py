"""Completion slips: what was laid where, as the occupant reads it; no price, no hours."""

from __future__ import annotations

from datetime import date

from estimates.domain.invoices.slip import (
    DONE_WORDS,
    SLIP,
    CompletionWord,
    SlipFloor,
    slip_from,
)
from estimates.models import CompletionSlip
from estimates.readers.setup.sales import letterhead_of
from jobs.models import Document, Job
from jobs.readers.documents import opened
from jobs.readers.payers.payer import payer_row
from jobs.readers.scope import scope_value
from jobs.services.records import next_number


def stored_slip(slip: CompletionSlip) -> CompletionWord:
    """Return what a completion slip says. Raises BrokenDocumentError where it can't be read."""
    return slip_of(slip.document)


def slip_of(document: Document) -> CompletionWord:
    """Return what the document of a completion slip says; raises as `stored_slip`."""
    return opened(document, SLIP, slip_from)


def word_to_sign(
    job: Job, *, today: date, signed_by: str = "", open_points: str = ""
) -> CompletionWord | None:
    """Return what the occupant puts a name to; None before a scope is agreed on."""
    if job.agreed_scope is None:
        return None
    payer = payer_row(job)
    return CompletionWord(
        number=next_number(job.completion_slips.all()),
        job_number=job.number,
        title=job.title,
        letterhead=letterhead_of(job.company),
        site=job.address,
        client=job.client.name,
        order_number=payer.order_number if payer.payer else "",
        order_name=payer.payer.name if payer.payer else "",
        floors=_floors(job),
        words=DONE_WORDS,
        open_points=open_points,
        signed_by=signed_by,
        signed_on=today,
        scope_sha256=job.agreed_scope.document.sha256,
    )


def _floors(job: Job) -> tuple[SlipFloor, ...]:
    """Return the floors of the agreed scope with the rooms that lie on them."""
    if job.agreed_scope is None:
        return ()
    zones = job.zones.prefetch_related("rooms")
    rooms = {zone.name: tuple(room.name for room in zone.rooms.all()) for zone in zones}
    return tuple(
        SlipFloor(
            name=zone.name,
            product=zone.product,
            area_ft2=zone.area_ft2,
            rooms=rooms.get(zone.name, ()),
        )
        for zone in scope_value(job.agreed_scope).zones
    )
