"""Invoices one after the other: together they come to the agreed price, to the cent. Pure.

The deposit bills its stage alone. A change order goes on the next invoice after it was agreed
(common practice, no source), the final invoice takes all that is left. A payer's retainage, a part
of the whole price, is held back of the final invoice and released by one of its own at the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from estimates.domain.money import cents, spread
from estimates.domain.quotes.content import QuoteStage
from jobs.domain.checks import ZERO, BadValueError, require_number
from jobs.domain.documents import canonical_json, digest, stored

InvoiceKind = Literal["deposit", "progress", "final", "rest", "retainage"]

DEPOSIT, FINAL, RETAINAGE = "Deposit", "Final payment", "Retainage"
ON_ACCEPTANCE, WHEN_DONE = "On acceptance", "When the work is done"


@dataclass(frozen=True, kw_only=True, slots=True)
class InvoiceStage:
    """A part of the quoted price. `key` tells it from others of its kind."""

    key: str
    kind: InvoiceKind
    name: str
    when: str
    amount: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class AgreedChange:
    """A change order: its number and what it adds to the price, sales tax included.

    `tax` is what of it is sales tax.
    """

    number: int
    amount: Decimal
    tax: Decimal = ZERO


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceInStages:
    """The accepted price in its stages, the change orders, and what part the payer holds back.

    `tax` is what of the quoted price is sales tax.
    """

    quoted: Decimal
    stages: tuple[InvoiceStage, ...]
    changes: tuple[AgreedChange, ...] = ()
    retainage: Decimal = ZERO
    tax: Decimal = ZERO

    def __post_init__(self) -> None:
        """Refuse stages that don't sum to the price, and retainage that is no part of one."""
        whole = sum((stage.amount for stage in self.stages), ZERO)
        if whole != self.quoted:
            raise BadValueError(field="stages", value=whole, accepted=f"{self.quoted} together")
        require_number("retainage", self.retainage, least=0, below=1)

    @property
    def total(self) -> Decimal:
        """The quoted price with every change order."""
        return self.quoted + sum((change.amount for change in self.changes), ZERO)


@dataclass(frozen=True, kw_only=True, slots=True)
class BilledStage:
    """What an invoice in force billed: its stage, its amount, and the change orders on it."""

    kind: InvoiceKind
    key: str
    amount: Decimal
    held: Decimal = ZERO
    released: Decimal = ZERO
    changes: tuple[int, ...] = ()


