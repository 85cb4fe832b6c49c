"""What a draft of a change order comes to: its own lines at the quote's rates, and the plan's."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimates.domain.orders.difference import ChangedLine, extra_lines
from estimates.domain.price_book import PriceBook
from estimates.domain.priced import PricedLine, amounts_of
from estimates.domain.terms.adjustments import added_lines, billed_tax
from estimates.domain.terms.job_terms import AddedLine
from estimates.models import ChangeDraft, ChangeLine, ChangeLineKind
from estimates.readers.orders.agreed import (
    AgreedTotals,
    PricedAsThen,
    agreed_totals,
    priced_as_then,
)
from estimates.services.orders.pending import PendingChange, pending_change
from jobs.domain.checks import ZERO, BadValueError
from jobs.domain.documents import canonical_json, digest, plain


@dataclass(frozen=True, kw_only=True, slots=True)
class DraftPrice:
    """A draft with its figures: what the plan changes, and the lines beside it.

    `pending` is None where the plan's change doesn't belong to it, or nothing differs.
    """

    then: PricedAsThen
    totals: AgreedTotals
    pending: PendingChange | None
    beside: tuple[PricedLine, ...]
    beside_tax: Decimal

    @property
    def lines(self) -> tuple[ChangedLine, ...]:
        """What differs, by place, then what comes in beside the plan."""
        planned = self.pending.lines if self.pending else ()
        return (*planned, *extra_lines(self.beside))

    @property
    def difference(self) -> Decimal:
        """What it comes to, before sales tax."""
        planned = self.pending.difference if self.pending else ZERO
        return planned + amounts_of(self.beside)

    @property
    def tax_difference(self) -> Decimal:
        """The sales tax that goes with it."""
        planned = self.pending.tax_difference if self.pending else ZERO
        return planned + self.beside_tax

    @property
    def total(self) -> Decimal:
        """What the job comes to with it, sales tax too."""
        return self.totals.total + self.difference + self.tax_difference

    @property
    def notes(self) -> tuple[str, ...]:
        """What is to be known of the prices, in words."""
        return self.pending.notes if self.pending else self.then.notes()

    @property
    def changes(self) -> tuple[str, ...]:
        """What the plan changes, in sentences."""
        return tuple(change.text for change in self.pending.changes) if self.pending else ()

    @property
    def seen(self) -> str:
        """The digest of all that it comes to, to be sure that what is sent is what was seen."""
        scope = self.pending.seen if self.pending else ""
        figures = [plain(line) for line in self.lines]
        return digest(canonical_json({"scope": scope, "lines": figures}))


def draft_price(draft: ChangeDraft, today: date) -> DraftPrice:
    """Return what a draft comes to.

    Raises BadValueError before a quote is accepted, BrokenDocumentError where what was agreed
    can't be read.
    """
    job = draft.job
    totals, then = agreed_totals(job), priced_as_then(job, today)
    if totals is None or then is None:
        accepted = "a job whose quote is accepted"
        raise BadValueError(field="job", value="nothing agreed", accepted=accepted)
    added = tuple(_added(line, then.book) for line in draft.lines.all())
    terms = replace(then.terms, added=added, discount=None)
    beside = tuple(added_lines(terms))
    return DraftPrice(
        then=then,
        totals=totals,
        pending=pending_change(job, today) if draft.with_plan else None,
        beside=beside,
        beside_tax=billed_tax(beside, terms),
    )


def _added(line: ChangeLine, book: PriceBook) -> AddedLine:
    """Return a line as pricing knows it: hours at the quote's rate, material at its margin."""
    priced = line.kind == ChangeLineKind.PRICE
    cost = book.burdened_rate if line.kind == ChangeLineKind.HOURS else line.each
    return AddedLine(
        label=line.label,
        quantity=line.quantity,
        unit=line.unit,
        unit_cost=ZERO if priced else cost or ZERO,
        unit_price=line.each if priced else None,
        taxable=line.taxable,
    )
