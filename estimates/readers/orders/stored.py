"""The one reader of stored change orders."""

from __future__ import annotations

from collections.abc import Sequence

from estimates.domain.change_order import CHANGE_ORDER, OrderContent, order_from
from estimates.domain.priced import Priced
from estimates.models import ChangeOffer, ChangeOrder, Estimate
from estimates.readers.prices import priced_of
from jobs.domain.checks import BadValueError
from jobs.readers.documents import broken, opened


def stored_order(order: ChangeOrder | ChangeOffer) -> OrderContent:
    """Return what a change order says. Raises BrokenDocumentError where it can't be read."""
    return opened(order.document, CHANGE_ORDER, order_from)


def price_of_order(order: ChangeOrder) -> Priced:
    """Return the priced scope that a change order was made from; raises as `prices_of_orders`."""
    (priced,) = prices_of_orders([order])
    return priced


def prices_of_orders(orders: Sequence[ChangeOrder]) -> tuple[Priced, ...]:
    """Return the priced scopes that change orders were made from, in one query.

    Raises BrokenDocumentError where there is none of that digest.
    """
    digests = {order.pk: stored_order(order).estimate_sha256 for order in orders}
    rows = Estimate.objects.filter(document__sha256__in=digests.values())
    rows = rows.filter(job_id__in={order.job_id for order in orders}).select_related("document")
    estimates = {(row.job_id, row.document.sha256): row for row in rows}
    return tuple(
        _priced(order, digests[order.pk], estimates.get((order.job_id, digests[order.pk])))
        for order in orders
    )


def _priced(order: ChangeOrder, sha256: str, estimate: Estimate | None) -> Priced:
    if estimate is None:
        accepted = "the digest of an estimate of its job"
        bad = BadValueError(field="estimate_sha256", value=f"{sha256[:12]}…", accepted=accepted)
        raise broken(order.document, CHANGE_ORDER, str(bad))
    return priced_of(estimate)
