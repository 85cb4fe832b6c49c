"""A change order as it is stored: what was offered and agreed, with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.orders.difference import ChangedArea, ChangedLine, PlaceSum, place_sums
from jobs.domain.checks import ZERO
from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields


def _since_2(fields: Fields) -> Fields:
    """A change order of format 1: agreed at once, said in sentences alone, at its day's prices."""
    words = (
        "what",
        "why",
        "asked_by",
        "noted_on",
        "order_number",
        "payer",
        "client",
        "photo_sha256",
    )
    return fields | {
        **dict.fromkeys(words, ""),
        "lines": [],
        "areas": [],
        "notes": [],
        "priced_as_of": fields["agreed_on"],
        "issued_on": fields["agreed_on"],
        "tax": fields["tax_difference"],
        "total_before": None,
    }


CHANGE_ORDER = DocumentForm(kind="change-order", word="change-order", upgrades=(_since_2,))


@stored(
    "number job_number title currency changes scope_before_sha256 scope_sha256 estimate_sha256",
    "difference tax_difference agreed_price amount agreed_by agreed_on",
    "what why asked_by noted_on order_number payer client photo_sha256 lines areas notes",
    "priced_as_of issued_on tax total_before",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class OrderContent:
    """What a change order says.

    `difference` is what the change comes to by the quote's prices and rates, `amount` what is
    billed for it, `agreed_price` the price of the job before it; all before sales tax. `tax` goes
    with `amount`; `total_before` is what the job came to with its tax, None where that was not
    kept. `what` is the change in its writer's words, `changes` are the plan's, `lines` the figures
    by place, `areas` the floors of another size, `notes` what is to be known of the prices, which
    are those of `priced_as_of`. `agreed_by` and `agreed_on` are empty where it was sent to be
    agreed on.
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
    agreed_on: date | None
    what: str
    why: str
    asked_by: str
    noted_on: str
    order_number: str
    payer: str
    client: str
    photo_sha256: str
    lines: tuple[ChangedLine, ...]
    areas: tuple[ChangedArea, ...]
    notes: tuple[str, ...]
    priced_as_of: str
    issued_on: date
    tax: Decimal
    total_before: Decimal | None

    @property
    def with_tax(self) -> Decimal:
        """What the change adds to the bill."""
        return self.amount + self.tax

    @property
    def total(self) -> Decimal | None:
        """What the job comes to with this change and its tax; None where that was not kept."""
        return None if self.total_before is None else self.total_before + self.with_tax

    @property
    def places(self) -> tuple[PlaceSum, ...]:
        """What the plan's change comes to by place, as the client reads it."""
        return place_sums(self.lines, self.areas)

    @property
    def extras(self) -> tuple[ChangedLine, ...]:
        """The lines beside what the plan counts."""
        return tuple(line for line in self.lines if line.beside)

    @property
    def rest(self) -> Decimal:
        """What was agreed beyond what the lines come to: nothing where it was left as computed."""
        return self.amount - sum((line.amount for line in self.lines), ZERO)


def order_document(content: OrderContent) -> Fields:
    """Return the content of a change order as a document, ready for `canonical_json`."""
    return {**CHANGE_ORDER.head, **plain(content)}


def order_from(fields: Fields) -> OrderContent:
    """Return what the fields of a stored change order say. Raises BadValueError."""
    agreed = fields["agreed_on"]
    days = {
        "agreed_on": date.fromisoformat(agreed) if agreed else None,
        "issued_on": date.fromisoformat(fields["issued_on"]),
    }
    return restore(OrderContent, fields | days, "change-order")
