"""Issued quotes by hand, for paper and phone: two rooms, one, nine, by the unit, an older form.

People and addresses are invented. The sums of the two rooms: 3 439.04 + 1 216.29 = 4 655.33; four
bags at 92.59 are 370.36; together 5 025.69. Deposit 465.00, so the rest is 4 190.33, 4 360.57 with
new baseboard (4 825.57) and 4 752.60 with the thicker plank (5 217.60).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimates.domain.quotes.content import (
    CancelRight,
    ChoiceFact,
    IssuedQuote,
    LeadReceipt,
    Letterhead,
    QuoteAllowance,
    QuoteChoice,
    QuoteRoom,
    QuoteSection,
    QuoteStage,
    QuoteUnit,
)

DIGEST = "5a" * 32
LONG_NAME = "Wilhelmina-Alexandrina Montgomery-Featherstonehaugh of the Lower Meadow " * 3

DRAWING = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 80" role="img">'
    '<title>Bedroom and hall</title><rect x="10" y="10" width="60" height="40" fill="none"'
    ' stroke="currentColor" stroke-width="2"/></svg>'
)

LETTERHEAD = Letterhead(
    name="Fernwood Floors",
    address=("18 Cooper Lane", "Millbrook, PA 00000"),
    phone="555-0100",
    email="office@example.com",
    license="HG-0420",
    registration="",
    insurance="Tidewater Mutual, policy 00-0193",
    logo_sha256="",
)

BEDROOM = QuoteRoom(
    name="Bedroom",
    floor="Bedroom and hall",
    area_ft2=Decimal("287.3"),
    text="We move the furniture, half a room at a time, take up the carpet and its pad and haul them "
    "away, screw down loose spots, lay the new floor and put the baseboard back. The door comes off "
    "and goes back on.",
    amount=None,
)
HALL = QuoteRoom(
    name="Hall",
    floor="Bedroom and hall",
    area_ft2=Decimal("81.4"),
    text="The same work, without furniture. The planks run on through the bedroom door with no strip "
    "between. At the bathroom the tile stands higher: a sloped strip joins the two floors.",
    amount=None,
)

LOW_SPOTS = QuoteAllowance(
    name="low spots",
    text="We can’t see the wood under your carpet. If it has low spots, we fill them with leveling "
    "compound.",
    each=Decimal("92.59"),
    unit="bag",
    units=Decimal(4),
    most=Decimal("370.36"),
)

CANCEL = CancelRight(
    sentence="You, the buyer, may cancel this transaction at any time prior to midnight of the third "
    "business day after the date of this transaction. See the attached notice of cancellation form "
    "for an explanation of this right.",
    agreement="Quote 4-1, bedroom and hall, 230 Larch Bend",
    seller="Fernwood Floors",
    address=("18 Cooper Lane", "Millbrook, PA 00000"),
    signed_on=date(2026, 11, 30),
    cancel_by=date(2026, 12, 3),
    source="16 CFR 429.1",
)

LEAD = LeadReceipt(
    firm="Fernwood Floors",
    certificate="NAT-00000-1",
    pamphlet="Renovate Right",
    text="The house was built before 1978 and painted wood is disturbed.",
    source="40 CFR 745.84",
)

TERMS = (
    ("What is agreed", "This quote with the choice that you mark. Nothing said beside it counts "
     "until it is written and signed."),
    ("Price", "It stands until December 29, 2026, and after you sign it stays."),
    ("If we find something dangerous", "Old tile or glue that may hold asbestos, or a wet floor: we "
     "stop, tell you the same day, and nobody works on it until a qualified person has cleared it."),
    ("Your part", "Rooms cleared as written, power and heat on, a grown-up within reach by phone."),
    ("Old material", "Carpet, pad and cut-offs leave with us. One unopened carton is left with you."),
)  # fmt: skip


def choice(
    key: str, name: str, text: str, step: str, doors: str, total: str, most: str, balance: str
) -> QuoteChoice:
    """A choice whose deposit is 465.00."""
    return QuoteChoice(
        key=key,
        name=name,
        text=text,
        facts=(
            ChoiceFact(label="Step to the tile", text=step),
            ChoiceFact(label="Doors trimmed", text=doors),
        ),
        total=Decimal(total),
        tax=Decimal("0.00"),
        most=Decimal(most),
        deposit=Decimal("465.00"),
        balance=Decimal(balance),
        scope_sha256=DIGEST,
        estimate_sha256=DIGEST,
    )


BACK = choice(
    "a",
    "Your baseboard back",
    "It comes off and goes back on. Old baseboard may split or mark the wall; a new piece is $4.20 a "
    "foot.",
    "⅜ in up",
    "bathroom door ⅛ in",
    "4655.33",
    "5025.69",
    "4190.33",
)
NEW = choice(
    "b",
    "New baseboard",
    "3¼ in tall in both rooms, nailed, and sealed along the top. It hides old marks. Painting is "
    "yours.",
    "⅜ in up",
    "bathroom door ⅛ in",
    "4825.57",
    "5195.93",
    "4360.57",
)
THICK = choice(
    "c",
    "Thicker plank, new baseboard",
    "⅜ in plank on a pad of its own, ¼ in higher: warmer and quieter to walk on. For dry rooms.",
    "⅛ in up",
    "both doors ⅛ in",
    "5217.60",
    "5587.96",
    "4752.60",
)


def sections(*pairs: tuple[str, str]) -> tuple[QuoteSection, ...]:
    """Headings with what stands under them."""
    return tuple(QuoteSection(title=title, text=text) for title, text in pairs)


def two_rooms() -> IssuedQuote:
    """A bedroom and a hall at one price, without a choice."""
    return IssuedQuote(
        number=1,
        job_number=4,
        title="Bedroom and hall",
        detail="whole",
        currency="USD",
        issued_on=date(2026, 11, 29),
        valid_until=date(2026, 12, 29),
        scope_sha256=DIGEST,
        letterhead=LETTERHEAD,
        client="Ines Okafor",
        client_lines=("230 Larch Bend", "Millbrook, PA 00000"),
        site="230 Larch Bend\nMillbrook, PA 00000",
        order_number="",
        floor_words=(
            "Rigid vinyl plank, oak print, ¼ in thick with its pad, planks 7 in by 4 ft, color Dune, "
            "sample seen on November 24, 2026.",
        ),
        drawing=DRAWING,
        drawing_notes=(),
        rooms=(BEDROOM, HALL),
        units=(),
        choices=(BACK,),
        allowances=(LOW_SPOTS,),
        inclusions=(),
        exclusions=(
            "asbestos or lead paint: testing and removal",
            "new wood under the floor, beyond screwing it down",
            "plumbing, electrical work and gas appliances",
            "painting of walls, baseboard and doors",
        ),
        photos=(),
        days=sections(
            ("Day 1", "We arrive about 8:30, every day. Hall: carpet out, floor in."),
            ("Day 2", "Bedroom: carpet out and floor in on the same day."),
            ("Day 3", "Baseboard, doors, cleaning. By noon you look it over with us."),
        ),
        nights=("At most one night without the bedroom.",),
        clear=("closets and shelves", "small things", "beds stripped; we move what is heavy"),
        start="We start in the week of December 7. The day is agreed in writing.",
        stages=(
            QuoteStage(name="Deposit", when="when you accept", amount=Decimal("465.00")),
            QuoteStage(name="The rest", when="when you looked it over", amount=Decimal("4190.33")),
        ),
        payment_words="Checks to Fernwood Floors. No money before you accept.",
        warranty="We stand behind our work for two years: a joint that opens, a plank that lifts or "
        "a strip that comes loose is put right at no charge.",
        changes="If you want something changed, or we find what nobody could see, you get the new "
        "price on paper first. We go on once you sign.",
        cautions=(),
        terms=sections(*TERMS),
        notices=(),
        cancel=CANCEL,
        lead=None,
        total=Decimal("4655.33"),
        tax=Decimal("0.00"),
        tax_note="Material, labor, hauling and sales tax are in this price.",
        most=Decimal("5025.69"),
        deposit=Decimal("465.00"),
    )


def by_room() -> IssuedQuote:
    """The same two rooms, each with its price, and three choices."""
    rooms = (
        replace(BEDROOM, amount=Decimal("3439.04")),
        replace(HALL, amount=Decimal("1216.29")),
    )
    return replace(two_rooms(), detail="room", rooms=rooms, choices=(BACK, NEW, THICK))


def one_room() -> IssuedQuote:
    """One bedroom, nothing that nobody could count, no right to cancel."""
    plain = replace(BACK, total=Decimal("3439.04"), most=Decimal("3439.04"))
    stage = QuoteStage(name="All of it", when="when done", amount=Decimal("3439.04"))
    return replace(
        two_rooms(),
        title="Bedroom",
        rooms=(BEDROOM,),
        choices=(replace(plain, deposit=Decimal(0), balance=Decimal("3439.04")),),
        allowances=(),
        cancel=None,
        stages=(stage,),
        total=Decimal("3439.04"),
        most=Decimal("3439.04"),
        deposit=Decimal(0),
    )


def nine_rooms() -> IssuedQuote:
    """A whole house by room, built before 1978: nine rooms of 1 000.00 each."""
    names = ("Living room", "Dining room", "Kitchen", "Hall", "Bedroom 1", "Bedroom 2", "Bedroom 3")
    rooms = tuple(
        replace(BEDROOM, name=name, area_ft2=Decimal(120 + 11 * i), amount=Decimal("1000.00"))
        for i, name in enumerate((*names, "Office", "Laundry"))
    )
    whole = replace(
        BACK, total=Decimal("9000.00"), most=Decimal("9370.36"), balance=Decimal("8535.00")
    )
    days = [
        (f"Day {n}", "Two rooms: carpet out and floor in on the same day.") for n in range(1, 8)
    ]
    return replace(
        by_room(),
        title="The whole house",
        rooms=rooms,
        choices=(whole,),
        days=sections(*days),
        cautions=sections(
            ("Old paint", "Your house was built before 1978; its paint may hold lead.")
        ),
        notices=sections(
            ("Notice of the state", "The attorney general’s office answers questions.")
        ),
        lead=LEAD,
        total=Decimal("9000.00"),
        most=Decimal("9370.36"),
    )


def by_unit() -> IssuedQuote:
    """A store's order: 368.7 square feet laid at 2.50, two doors at 25.00, 971.75 in all."""
    units = (
        QuoteUnit(
            label="Floor laid",
            quantity=Decimal("368.7"),
            unit="ft2",
            each=Decimal("2.50"),
            amount=Decimal("921.75"),
        ),
        QuoteUnit(
            label="Doors trimmed",
            quantity=Decimal(2),
            unit="each",
            each=Decimal("25.00"),
            amount=Decimal("50.00"),
        ),
    )
    plain = replace(
        BACK, total=Decimal("971.75"), most=Decimal("971.75"), balance=Decimal("971.75")
    )
    return replace(
        two_rooms(),
        detail="unit",
        client="Alder Store",
        order_number="4711",
        units=units,
        choices=(replace(plain, deposit=Decimal(0)),),
        allowances=(),
        stages=(QuoteStage(name="All of it", when="in 30 days", amount=Decimal("971.75")),),
        cancel=None,
        total=Decimal("971.75"),
        most=Decimal("971.75"),
        deposit=Decimal(0),
    )


