"""A quote composed from what is sold: every word and figure that stands on it. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.law.deposit import Deposit, deposit_for
from estimates.domain.law.stages import payment_stages
from estimates.domain.priced import refuse_unpriced
from estimates.domain.quotes.changed import differences
from estimates.domain.quotes.choices import choices_of
from estimates.domain.quotes.content import IssuedQuote, QuoteRoom, QuoteSection, QuoteStage
from estimates.domain.quotes.days import clear_sentences, day_sections, night_sentences
from estimates.domain.quotes.plain_words import as_sentences, day_words, plain_words
from estimates.domain.quotes.price_words import allowances_of, inclusions_of, tax_note, units_of
from estimates.domain.quotes.rooms import room_amounts
from estimates.domain.quotes.sold import SaleTerms, Sold
from estimates.domain.quotes.wording import floor_words, room_texts

AGREED = (
    "This quote with the choice that you mark. Nothing said beside it counts until it is written "
    "and signed."
)
AGREED_ALONE = "This quote. Nothing said beside it counts until it is written and signed."
CHANGES = (
    "If you want something changed, or we find what nobody could see, you get the new price in "
    "writing first. We go on once you sign."
)


def issued_quote(sold: Sold, before: IssuedQuote | None = None) -> IssuedQuote:
    """Return what stands on the quote of what is sold; `before`: the quote that it replaces.

    Raises:
        BadValueError: something in the scope has no price.
    """
    refuse_unpriced(*(choice.priced for choice in sold.choices))
    plain, addressed, terms = sold.plain, sold.addressed, sold.terms
    deposit = _deposit(sold, plain.priced.total)
    quote = IssuedQuote(
        number=addressed.number,
        label=addressed.label,
        job_number=addressed.job_number,
        title=addressed.title,
        detail=sold.detail,
        currency=plain.priced.currency,
        issued_on=terms.issued_on,
        valid_until=terms.valid_until,
        scope_sha256=plain.priced.scope_sha256,
        letterhead=addressed.letterhead,
        client=addressed.client,
        client_lines=addressed.client_lines,
        site=addressed.site,
        order_number=addressed.order_number,
        floor_words=_floor_words(sold),
        drawing=sold.drawing,
        drawing_notes=(*sold.drawing_notes, *_drawn_note(sold)),
        rooms=_rooms(sold),
        units=units_of(plain.priced) if sold.detail == "unit" else (),
        choices=choices_of(
            sold.choices, lambda total: _deposit(sold, total).amount, system=sold.system
        ),
        allowances=allowances_of(plain.priced),
        inclusions=inclusions_of(plain.scope, plain.priced),
        exclusions=_lines(terms.exclusions),
        photos=sold.photos,
        days=day_sections(plain.scope, sold.rooms, sold.arrives),
        nights=night_sentences(plain.scope, sold.rooms),
        clear=_clear(sold),
        start=_start(sold),
        start_week=_monday(sold),
        stages=_stages(sold, deposit.amount),
        payment_words=_payment_words(terms, deposit),
        warranty=_warranty(terms),
        changes=terms.changes or CHANGES,
        cautions=_in_plain_words(sold.cautions),
        terms=_terms(sold),
        notices=terms.notices,
        cancel=sold.cancel,
        lead=sold.lead,
        total=plain.priced.total,
        tax=plain.priced.tax,
        tax_note=tax_note(plain.priced),
        most=plain.priced.total,
        deposit=deposit.amount,
    )
    return replace(quote, changed=differences(before, quote)) if before else quote


def _floor_words(sold: Sold) -> tuple[str, ...]:
    """Return what the floor is; with a choice in another plank, what it is then."""
    said = floor_words(sold.floors, color=sold.color, sample_on=sold.sample_on, system=sold.system)
    others = {
        choice.name: floor_words(choice.floors, color="", sample_on=None, system=sold.system)
        for choice in sold.choices[1:]
        if choice.floors and choice.floors != sold.floors
    }
    return (*said, *(f"{name}: {' '.join(words)}" for name, words in others.items()))


def _deposit(sold: Sold, total: Decimal) -> Deposit:
    rule = sold.terms.deposit
    return deposit_for(
        total=total,
        percent_of_total=rule.percent,
        cap=rule.cap,
        state=rule.state,
        special_order=rule.special_order,
        adds_special_order=rule.adds_special_order,
        currency=sold.plain.priced.currency,
    )


def _payment_words(terms: SaleTerms, deposit: Deposit) -> str:
    """Return how the price is paid, in sentences."""
    words = deposit.words if deposit.words[:1].isalpha() else f"The deposit is {deposit.words}"
    return as_sentences([words, *_lines(terms.payment_ways), terms.payer_words])


def _stages(sold: Sold, deposit: Decimal) -> tuple[QuoteStage, ...]:
    terms = sold.terms
    return payment_stages(
        total=sold.plain.priced.total,
        deposit=deposit,
        plan="deposit_progress_rest" if terms.progress else "deposit_rest",
        progress_percent=terms.progress,
        retainage=terms.retainage,
    )


def _rooms(sold: Sold) -> tuple[QuoteRoom, ...]:
    plain, rooms = sold.plain, sold.rooms
    by_room = sold.detail == "room"
    amounts: Sequence[Decimal | None] = (
        room_amounts(plain.scope, plain.priced, rooms) if by_room else [None for _ in rooms]
    )
    return tuple(
        QuoteRoom(
            name=room.name, floor=room.floor, area_ft2=room.area_ft2, text=text, amount=amount
        )
        for room, text, amount in zip(rooms, room_texts(plain.scope, rooms), amounts, strict=True)
    )


def _drawn_note(sold: Sold) -> tuple[str, ...]:
    """Return of which choice the drawing is, where they differ in what is drawn."""
    plain, *others = sold.choices
    if all(not other.floors or other.floors == plain.floors for other in others):
        return ()
    return (f"Drawn: {plain.name}.",)


def _clear(sold: Sold) -> tuple[str, ...]:
    said = clear_sentences(sold.plain.scope, sold.rooms)
    return (*said, *_lines(sold.days_note))


def _monday(sold: Sold) -> date | None:
    week = sold.start_week
    return week - timedelta(days=week.weekday()) if week else None


def _start(sold: Sold) -> str:
    monday = _monday(sold)
    if monday is None:
        return "The day we start is agreed in writing."
    return f"We start in the week of {day_words(monday)}. The day is agreed in writing."


def _warranty(terms: SaleTerms) -> str:
    months = terms.warranty_months
    if not months:
        return terms.warranty
    years, rest = divmod(months, 12)
    count, word = (months, "month") if rest else (years, "year")
    many = "" if count == 1 else "s"
    since = "from the day you have looked it over"
    said = f"We stand behind our work for {count} {word}{many} {since}."
    return f"{said} {terms.warranty}".strip()


def _terms(sold: Sold) -> tuple[QuoteSection, ...]:
    """Return what the terms page says: our own sentences of this quote, then the company's."""
    terms = sold.terms
    sections = [
        QuoteSection(
            title="What is agreed", text=AGREED if len(sold.choices) > 1 else AGREED_ALONE
        ),
        QuoteSection(
            title="Price",
            text=f"It stands until {day_words(terms.valid_until)}, and after you sign it stays.",
        ),
    ]
    if terms.terms.strip():
        sections.append(QuoteSection(title="Terms", text=terms.terms.strip()))
    if terms.late_fee:
        sections.append(QuoteSection(title="Late payment", text=terms.late_fee))
    return tuple(sections)


def _in_plain_words(cautions: Sequence[QuoteSection]) -> tuple[QuoteSection, ...]:
    return tuple(
        QuoteSection(title=plain_words(caution.title), text=plain_words(caution.text))
        for caution in cautions
    )


def _lines(text: str) -> tuple[str, ...]:
    """Return the lines of a text, without their dashes."""
    lines = (line.strip().lstrip("-–•* ").strip() for line in text.splitlines())
    return tuple(line for line in lines if line)
