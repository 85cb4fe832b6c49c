"""Issued quotes by hand, for paper and phone: two rooms, one, nine, by the unit, an older form."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.quotes.content import (
    IssuedQuote,
    QuoteSection,
    QuoteStage,
    QuoteUnit,
)
from tests.quoted import quote_words as words


def sections(*pairs: tuple[str, str]) -> tuple[QuoteSection, ...]:
    """Headings with what stands under them."""
    return tuple(QuoteSection(title=title, text=text) for title, text in pairs)


def paid_at_once(amount: str, when: str) -> tuple[QuoteStage, ...]:
    """One payment."""
    return (QuoteStage(name="All of it", when=when, amount=Decimal(amount)),)


def two_rooms() -> IssuedQuote:
    """A bedroom and a hall at one price, without a choice; four bags are in it."""
    rest = Decimal("4190.33")
    return IssuedQuote(
        number=1,
        job_number=4,
        title="Bedroom and hall",
        detail="whole",
        currency="USD",
        issued_on=date(2026, 11, 29),
        valid_until=date(2026, 12, 29),
        scope_sha256=words.DIGEST,
        letterhead=words.LETTERHEAD,
        client="Ines Okafor",
        client_lines=("230 Larch Bend", "Millbrook, PA 00000"),
        site="230 Larch Bend\nMillbrook, PA 00000",
        order_number="",
        floor_words=(words.FLOOR,),
        drawing=words.DRAWING,
        drawing_notes=(),
        rooms=(words.BEDROOM, words.HALL),
        units=(),
        choices=(words.BACK,),
        allowances=(words.LOW_SPOTS,),
        inclusions=words.INCLUSIONS,
        exclusions=words.EXCLUSIONS,
        photos=(),
        days=sections(*words.DAYS),
        nights=words.NIGHTS,
        clear=words.CLEAR,
        start="We start in the week of December 7. The day is agreed in writing.",
        stages=(
            QuoteStage(name="Deposit", when="when you accept", amount=Decimal("465.00")),
            QuoteStage(name="The rest", when="when you looked it over", amount=rest),
        ),
        payment_words="Checks to Fernwood Floors. No money before you accept.",
        warranty=words.WARRANTY,
        changes=words.CHANGES,
        cautions=(),
        terms=sections(*words.TERMS),
        notices=(),
        cancel=words.CANCEL,
        lead=None,
        total=Decimal("4655.33"),
        tax=Decimal("0.00"),
        tax_note=words.TAX_NOTE,
        most=Decimal("4655.33"),
        deposit=Decimal("465.00"),
    )


def by_room() -> IssuedQuote:
    """The same rooms, each with its price (3 439.04 + 1 216.29 = 4 655.33), and three choices."""
    rooms = (
        replace(words.BEDROOM, amount=Decimal("3439.04")),
        replace(words.HALL, amount=Decimal("1216.29")),
    )
    choices = (words.BACK, words.NEW, words.THICK)
    return replace(two_rooms(), detail="room", rooms=rooms, choices=choices)


def beyond() -> IssuedQuote:
    """The choices with the four bags on top: 4 655.33 + 370.36 = 5 025.69, and so on."""
    plain = by_room()
    ways = tuple(replace(way, most=way.total + plain.caps) for way in plain.choices)
    return replace(plain, choices=ways, most=Decimal("5025.69"))


def one_room() -> IssuedQuote:
    """One bedroom, nothing that nobody could count, no right to cancel."""
    total = Decimal("3439.04")
    way = replace(words.BACK, total=total, most=total, deposit=Decimal(0), balance=total)
    return replace(
        two_rooms(),
        title="Bedroom",
        rooms=(words.BEDROOM,),
        choices=(way,),
        allowances=(),
        cancel=None,
        stages=paid_at_once("3439.04", "when done"),
        total=total,
        most=total,
        deposit=Decimal(0),
    )


def nine_rooms() -> IssuedQuote:
    """A whole house by room, built before 1978: nine rooms of 1 000.00 each."""
    names = ("Living room", "Dining room", "Kitchen", "Hall", "Bedroom 1", "Bedroom 2", "Bedroom 3")
    rooms = tuple(
        replace(words.BEDROOM, name=name, area_ft2=Decimal(120 + 11 * i), amount=Decimal("1000.00"))
        for i, name in enumerate((*names, "Office", "Laundry"))
    )
    total = Decimal("9000.00")
    whole = replace(words.BACK, total=total, most=total, balance=Decimal("8535.00"))
    days = [(f"Day {n}", "Two rooms: carpet out and floor in on that day.") for n in range(1, 8)]
    return replace(
        by_room(),
        title="The whole house",
        rooms=rooms,
        choices=(whole,),
        days=sections(*days),
        cautions=sections(("Old paint", "Your house was built before 1978; paint may hold lead.")),
        notices=sections(("Notice of the state", "The attorney general’s office answers.")),
        lead=words.LEAD,
        total=total,
        most=total,
    )


def by_unit() -> IssuedQuote:
    """A store's order: 368.7 square feet laid at 2.50 are 921.75; two doors at 25.00: 971.75."""
    laid = QuoteUnit(
        label="Floor laid",
        quantity=Decimal("368.7"),
        unit="ft2",
        each=Decimal("2.50"),
        amount=Decimal("921.75"),
    )
    doors = replace(laid, label="Doors trimmed", quantity=Decimal(2), unit="each")
    doors = replace(doors, each=Decimal("25.00"), amount=Decimal("50.00"))
    total = Decimal("971.75")
    way = replace(words.BACK, total=total, most=total, balance=total, deposit=Decimal(0))
    return replace(
        two_rooms(),
        detail="unit",
        client="Alder Store",
        order_number="4711",
        units=(laid, doors),
        choices=(way,),
        allowances=(),
        stages=paid_at_once("971.75", "in 30 days"),
        cancel=None,
        total=total,
        most=total,
        deposit=Decimal(0),
    )


