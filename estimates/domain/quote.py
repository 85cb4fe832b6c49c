"""What stands on a quote: the homeowner's view of a priced scope. Pure.

A quote holds what the homeowner is told and nothing else: no cost, no margin, no hours. Its stored
keys are written here and nowhere else in code; pages and PDF show the fields under these keys.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from estimates.domain.money import cents
from estimates.domain.priced import LABOR, Priced, PricedLine
from jobs.domain.checks import BadValueError
from jobs.domain.documents import plain, stored
from jobs.domain.formats import DocumentForm, Fields
from jobs.domain.scope.scope import FrozenScope

QUOTE = DocumentForm(kind="quote", word="quote")


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
) -> dict[str, Any]:
    """Return the content of a quote as a document.

    Raises:
        BadValueError: something in the scope has no price.
    """
    if priced.faults:
        lacking = "; ".join(fault.text for fault in priced.faults)
        raise BadValueError(field="prices", value=lacking, accepted="a price for each")
    deposit = cents(priced.total * terms.deposit_percent / 100)
    return {
        **QUOTE.head,
        "number": number,
        "job_number": job_number,
        "title": title,
        "company": plain(company),
        "client": plain(client),
        "site": site,
        "issued_on": terms.issued_on,
        "valid_until": terms.valid_until,
        "currency": priced.currency,
        "scope_sha256": priced.scope_sha256,
        "floors": [plain(floor) for floor in floors],
        "groups": _groups(priced.lines),
        "subtotal": priced.subtotal,
        "tax": priced.tax,
        "total": priced.total,
        "deposit": deposit,
        "deposit_percent": terms.deposit_percent,
        "terms": terms.terms,
        "exclusions": terms.exclusions,
        "work": _work(scope),
        "cautions": [plain(caution) for caution in cautions],
    }


def _groups(lines: Iterable[PricedLine]) -> list[dict[str, Any]]:
    """Return the priced lines under the headings a homeowner reads."""
    heads = (
        ("Materials", ("material",)),
        ("Work", (LABOR, "adder")),
        ("Allowances", ("allowance",)),
        ("Minimum charge", ("minimum",)),
    )
    priced = list(lines)
    groups = []
    for head, kinds in heads:
        under_head = [line for line in priced if line.kind in kinds]
        if under_head:
            amount = sum((line.amount for line in under_head), Decimal(0))
            groups.append({"title": head, "amount": amount, "lines": _merged(under_head)})
    return groups


def _merged(lines: list[PricedLine]) -> list[dict[str, Any]]:
    """Return one line a thing: the same label from several floors is added up."""
    merged: dict[tuple[str, str], dict[str, Any]] = {}
    for line in lines:
        label = line.label if not line.item else f"{line.label}, {line.item}"
        shows_quantity = line.kind in ("material", "allowance")
        entry = merged.setdefault(
            (label, line.unit),
            {
                "label": label,
                "quantity": Decimal(0) if shows_quantity else None,
                "unit": line.unit if shows_quantity else "",
                "amount": Decimal(0),
            },
        )
        entry["amount"] += line.amount
        if shows_quantity:
            entry["quantity"] += line.quantity
    return list(merged.values())


def _work(scope: FrozenScope) -> list[str]:
    """Return what will be done, in working order, once each."""
    return list(dict.fromkeys(task.label for task in scope.tasks if task.hours))


def quote_from(fields: Fields) -> Fields:
    """Return the stored fields of a quote with money as decimals and days as dates."""
    money = ("subtotal", "tax", "total", "deposit", "deposit_percent")
    days = ("issued_on", "valid_until")
    return {
        **fields,
        **{name: Decimal(fields[name]) for name in money},
        **{name: date.fromisoformat(fields[name]) for name in days},
        "groups": [_read_group(group) for group in fields["groups"]],
        "floors": [{**floor, "area_ft2": Decimal(floor["area_ft2"])} for floor in fields["floors"]],
    }


def _read_group(group: Fields) -> Fields:
    lines = [
        {
            **line,
            "amount": Decimal(line["amount"]),
            "quantity": None if line["quantity"] is None else Decimal(line["quantity"]),
        }
        for line in group["lines"]
    ]
    return {"title": group["title"], "amount": Decimal(group["amount"]), "lines": lines}
