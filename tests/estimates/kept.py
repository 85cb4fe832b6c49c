"""Money documents as they were written in an older format, and what they were written from.

A kept text is never edited: a changed form gets a file of its own beside the old one.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from estimates.domain.change_order import OrderContent
from estimates.domain.orders.difference import ChangedArea, ChangedLine
from estimates.domain.price_book import Allowance
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.quote import (
    Party,
    QuoteCaution,
    QuoteContent,
    QuoteFloor,
    QuoteGroup,
    QuoteTerms,
    quote_content,
)
from estimates.domain.terms.payer import PayerTerms
from jobs.domain.documents import digest
from tests.estimates.a_price import a_book, a_material, a_scope, an_adder, terms

FOLDER = Path(__file__).parent / "kept_texts"
SCOPE_OF_FORMAT_1 = "57266a20ff1307a1ca1e75d1be071521e70546908d65ff8a89aaae673a98e60f"
"""The digest of the scope that they were written from, as scopes were written then."""


def a_priced() -> Priced:
    """A scope charged by rates: every kind of line but a minimum, two rates that fall short."""
    bags = Allowance(
        code="bags",
        label="Leveler",
        unit="bag",
        units=Decimal(3),
        unit_price=Decimal(90),
        unit_cost=Decimal(40),
    )
    book = a_book(
        a_material("cartons", "60"),
        a_material("pad", "45"),
        an_adder("floor_area", "4.10"),
        an_adder("base_on", "2"),
    )
    shares = {"margin": Decimal("0.25"), "overhead": Decimal("0.1"), "tax_rate": Decimal("0.0825")}
    priced = price_scope(
        a_scope(), book, terms(method="rates", tax_mode="seller", allowances=(bags,), **shares)
    )
    payer = PayerTerms(
        name="Alder Flooring Store",
        order_number="4711",
        terms="Invoice by the tenth.",
        payment_days=30,
        retainage=Decimal("0.1"),
    )
    return replace(priced, scope_sha256=SCOPE_OF_FORMAT_1, payer=payer)


def a_quote_content() -> QuoteContent:
    """Quote 3 of job 7, with one floor and one caution.

    It says no unit price of an allowance: the kept quotes are older than that.
    """
    content = quote_content(
        scope=a_scope(),
        priced=a_priced(),
        company=Party(name="Fernwood Floors", lines=("12 Mill Road", "555-0103")),
        client=Party(name="Ines Okafor", lines=("4 Cooper Lane",)),
        site="4 Cooper Lane",
        title="Den",
        number=3,
        job_number=7,
        terms=QuoteTerms(
            issued_on=date(2027, 2, 26),
            valid_days=30,
            deposit_percent=Decimal(30),
            terms="Half on the first day.",
            exclusions="Moving a piano.",
        ),
        floors=(
            QuoteFloor(
                name="up",
                product="Oak",
                rooms=("Den", "Hall"),
                area_ft2=Decimal(120),
                drawing="<svg/>",
            ),
        ),
        cautions=(QuoteCaution(title="Moisture", text="The slab is tested first."),),
    )
    return replace(content, groups=tuple(_without_unit_price(group) for group in content.groups))


def _without_unit_price(group: QuoteGroup) -> QuoteGroup:
    said = ", $90.00 a bag, at most"
    lines = (replace(line, label=line.label.removesuffix(said)) for line in group.lines)
    return replace(group, lines=tuple(lines))


def a_change_order() -> OrderContent:
    """Change order 2 of job 7, sent to be agreed on: two cartons and a carpenter's hour."""
    cartons = ChangedLine(
        place="Den",
        label="Flooring, Oak",
        unit="carton",
        before=Decimal(6),
        after=Decimal(8),
        amount_before=Decimal("537.60"),
        amount_after=Decimal("716.80"),
    )
    shelf = ChangedLine(
        place="",
        label="Take the shelf down",
        unit="h",
        before=Decimal(0),
        after=Decimal(1),
        amount_before=Decimal(0),
        amount_after=Decimal("71.68"),
        beside=True,
    )
    return OrderContent(
        number=2,
        job_number=7,
        title="Den",
        currency="USD",
        changes=("Changed: Flooring (Oak, Den), from 6 cartons to 8 cartons.",),
        scope_before_sha256=digest("before"),
        scope_sha256=digest("after"),
        estimate_sha256=digest("estimate"),
        difference=Decimal("250.88"),
        tax_difference=Decimal("14.78"),
        agreed_price=Decimal("1502.00"),
        amount=Decimal("250.88"),
        agreed_by="",
        agreed_on=None,
        what="Cover the closet and take its shelf down.",
        why="The closet is to be covered, too.",
        asked_by="Ines Okafor",
        noted_on="2027-03-09",
        order_number="PO 88",
        payer="Alder Flooring Store",
        client="Ines Okafor",
        photo_sha256="",
        lines=(cartons, shelf),
        areas=(ChangedArea(place="Den", before=Decimal("120.00"), after=Decimal("131.50")),),
        notes=("At today's price, since there was none on February 26, 2027: Pad.",),
        priced_as_of="2027-02-26",
        issued_on=date(2027, 3, 9),
        tax=Decimal("14.78"),
        total_before=Decimal("1556.45"),
    )
