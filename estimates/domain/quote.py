"""What stands on a quote: the homeowner's view of a priced scope. Pure.

A quote holds what the homeowner is told and nothing else: no cost, no margin, no hours. Pages and
PDF show the fields of `QuoteContent` under their names.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.priced import LABOR, LineKind, Priced, PricedLine, amounts_of, refuse_unpriced
from estimates.domain.terms.evidence import per_one
from jobs.domain.checks import ZERO
from jobs.domain.documents import plain, restore, stored
from jobs.domain.figures import money
from jobs.domain.formats import DocumentForm, Fields, adding
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.tasks import HAULING

QUOTE = DocumentForm(kind="quote", word="quote", upgrades=(adding("tax_note", ""),))

HEADS: tuple[tuple[str, tuple[LineKind, ...]], ...] = (
    ("Materials", ("material",)),
    ("Work", (LABOR, "adder")),
    ("Allowances", ("allowance",)),
    ("Also in the price", ("added",)),
    ("Minimum charge", ("minimum",)),
    ("Discount and rounding", ("discount", "rounding")),
)
"""The headings that a homeowner reads, and the lines under each."""

BY_YOU = "Done by you, no charge"
"""The heading of what the homeowner takes on."""


@stored("name lines")
@dataclass(frozen=True, kw_only=True, slots=True)
class Party:
    """Who stands on the quote: a name and the lines under it."""

    name: str
    lines: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteTerms:
    """What goes with the price: deposit, validity, terms, exclusions."""

    issued_on: date
    valid_days: int
    deposit_percent: Decimal
    terms: str
    exclusions: str

    @property
    def valid_until(self) -> date:
        """The last day on which the quote may be accepted."""
        return self.issued_on + timedelta(days=self.valid_days)


@stored("name product rooms area_ft2 drawing")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteFloor:
    """One floor as the homeowner reads it, with its drawing as SVG."""

    name: str
    product: str
    rooms: tuple[str, ...]
    area_ft2: Decimal
    drawing: str


@stored("title text")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteCaution:
    """A caution the homeowner should know."""

    title: str
    text: str


@stored("label quantity unit amount")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteLine:
    """One line of the price: a thing and its amount; of material, how much of it too."""

    label: str
    quantity: Decimal | None
    unit: str
    amount: Decimal


@stored("title amount lines")
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteGroup:
    """The lines under one heading, and what they come to."""

    title: str
    amount: Decimal
    lines: tuple[QuoteLine, ...]


@stored(
    "number job_number title company client site issued_on valid_until currency scope_sha256",
    "floors groups subtotal tax total deposit deposit_percent terms exclusions work cautions",
    "tax_note",
)
@dataclass(frozen=True, kw_only=True, slots=True)
class QuoteContent:
    """Everything that stands on a quote. `work` is what will be done, in working order.

    `tax_note` says why there is no sales tax where the job is exempt; empty elsewhere.
    """

    number: int
    job_number: int
    title: str
    company: Party
    client: Party
    site: str
    issued_on: date
    valid_until: date
    currency: str
    scope_sha256: str
    floors: tuple[QuoteFloor, ...]
    groups: tuple[QuoteGroup, ...]
    subtotal: Decimal
    tax: Decimal
    total: Decimal
    deposit: Decimal
    deposit_percent: Decimal
    terms: str
    exclusions: str
    work: tuple[str, ...]
    cautions: tuple[QuoteCaution, ...]
    tax_note: str = ""


def quote_content(
    *,
    scope: FrozenScope,
    priced: Priced,
    company: Party,
    client: Party,
    site: str,
    title: str,
    number: int,
    job_number: int,
    terms: QuoteTerms,
    floors: tuple[QuoteFloor, ...],
    cautions: tuple[QuoteCaution, ...],
) -> QuoteContent:
    """Return what stands on the quote of a priced scope.

    Raises:
        BadValueError: something in the scope has no price.
    """
    refuse_unpriced(priced)
    return QuoteContent(
        number=number,
        job_number=job_number,
        title=title,
        company=company,
        client=client,
        site=site,
        issued_on=terms.issued_on,
        valid_until=terms.valid_until,
        currency=priced.currency,
        scope_sha256=priced.scope_sha256,
        floors=floors,
        groups=_groups(priced.lines, priced.currency),
        subtotal=priced.subtotal,
        tax=priced.tax,
        total=priced.total,
        deposit=cents(priced.total * terms.deposit_percent / 100),
        deposit_percent=terms.deposit_percent,
        terms=terms.terms,
        exclusions=terms.exclusions,
        work=_work(scope, priced),
        cautions=cautions,
        tax_note=_tax_note(priced),
    )


def _work(scope: FrozenScope, priced: Priced) -> tuple[str, ...]:
    """Return what we do in the house, in working order; what the client does is not ours."""
    by_client = {line.code for line in priced.lines if line.is_by_client}
    tasks = (task for task in scope.tasks if task.hours and task.code not in {*by_client, *HAULING})
    return tuple(dict.fromkeys(task.label for task in tasks))


def _tax_note(priced: Priced) -> str:
    if priced.tax_mode != "exempt" or priced.basis is None:
        return ""
    return f"Exempt from sales tax, certificate {priced.basis.certificate}"


def _groups(lines: Iterable[PricedLine], currency: str) -> tuple[QuoteGroup, ...]:
    """Return the priced lines under the headings that a homeowner reads."""
    priced = list(lines)
    groups = []
    heads = [
        (title, [line for line in priced if line.kind in kinds and not line.is_by_client])
        for title, kinds in HEADS
    ]
    by_you = [line for line in priced if line.is_by_client and line.code != "travel"]
    heads.append((BY_YOU, by_you))
    for title, under_head in heads:
        if under_head:
            merged = _merged(under_head, currency)
            groups.append(QuoteGroup(title=title, amount=amounts_of(under_head), lines=merged))
    return tuple(groups)


def _merged(lines: Iterable[PricedLine], currency: str) -> tuple[QuoteLine, ...]:
    """Return one line a thing: the same label from several floors is added up.

    An allowance says what one unit is sold for; its quantity is the most.
    """
    alike: dict[tuple[str, str], list[PricedLine]] = defaultdict(list)
    for line in lines:
        label = line.label if not line.item else f"{line.label}, {line.item}"
        if line.kind == "discount":
            label = f"{label}: {line.basis}"
        if line.kind == "allowance":
            each = f"{money(line.unit_price, currency)} {per_one(line.unit)}"
            label = f"{label}, {each}, at most"
        alike[label, line.unit].append(line)
    return tuple(_one_line(label, unit, same) for (label, unit), same in alike.items())


def _one_line(label: str, unit: str, lines: list[PricedLine]) -> QuoteLine:
    shows_quantity = lines[0].kind in ("material", "allowance", "added")
    return QuoteLine(
        label=label,
        quantity=sum((line.quantity for line in lines), ZERO) if shows_quantity else None,
        unit=unit if shows_quantity else "",
        amount=amounts_of(lines),
    )


def quote_document(content: QuoteContent) -> Fields:
    """Return the content of a quote as a document, ready for `canonical_json`."""
    return {**QUOTE.head, **plain(content)}


def quote_from(fields: Fields) -> QuoteContent:
    """Return what the fields of a stored quote say. Raises BadValueError."""
    read: Fields = {name: date.fromisoformat(fields[name]) for name in ("issued_on", "valid_until")}
    # A company that had not set its terms yet stored the share as a whole number.
    read["deposit_percent"] = str(fields["deposit_percent"])
    return restore(QuoteContent, fields | read, "quote")
