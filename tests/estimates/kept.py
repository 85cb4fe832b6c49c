"""Money documents as they were written in an older format, and what they were written from.

A kept text is never edited: a changed form gets a file of its own beside the old one.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from estimates.domain.price_book import Allowance
from estimates.domain.priced import Priced
from estimates.domain.pricing import price_scope
from estimates.domain.quotes.content import (
    CancelRight,
    ChoiceFact,
    IssuedQuote,
    LeadReceipt,
    Letterhead,
    QuoteAllowance,
    QuoteChoice,
    QuotePhoto,
    QuoteRoom,
    QuoteSection,
    QuoteStage,
    QuoteUnit,
)
from estimates.domain.terms.payer import PayerTerms
from tests.estimates.a_price import Given, a_book, a_material, a_scope, an_adder, terms

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


def an_older_quote() -> IssuedQuote:
    """Quote 3 of job 7 as formats 1 and 2 kept it, with one floor and one caution.

    Its price is told by lines under headings; the rest of what a quote says now it did not know.
    """
    total = Decimal("1556.45")
    return replace(
        _empty_quote(),
        label="",
        letterhead=_letterhead(address=("12 Mill Road", "555-0103")),
        floor_words=("Oak",),
        drawing="<svg/>",
        drawing_notes=("Every line is a row or a joint as planned.",),
        rooms=(
            QuoteRoom(name="Den, Hall", floor="up", area_ft2=Decimal(120), text="Oak", amount=None),
        ),
        choices=(_choice("", total, Decimal("54.45"), Decimal("466.94")),),
        exclusions=("Moving a piano.",),
        cautions=(QuoteSection(title="Moisture", text="The slab is tested first."),),
        terms=(QuoteSection(title="Terms", text="Half on the first day."),),
        total=total,
        tax=Decimal("54.45"),
        most=total,
        deposit=Decimal("466.94"),
        older=_OLDER,
    )


_OLDER = (
    QuoteSection(
        title="Materials",
        text="Flooring, plank: 6\u00a0cartons, $528.00\nPad: 2\u00a0rolls, $132.00\n"
        "Materials, total: $660.00",
    ),
    QuoteSection(
        title="Work",
        text="lay, $0.00\nbase, $0.00\nFloor laid, $492.00\nBase put on, $80.00\n"
        "Work, total: $572.00",
    ),
    QuoteSection(
        title="Allowances", text="Leveler: 3\u00a0bags, $270.00\nAllowances, total: $270.00"
    ),
    QuoteSection(
        title="Total",
        text="Materials and work: $1,502.00\nSales tax: $54.45\nTotal: $1,556.45\n"
        "Deposit, 30% on acceptance: $466.94",
    ),
)


def a_newer_quote() -> IssuedQuote:
    """Quote 3 of job 7 as format 4 keeps it: by room, two choices, every field filled."""
    total, other = Decimal("1556.45"), Decimal("1700.00")
    first = _choice("Your baseboard back", total, Decimal("54.45"), Decimal("466.93"))
    second = _choice("New baseboard", other, Decimal("60.00"), Decimal("510.00"))
    return replace(
        _empty_quote(),
        order_number="4711",
        start="We start in the week of March 1, 2027.",
        start_week=date(2027, 3, 1),
        detail="room",
        letterhead=_letterhead(address=("12 Mill Road",), phone="555-0103", license="HG-0420"),
        floor_words=("Rigid vinyl plank, Oak.",),
        drawing="<svg/>",
        drawing_notes=("Den and hall.",),
        rooms=(
            QuoteRoom(
                name="Den",
                floor="up",
                area_ft2=Decimal("120.00"),
                text="We lay the new floor.",
                amount=total,
            ),
        ),
        units=(
            QuoteUnit(
                label="Floor laid",
                quantity=Decimal(120),
                unit="ft²",
                each=Decimal("4.10"),
                amount=Decimal("492.00"),
            ),
        ),
        choices=(
            replace(first, facts=(ChoiceFact(label="Days on site", text="2 days"),)),
            replace(second, key="b"),
        ),
        allowances=(
            QuoteAllowance(
                name="If we find low spots",
                text="We fill them.",
                each=Decimal("90.00"),
                unit="bag",
                units=Decimal(3),
                most=Decimal("270.00"),
            ),
        ),
        inclusions=("Material and labor are in this price.",),
        exclusions=("Moving a piano.",),
        photos=(QuotePhoto(sha256=SCOPE_OF_FORMAT_1, caption="Den"),),
        days=(QuoteSection(title="Day 1", text="Den: floor in."),),
        nights=("Den: can be used every night.",),
        clear=("Before day 1: keep Den clear.",),
        stages=(QuoteStage(name="Deposit", when="when you accept", amount=Decimal("466.93")),),
        payment_words="By check.",
        warranty="Two years.",
        changes="In writing.",
        cautions=(QuoteSection(title="Moisture", text="The slab is tested first."),),
        terms=(QuoteSection(title="Terms", text="Half on the first day."),),
        notices=(QuoteSection(title="Notice", text="As the state has it."),),
        cancel=CancelRight(
            sentence="You may cancel.",
            agreement="Quote 7-3",
            seller="Fernwood Floors",
            address=("12 Mill Road",),
            signed_on=date(2027, 2, 26),
            cancel_by=date(2027, 3, 2),
            source="16 CFR 429.1",
        ),
        lead=LeadReceipt(
            firm="Fernwood Floors",
            certificate="NAT-1",
            pamphlet="The pamphlet",
            text="I have received it.",
            source="40 CFR 745.84",
        ),
        total=total,
        tax=Decimal("54.45"),
        tax_note="Sales tax of $54.45 is in the total.",
        most=total,
        deposit=Decimal("466.93"),
        changed=("Total $1,556.45 in place of $1,500.00.",),
    )


def _empty_quote() -> IssuedQuote:
    """Whom and what the kept quotes are for, and nothing else."""
    lists = (
        *("floor_words", "drawing_notes", "rooms", "units", "choices", "allowances"),
        *("inclusions", "exclusions", "photos", "days", "nights", "clear", "stages"),
        *("cautions", "terms", "notices"),
    )
    words = ("order_number", "drawing", "start", "payment_words", "warranty", "changes", "tax_note")
    sums = ("total", "tax", "most", "deposit")
    fields: Given = dict.fromkeys(lists, ()) | dict.fromkeys(words, "")
    fields |= dict.fromkeys(sums, Decimal(0)) | dict.fromkeys(("cancel", "lead"))
    fields |= {
        "number": 3,
        "job_number": 7,
        "label": "2027-007",
        "title": "Den",
        "detail": "whole",
        "currency": "USD",
        "issued_on": date(2027, 2, 26),
        "valid_until": date(2027, 3, 28),
        "scope_sha256": SCOPE_OF_FORMAT_1,
        "letterhead": _letterhead(),
        "client": "Ines Okafor",
        "client_lines": ("4 Cooper Lane",),
        "site": "4 Cooper Lane",
    }
    return IssuedQuote(**fields)


def _letterhead(**changes: object) -> Letterhead:
    unknown = ("phone", "email", "license", "registration", "insurance", "logo_sha256")
    fields: Given = dict.fromkeys(unknown, "") | {"name": "Fernwood Floors", "address": ()}
    return Letterhead(**fields | changes)


def _choice(name: str, total: Decimal, tax: Decimal, deposit: Decimal) -> QuoteChoice:
    return QuoteChoice(
        key="a",
        name=name,
        text="",
        facts=(),
        total=total,
        tax=tax,
        most=total,
        deposit=deposit,
        balance=total - deposit,
        scope_sha256=SCOPE_OF_FORMAT_1,
        estimate_sha256="",
    )