def older() -> IssuedQuote:
    """A quote as an earlier version wrote it: lines under headings, one way without a name."""
    lines = ("Flooring, Dune: 19 cartons, $2,000.00", "Laying of the floor, $2,655.33")
    return replace(
        two_rooms(),
        rooms=(),
        choices=(replace(words.BACK, name="", text="", facts=()),),
        allowances=(),
        inclusions=(),
        exclusions=("painting",),
        days=(),
        nights=(),
        clear=(),
        start="",
        stages=(),
        warranty="",
        changes="",
        terms=sections(("Terms", "Checks to Fernwood Floors.")),
        cancel=None,
        older=sections(("Materials", lines[0]), ("Work", lines[1])),
        tax_note="",
    )


def hostile(text: str = '<script>alert(1)</script><img src="file:///etc/passwd">') -> IssuedQuote:
    """The two rooms with markup in everything that a person types."""
    typed = by_room()
    return replace(
        typed,
        title=text,
        client=text,
        client_lines=(text,),
        site=text,
        floor_words=(text,),
        rooms=tuple(replace(room, name=f"{room.name} {text}", text=text) for room in typed.rooms),
        exclusions=(text,),
        payment_words=text,
        warranty=text,
        terms=sections((text, text)),
        letterhead=replace(words.LETTERHEAD, name=text),
        choices=tuple(replace(way, name=text, text=text) for way in typed.choices),
    )


def long_named() -> IssuedQuote:
    """The two rooms for a client, a firm and a job of names of 200 characters."""
    mail = f"{'o' * 60}@{'e' * 60}.example.com"
    letterhead = replace(words.LETTERHEAD, name=words.LONG_NAME, email=mail)
    return replace(by_room(), title=words.LONG_NAME, client=words.LONG_NAME, letterhead=letterhead)
