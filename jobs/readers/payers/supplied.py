"""Material that somebody else supplies, read from its rows."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.domain.checks import ZERO
from jobs.domain.payers.supplied import Delivery, MaterialNeed, SuppliedCount
from jobs.models import Job, SuppliedBy, SuppliedMaterial
from jobs.readers.payers.payer import payer_row


def supplied_rows(job: Job) -> list[SuppliedMaterial]:
    """Return the materials of a job that aren't ours, in the order in which they were named."""
    return list(job.supplied.exclude(whose=SuppliedBy.OURS).prefetch_related("receipts__user"))


def supplier_names(job: Job) -> dict[str, str]:
    """Return by `SuppliedBy` who supplies: the client, or the payer by name."""
    payer = payer_row(job).payer
    return {
        SuppliedBy.CLIENT: "the client",
        SuppliedBy.PAYER: payer.name if payer else "the payer",
    }


def counts_of(
    job: Job, rows: Iterable[SuppliedMaterial], needs: Iterable[MaterialNeed]
) -> list[SuppliedCount]:
    """Return what came of each supplied material, against what is needed of it now."""
    needed = {(need.code, need.item): need for need in needs}
    names = supplier_names(job)
    return [
        SuppliedCount(
            need=needed.get((row.code, row.item))
            or MaterialNeed(code=row.code, item=row.item, amount=ZERO),
            by=names[row.whose],
            ordered=row.lot_ordered,
            deliveries=[
                Delivery(counted=each.counted, faulty=each.faulty, lot=each.lot)
                for each in row.receipts.all()
            ],
        )
        for row in rows
    ]
