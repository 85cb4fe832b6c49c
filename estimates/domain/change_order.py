"""A change order as it is stored: what was agreed, with the digests of what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields

CHANGE_ORDER = DocumentForm(kind="change-order", word="change-order")


@stored(
    "number job_number title currency changes scope_before_sha256 scope_sha256 estimate_sha256",
    "difference tax_difference agreed_price amount agreed_by agreed_on",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class OrderContent:
    """What a change order says.

    `difference` is what the change comes to by the prices of its day, `amount` what was agreed for
    it, `agreed_price` the price of the job before it; all before sales tax.
    """

    number: int
    job_number: int
    title: str
    currency: str
    changes: tuple[str, ...]
    scope_before_sha256: str | None
    scope_sha256: str
    estimate_sha256: str
    difference: Decimal
    tax_difference: Decimal
    agreed_price: Decimal
    amount: Decimal
    agreed_by: str
    agreed_on: date


def order_document(content: OrderContent) -> Fields:
    """Return the content of a change order as a document, ready for `canonical_json`."""
    return {**CHANGE_ORDER.head, **plain(content)}


def order_from(fields: Fields) -> OrderContent:
    """Return what the fields of a stored change order say. Raises BadValueError."""
    day = date.fromisoformat(fields["agreed_on"])
    return restore(OrderContent, fields | {"agreed_on": day}, "change-order")
