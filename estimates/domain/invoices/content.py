"""An invoice as it is stored: what was agreed, what is billed now, and what is left. Pure.

The paper shows these fields and no others.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimates.domain.invoices.stages import BilledStage, InvoiceKind, InvoiceLine
from estimates.domain.quotes.content import Letterhead, QuoteUnit
from jobs.domain.checks import ZERO
from jobs.domain.documents import plain, restore, stored
from jobs.domain.formats import DocumentForm, Fields, adding

INVOICE = DocumentForm(kind="invoice", word="invoice", upgrades=(adding("tax", None),))


@stored("name lines")
@dataclass(frozen=True, kw_only=True, slots=True)
class BillTo:
    """Who pays: a name and the lines under it."""

    name: str
    lines: tuple[str, ...]


@stored("label amount tax total units changes")
@dataclass(frozen=True, kw_only=True, slots=True)
class AgreedSum:
    """What was agreed: the quoted price, its tax, the change orders, and the total.

    `amount` is before sales tax. `units` are the lines of a price by the unit, which sum to it;
    empty elsewhere. `changes` have their tax.
    """

    label: str
    amount: Decimal
    tax: Decimal
    total: Decimal
    units: tuple[QuoteUnit, ...]
    changes: tuple[InvoiceLine, ...]


@stored(
    "label number job_number title key name when currency issued_on due_on replaces",
    "letterhead bill_to order_number site client estimate_sha256",
    "agreed lines changes held released held_in_all billed_before paid_before",
    "payment_words late_fee_words note tax",
    kind="bills",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class IssuedInvoice:
    """Everything that stands on an invoice.

    `key` names the stage it bills, `changes` the change orders on it, `replaces` the void invoice
    in whose place it stands. `client` is who lives at the site, where somebody else pays.
    `held_in_all` is held back after it; `billed_before` and `paid_before` are those of the job.
    `tax` is what of it is sales tax; None in an older one, which didn't say.
    """

    label: str
    number: int
    job_number: int
    title: str
    kind: InvoiceKind
    key: str
    name: str
    when: str
    currency: str
    issued_on: date
    due_on: date
    replaces: str
    letterhead: Letterhead
    bill_to: BillTo
    order_number: str
    site: str
    client: str
    estimate_sha256: str
    agreed: AgreedSum
    lines: tuple[InvoiceLine, ...]
    changes: tuple[int, ...]
    held: Decimal
    released: Decimal
    held_in_all: Decimal
    billed_before: Decimal
    paid_before: Decimal
    payment_words: str
    late_fee_words: str
    note: str
    tax: Decimal | None = None

    @property
    def amount(self) -> Decimal:
        """What it bills of the agreed price."""
        return sum((line.amount for line in self.lines), ZERO)

    @property
    def payable(self) -> Decimal:
        """What it asks for."""
        return self.amount - self.held + self.released

    @property
    def held_now(self) -> Decimal:
        """What is held back of it, as a line that is taken off."""
        return -self.held

    @property
    def unbilled(self) -> Decimal:
        """What of the agreed price no invoice has yet."""
        return self.agreed.total - self.billed_before - self.amount

    @property
    def balance(self) -> Decimal:
        """What of the agreed price was still to be paid on the day of issue."""
        return self.agreed.total - self.paid_before

    @property
    def stage(self) -> BilledStage:
        """What it billed, as the next invoice must know it."""
        return BilledStage(
            kind=self.kind,
            key=self.key,
            amount=self.amount,
            held=self.held,
            released=self.released,
            changes=self.changes,
        )


def invoice_document(content: IssuedInvoice) -> Fields:
    """Return the content of an invoice as a document, ready for `canonical_json`."""
    return {**INVOICE.head, **plain(content)}


def invoice_from(fields: Fields) -> IssuedInvoice:
    """Return what the fields of a stored invoice say. Raises BadValueError."""
    days = {name: date.fromisoformat(fields[name]) for name in ("issued_on", "due_on")}
    return restore(IssuedInvoice, fields | days, "invoice")
