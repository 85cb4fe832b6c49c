"""What stands on the quotes of `quote_values`: the firm, two rooms, three choices, the law's forms.

People and addresses are invented. Four bags at 92.59 are 370.36. Deposit 465.00, so of 4 655.33 the
rest is 4 190.33, of 4 825.57 (new baseboard) 4 360.57, of 5 217.60 (thicker plank) 4 752.60.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.domain.law.cancel import cancel_right
from estimates.domain.quotes.content import (
    ChoiceFact,
    LeadReceipt,
    Letterhead,
    QuoteAllowance,
    QuoteChoice,
    QuoteRoom,
)

DIGEST = "5a" * 32
LONG_NAME = ("Wilhelmina-Alexandrina Montgomery-Featherstonehaugh of the Lower Meadow " * 3)[:200]

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

FLOOR = (
    "Rigid vinyl plank, oak print, ¼ in thick with its pad, planks 7 in by 4 ft, color Dune, "
    "sample seen on November 24, 2026."
)
BEDROOM = QuoteRoom(
    name="Bedroom",
    floor="Bedroom and hall",
    area_ft2=Decimal("287.3"),
    text="We move the furniture, half a room at a time, take up the carpet and its pad and haul "
    "them away, screw down loose spots, lay the new floor and put the baseboard back. The door "
    "comes off and goes back on.",
    amount=None,
)
HALL = QuoteRoom(
    name="Hall",
    floor="Bedroom and hall",
    area_ft2=Decimal("81.4"),
    text="The same work, without furniture. The planks run on through the bedroom door with no "
    "strip between. At the bathroom the tile stands higher: a sloped strip joins the two floors.",
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

INCLUSIONS = (
    "Material and labor",
    "Moving the furniture, and back",
    "Old floor out and hauled away",
    "Doors off, trimmed and on again",
    "Your baseboard off and on again",
    "Strips where floors meet",
    "Cleaning up",
)
EXCLUSIONS = (
    "asbestos or lead paint: testing and removal",
    "new wood under the floor, beyond screwing it down",
    "plumbing, electrical work and gas appliances",
    "painting of walls, baseboard and doors",
)
DAYS = (
    ("Day 1", "We arrive about 8:30, every day. Hall: carpet out, floor in."),
    ("Day 2", "Bedroom: carpet out and floor in on the same day."),
    ("Day 3", "Baseboard, doors, cleaning. By noon you look it over with us."),
)
NIGHTS = ("At most one night without the bedroom.",)
CLEAR = (
    "Before day 1: clear closets, shelves and small things; we move what is heavy.",
    "Cats stay in the kitchen",
)
WARRANTY = (
    "We stand behind our work for two years: a joint that opens, a plank that lifts or a strip "
    "that comes loose is put right at no charge."
)
CHANGES = (
    "If you want something changed, or we find what nobody could see, you get the new price on "
    "paper first. We go on once you sign."
)
TAX_NOTE = "Sales tax on material is in the price."
DANGER = (
    "Old tile or glue that may hold asbestos, or a wet floor: we stop, tell you the same day, and "
    "nobody works on it until a qualified person has cleared it."
)
AGREED = (
    "This quote with the choice that you mark. Nothing said beside it counts until it is written "
    "and signed."
)
TERMS = (
    ("What is agreed", AGREED),
    ("Price", "It stands until December 29, 2026, and after you sign it stays."),
    ("If we find something dangerous", DANGER),
    ("Your part", "Rooms cleared as written, power and heat on, a grown-up in reach by phone."),
    ("Old material", "Carpet, pad and cut-offs leave with us. One carton is left with you."),
)

CANCEL = cancel_right(
    LETTERHEAD,
    agreement="Quote 4-1, bedroom and hall, 230 Larch Bend",
    signed_on=date(2026, 11, 30),
)
LEAD = LeadReceipt(
    firm="Fernwood Floors",
    certificate="NAT-00000-1",
    pamphlet="Renovate Right",
    text="The house was built before 1978 and painted wood is disturbed.",
    source="40 CFR 745.84",
)


def _way(key: str, name: str, text: str, doors: str, total: str) -> QuoteChoice:
    """A choice whose deposit is 465.00; its allowances are in its total."""
    steps = {"a": "⅜ in up", "b": "⅜ in up", "c": "⅛ in up"}
    facts = (("Step to the tile", steps[key]), ("Doors trimmed", doors))
    return QuoteChoice(
        key=key,
        name=name,
        text=text,
        facts=tuple(ChoiceFact(label=label, text=words) for label, words in facts),
        total=Decimal(total),
        tax=Decimal("0.00"),
        most=Decimal(total),
        deposit=Decimal("465.00"),
        balance=Decimal(total) - Decimal("465.00"),
        scope_sha256=DIGEST,
        estimate_sha256=DIGEST,
    )


BACK = _way(
    "a",
    "Your baseboard back",
    "It comes off and goes back on. Old baseboard may split or mark the wall; a new piece is "
    "$4.20 a foot.",
    "bathroom door ⅛ in",
    "4655.33",
)
NEW = _way(
    "b",
    "New baseboard",
    "3¼ in tall in both rooms, nailed, and sealed along the top. Painting is yours.",
    "bathroom door ⅛ in",
    "4825.57",
)
THICK = _way(
    "c",
    "Thicker plank, new baseboard",
    "⅜ in plank on a pad of its own, ¼ in higher: warmer and quieter to walk on. For dry rooms.",
    "both doors ⅛ in",
    "5217.60",
)
