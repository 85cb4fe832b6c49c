"""The one reader of stored change orders."""

from __future__ import annotations

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
    """Return the priced scope that a change order was made from.

    Raises BrokenDocumentError where there is none of that digest.
    """
    sha256 = stored_order(order).estimate_sha256
    estimates = Estimate.objects.filter(job_id=order.job_id, document__sha256=sha256)
    estimate = estimates.select_related("document").first()
    if estimate is None:
        accepted = "the digest of an estimate of its job"
        bad = BadValueError(field="estimate_sha256", value=f"{sha256[:12]}…", accepted=accepted)
        raise broken(order.document, CHANGE_ORDER, str(bad))
    return priced_of(estimate)
