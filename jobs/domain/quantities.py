"""Quantities: what a floor takes, counted, each with a sentence that says how it was got.

A *material* is bought, *work* drives hours, a *fact* is told and never priced. The catalog below
is the one list of codes, labels and units: production rates and prices are keyed by these codes.
A quantity is told apart by code, zone, room and item (the product, the profile, the old floor).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from jobs.domain.checks import BadValueError, require_choice, require_number, require_text
from jobs.domain.documents import stored

QuantityKind = Literal["material", "work", "fact"]

LB_PER_KG = Decimal("2.20462262185")

PRACTICE = "common practice, no source"
PLANNED = "counted from the plan"
MEASURED = "measured on site"


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One line of the catalog: what a code means, and in which unit it is counted."""

    label: str
    unit: str
    kind: QuantityKind
    whole: bool = False


def _material(label: str, unit: str, whole: bool = True) -> Entry:
    return Entry(label=label, unit=unit, kind="material", whole=whole)


def _work(label: str, unit: str, whole: bool = True) -> Entry:
    return Entry(label=label, unit=unit, kind="work", whole=whole)


def _fact(label: str, unit: str, whole: bool = True) -> Entry:
    return Entry(label=label, unit=unit, kind="fact", whole=whole)


CATALOG: Mapping[str, Entry] = {
    "planks": _fact("Planks in the plan", "plank"),
    "cartons_by_ten_percent": _fact("Cartons the 10 % rule would buy", "carton"),
    "cartons_attic": _fact("Of these for the attic", "carton"),
    "cartons_returnable": _fact("Full cartons that may go back", "carton"),
    "cartons": _material("Flooring", "carton"),
    "pad": _material("Pad", "roll"),
    "vapour_barrier": _material("Vapor barrier", "roll"),
    "seam_tape": _material("Seam tape", "roll"),
    "transition_profile": _material("Transition profile", "stick"),
    "transition_track": _material("Transition track", "stick"),
    "transition_screws": _material("Transition screws", "each"),
    "adhesive": _material("Adhesive", "tube"),
    "nosing_stock": _material("Stair nosing", "stick"),
    "base_stock": _material("Base", "stick"),
    "shoe_stock": _material("Shoe or quarter round", "stick"),
    "base_nails": _material("Base nails, 18 gauge, 2 in", "each"),
    "shoe_nails": _material("Shoe nails, 18 gauge, 1 1/4 in", "each"),
    "caulk": _material("Caulk", "tube"),
    "spacers": _material("Spacers", "each"),
    "leveller": _material("Leveler", "bag"),
    "primer": _material("Primer", "ft2", whole=False),
    "subfloor_screws": _material("Subfloor screws", "each"),
    "disposal": _material("Disposal of the old floor", "ft2", whole=False),
    "floor_area": _work("Floor laid", "ft2", whole=False),
    "pad_area": _work("Pad and barrier rolled out", "ft2", whole=False),
    "pieces": _work("Pieces laid", "each"),
    "crosscuts": _work("Crosscuts", "each"),
    "rips": _work("Rips", "each"),
    "notches": _work("Notches", "each"),
    "trapped": _work("Pieces that can't be tilted in", "each"),
    "rows": _work("Rows", "row"),
    "casings": _work("Casings undercut", "each"),
    "doors_off": _work("Doors taken off and rehung", "each"),
    "doors_trimmed": _work("Doors trimmed", "each"),
    "transitions": _work("Transitions set", "each"),
    "treads": _work("Treads covered", "each"),
    "risers": _work("Risers covered", "each"),
    "nosings": _work("Nosings set", "each"),
    "base_off": _work("Base taken off", "lf", whole=False),
    "base_on": _work("Base put on", "lf", whole=False),
    "shoe_on": _work("Shoe or quarter round put on", "lf", whole=False),
    "paint_area": _work("Painting before the floor", "ft2", whole=False),
    "tear_out": _work("Old floor taken out", "ft2", whole=False),
    "furniture": _work("Furniture moved", "room", whole=False),
    "toilets": _work("Toilets lifted and reset", "each"),
    "appliances": _work("Appliances moved", "each"),
    "carry": _work("Carried in", "lb", whole=False),
    "carry_up": _work("Carried up, weight by flights", "lb", whole=False),
    "pick_ups": _work("Pick-ups of material", "each"),
    "dump_runs": _work("Runs to the dump", "each"),
    "visits": _work("Job set up and handed over", "job"),
    "trips": _work("Trips to the site", "trip"),
}


COUNTED_UNITS = frozenset(
    {"bag", "carton", "day", "job", "plank", "roll", "room", "row", "stick", "trip", "tube"}
)


def in_units(amount: Decimal, unit: str) -> str:
    """Return an amount with its unit as it is said: 1 carton, 2 cartons, 3, 12.5 ft2."""
    number = f"{amount.normalize():f}"
    if unit == "each":
        return number
    return f"{number} {unit}s" if unit in COUNTED_UNITS and amount != 1 else f"{number} {unit}"


@stored("code label unit kind amount basis source zone room item")
@dataclass(frozen=True, kw_only=True, slots=True)
class Quantity:
    """So much of one thing: `amount` in `unit`, never negative, with its basis and its source."""

    code: str
    label: str
    unit: str
    kind: QuantityKind
    amount: Decimal
    basis: str
    source: str
    zone: str = ""
    room: str = ""
    item: str = ""

    def __post_init__(self) -> None:
        """Refuse an unknown code, a wrong unit, a negative amount, part of a whole thing."""
        require_choice("quantity.code", self.code, CATALOG)
        entry = CATALOG[self.code]
        if (self.unit, self.kind) != (entry.unit, entry.kind):
            accepted = f"{entry.unit} as {entry.kind}"
            given = f"{self.unit} as {self.kind}"
            raise BadValueError(field=f"quantity {self.code}.unit", value=given, accepted=accepted)
        require_number(f"quantity {self.code}.amount", self.amount, least=0)
        if entry.whole and self.amount != self.amount.to_integral_value():
            raise BadValueError(
                field=f"quantity {self.code}.amount", value=self.amount, accepted="a whole number"
            )
        for field in ("label", "basis", "source"):
            require_text(f"quantity {self.code}.{field}", getattr(self, field))

    @property
    def key(self) -> tuple[str, str, str, str]:
        """Code, zone, room and item: what tells this quantity from every other."""
        return (self.code, self.zone, self.room, self.item)

    @property
    def where(self) -> str:
        """Zone, room and item in words, for messages; the label alone where none is named."""
        named = [part for part in (self.item, self.room, self.zone) if part]
        return f"{self.label} ({', '.join(named)})" if named else self.label


def quantity(
    code: str,
    amount: Decimal | int,
    basis: str,
    *,
    source: str = PRACTICE,
    zone: str = "",
    room: str = "",
    item: str = "",
) -> Quantity:
    """Return a quantity with label, unit and kind from the catalog; amounts keep two decimals."""
    require_choice("quantity.code", code, CATALOG)
    entry = CATALOG[code]
    return Quantity(
        code=code,
        label=entry.label,
        unit=entry.unit,
        kind=entry.kind,
        amount=Decimal(amount) if entry.whole else Decimal(amount).quantize(Decimal("0.01")),
        basis=basis,
        source=source,
        zone=zone,
        room=room,
        item=item,
    )
