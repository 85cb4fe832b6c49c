"""How much of an invoice is sales tax: shared out over the stages, to the cent. Pure.

The tax of the quoted price goes with its parts as they are billed, rounded on what is billed so
far, so that all invoices together hold all of it. A change order brings its own. What is held back
is billed, so its tax is in the invoice that bills it.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from estimates.domain.invoices.stages import BilledStage, InvoiceDue, PriceInStages
from estimates.domain.money import cents
from jobs.domain.checks import ZERO


def tax_in(agreed: PriceInStages, billed: Sequence[BilledStage], due: InvoiceDue) -> Decimal:
    """Return what of an invoice is sales tax; ``billed`` are those in force before it."""
    before = sum((one.amount - _changed(agreed, one.changes) for one in billed), ZERO)
    after = before + due.amount - _changed(agreed, due.changes)
    of_changes = sum((each.tax for each in agreed.changes if each.number in due.changes), ZERO)
    return _tax_of(agreed, after) - _tax_of(agreed, before) + of_changes


def _changed(agreed: PriceInStages, numbers: Sequence[int]) -> Decimal:
    return sum((each.amount for each in agreed.changes if each.number in numbers), ZERO)


def _tax_of(agreed: PriceInStages, part: Decimal) -> Decimal:
    """Return the tax of a part of the quoted price."""
    return cents(agreed.tax * part / agreed.quoted) if agreed.quoted else ZERO