def older() -> IssuedQuote:
    """A quote as an earlier version wrote it: lines under headings, no rooms and no choices."""
    return replace(
        two_rooms(),
        floor_words=(),
        rooms=(),
        choices=(),
        allowances=(),
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
        older=sections(
            ("Materials", "Flooring, Dune: 19 cartons, $2,000.00"),
            ("Work", "Laying of the floor, $2,655.33"),
        ),
        tax_note="",
        most=Decimal("4655.33"),
    )


def hostile(text: str = '<script>alert(1)</script><img src="file:///etc/passwd">') -> IssuedQuote:
    """The two rooms with markup in everything that a person types."""
    by_hand = by_room()
    rooms = tuple(replace(room, name=f"{room.name} {text}", text=text) for room in by_hand.rooms)
    return replace(
        by_hand,
        title=text,
        client=text,
        client_lines=(text,),
        site=text,
        floor_words=(text,),
        rooms=rooms,
        exclusions=(text,),
        payment_words=text,
        warranty=text,
        terms=sections((text, text)),
        letterhead=replace(LETTERHEAD, name=text),
        choices=tuple(replace(way, name=text, text=text) for way in by_hand.choices),
    )


def long_named() -> IssuedQuote:
    """The two rooms for a client, a firm and a job of names of 200 characters."""
    name = LONG_NAME[:200]
    letterhead = replace(LETTERHEAD, name=name, email=f"{'o' * 60}@{'e' * 60}.example.com")
    return replace(by_room(), title=name, client=name, letterhead=letterhead)
