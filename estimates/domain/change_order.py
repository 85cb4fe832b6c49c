"""A change order as it is stored: what was offered and agreed, with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.orders.difference import ChangedLine
from jobs.domain.checks import ZERO
from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields


def _since_2(fields: Fields) -> Fields:
    """A change order of format 1: agreed at once, told in sentences, priced by its day's book."""
    return fields | {
        "lines": [],
        "why": "",
        "asked_by": "",
        "asked_on": "",
        "order_number": "",
        "payer": "",
        "company": "",
        "company_lines": [],
        "priced_as_of": fields["agreed_on"],
        "notes": [],
        "tax": fields["tax_difference"],
        "total_before": fields["agreed_price"],
        "issued_on": fields["agreed_on"],
        "photo_sha256": "",
        "days_text": "",
    }


CHANGE_ORDER = DocumentForm(kind="change-order", word="change-order", upgrades=(_since_2,))


@stored(
    "number job_number title currency changes scope_before_sha256 scope_sha256 estimate_sha256",
    "difference tax_difference agreed_price amount agreed_by agreed_on",
    "lines why asked_by asked_on order_number payer company company_lines priced_as_of notes",
    "tax total_before issued_on photo_sha256 days_text",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class OrderContent:
    """What a change order says.

    `difference` is what the change comes to by the quote's prices and rates, `amount` what is
    billed for it, `agreed_price` the price of the job before it; all before sales tax. `tax` goes
    with `amount`; `total_before` is what the job came to with its tax. `agreed_by` is empty where
    it was sent to be agreed on. `changes` are sentences, `lines` the figures by place.
    `priced_as_of` is the day of the prices, `notes` what is to be known of them.
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
    lines: tuple[ChangedLine, ...] = ()
    why: str = ""
    asked_by: str = ""
    asked_on: str = ""
    order_number: str = ""
    payer: str = ""
    company: str = ""
    company_lines: tuple[str, ...] = ()
    priced_as_of: str = ""
    notes: tuple[str, ...] = ()
    tax: Decimal = ZERO
    total_before: Decimal = ZERO
    issued_on: date
    photo_sha256: str = ""
    days_text: str = ""

    @property
    def amount_with_tax(self) -> Decimal:
        """What the change adds to the bill."""
        return self.amount + self.tax

    @property
    def total(self) -> Decimal:
        """What the job comes to with this change, sales tax with it."""
        return self.total_before + self.amount_with_tax