@stored("label amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class InvoiceLine:
    """A line of an invoice."""

    label: str
    amount: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class InvoiceDue:
    """An invoice that can be issued now. `changes` are the numbers of change orders on it."""

    kind: InvoiceKind
    key: str
    name: str
    when: str
    lines: tuple[InvoiceLine, ...]
    held: Decimal = ZERO
    released: Decimal = ZERO
    changes: tuple[int, ...] = ()

    @property
    def amount(self) -> Decimal:
        """What it bills of the agreed price."""
        return sum((line.amount for line in self.lines), ZERO)

    @property
    def payable(self) -> Decimal:
        """What it asks for."""
        return self.amount - self.held + self.released

    @property
    def mark(self) -> str:
        """What tells it from any other: whoever issues it says which one was seen."""
        lines = [[line.label, line.amount] for line in self.lines]
        return digest(canonical_json([self.kind, self.key, lines, self.held, self.released]))


def stages_by_deposit(total: Decimal, deposit: Decimal) -> tuple[InvoiceStage, ...]:
    """Return the stages of a quote that names a deposit and nothing else of payments."""
    said = (
        QuoteStage(name=DEPOSIT, when=ON_ACCEPTANCE, amount=deposit),
        QuoteStage(name=FINAL, when=WHEN_DONE, amount=total - deposit),
    )
    return stages_quoted(said, total=total, deposit=deposit)


def stages_quoted(
    said: Sequence[QuoteStage], *, total: Decimal, deposit: Decimal
) -> tuple[InvoiceStage, ...]:
    """Return the stages that a quote says, for the total and the deposit of the choice taken.

    Stages are quoted with the first choice. With another one the deposit is its own, and what is
    left is shared out as the other stages were. What the quote says is held back is a part of the
    final stage.
    """
    parts = _with_retainage_in_the_last([stage for stage in said if stage.amount])
    if not parts:
        parts = [QuoteStage(name=FINAL, when=WHEN_DONE, amount=total)]
    has_deposit = bool(deposit) and len(parts) > 1
    first = (deposit,) if has_deposit else ()
    weights = [stage.amount for stage in parts[len(first) :]]
    amounts = (*first, *spread(total - sum(first, ZERO), weights))
    return tuple(
        InvoiceStage(
            key=f"{place}",
            kind=_kind(place, len(parts), has_deposit=has_deposit),
            name=stage.name,
            when=stage.when,
            amount=amount,
        )
        for place, (stage, amount) in enumerate(zip(parts, amounts, strict=True), start=1)
    )


def _with_retainage_in_the_last(parts: list[QuoteStage]) -> list[QuoteStage]:
    if not parts or parts[-1].name != RETAINAGE:
        return parts
    *before, held = parts
    if not before or before[-1].name == DEPOSIT:
        return [*before, QuoteStage(name=FINAL, when=WHEN_DONE, amount=held.amount)]
    last = before[-1]
    return [*before[:-1], replace(last, amount=last.amount + held.amount)]


def _kind(place: int, stages: int, *, has_deposit: bool) -> InvoiceKind:
    if place == stages:
        return "final"
    return "deposit" if place == 1 and has_deposit else "progress"


def next_invoices(agreed: PriceInStages, billed: Sequence[BilledStage]) -> tuple[InvoiceDue, ...]:
    """Return the invoices that can be issued now: the next stage, and the final one.

    Empty once everything is billed and nothing is held back. A stage that comes to nothing, or to
    more than is left, isn't offered; the final invoice takes what is left, less than nothing too.
    """
    left = agreed.total - sum((one.amount for one in billed), ZERO)
    if not any(one.kind == "final" for one in billed):
        staged = _next_stage(agreed, billed, left)
        return (*staged, _final(agreed, billed, left))
    if left:
        return (_rest(agreed, billed, left),)
    return _release(billed)


def _next_stage(
    agreed: PriceInStages, billed: Sequence[BilledStage], left: Decimal
) -> tuple[InvoiceDue, ...]:
    keys = {one.key for one in billed}
    stage = next((one for one in agreed.stages if one.key not in keys), None)
    if stage is None or stage.kind == "final":
        return ()
    due = InvoiceDue(
        kind=stage.kind,
        key=stage.key,
        name=stage.name,
        when=stage.when,
        lines=(InvoiceLine(label=stage.name, amount=stage.amount),),
    )
    if stage.kind != "deposit":
        due = _with_changes(due, agreed, billed)
    return (due,) if ZERO < due.amount <= left else ()


def _final(agreed: PriceInStages, billed: Sequence[BilledStage], left: Decimal) -> InvoiceDue:
    """Return the invoice that bills all that is left."""
    stage = agreed.stages[-1]
    due = _with_changes(
        InvoiceDue(kind="final", key=stage.key, name=stage.name, when=stage.when, lines=()),
        agreed,
        billed,
    )
    remainder = InvoiceLine(label=_final_label(agreed, billed), amount=left - due.amount)
    return _holding(_put_first(due, remainder), agreed, billed)


def _final_label(agreed: PriceInStages, billed: Sequence[BilledStage]) -> str:
    """Return what the last stage is called, with those before it that were not billed."""
    keys = {one.key for one in billed}
    open_names = [stage.name.lower() for stage in agreed.stages[:-1] if stage.key not in keys]
    last = agreed.stages[-1].name
    return f"{last}, with {' and '.join(open_names)}" if open_names else last


def _rest(agreed: PriceInStages, billed: Sequence[BilledStage], left: Decimal) -> InvoiceDue:
    """Return the invoice for what was agreed, or taken back, after the final one."""
    given = InvoiceDue(kind="rest", key="", name="After the final invoice", when="", lines=())
    due = _with_changes(given, agreed, billed)
    if left != due.amount:
        rest = InvoiceLine(label="Rest of the agreed price", amount=left - due.amount)
        due = _put_first(due, rest)
    return _holding(due, agreed, billed)


def _release(billed: Sequence[BilledStage]) -> tuple[InvoiceDue, ...]:
    """Return the invoice for what was held back; none where nothing is."""
    held = sum((one.held - one.released for one in billed), ZERO)
    if not held:
        return ()
    due = InvoiceDue(
        kind="retainage", key="", name=RETAINAGE, when=WHEN_DONE, lines=(), released=held
    )
    return (due,)


def _with_changes(
    due: InvoiceDue, agreed: PriceInStages, billed: Sequence[BilledStage]
) -> InvoiceDue:
    """Return the invoice with a line for every change order that no other has."""
    done = {number for one in billed for number in one.changes}
    fresh = [change for change in agreed.changes if change.number not in done]
    lines = [
        InvoiceLine(label=f"Change order {change.number}", amount=change.amount) for change in fresh
    ]
    numbers = tuple(change.number for change in fresh)
    return replace(due, lines=(*due.lines, *lines), changes=numbers)


def _put_first(due: InvoiceDue, line: InvoiceLine) -> InvoiceDue:
    return replace(due, lines=(line, *due.lines))


def _holding(due: InvoiceDue, agreed: PriceInStages, billed: Sequence[BilledStage]) -> InvoiceDue:
    """Return the last invoice less what of the whole price is held back and isn't yet."""
    if not agreed.retainage or any(one.released for one in billed):
        return due
    held = sum((one.held for one in billed), ZERO)
    part = cents(agreed.total * agreed.retainage) - held
    return replace(due, held=max(ZERO, min(part, due.amount)))
