"""The one reader of stored change orders."""

from __future__ import annotations

from estimates.domain.change_order import CHANGE_ORDER, OrderContent, order_from
from estimates.models import ChangeOrder
from jobs.readers.documents import opened


def stored_order(order: ChangeOrder) -> OrderContent:
    """Return what a change order says. Raises BrokenDocumentError where it can't be read."""
    return opened(order.document, CHANGE_ORDER, order_from)
