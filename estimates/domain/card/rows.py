"""The rows of a rate card: what is charged by the unit, in the order in which a card shows it."""

from collections.abc import Mapping
from dataclasses import dataclass

from estimates.domain.price_book import HALF_DAY, SOLD


@dataclass(frozen=True, kw_only=True, slots=True)
class CardRow:
    """A thing that a card may have a rate for; `item` narrows it, as tear-out by the old floor."""

    code: str
    label: str
    item: str = ""

    @property
    def key(self) -> tuple[str, str]:
        """Code and item: what tells this row from every other."""
        return (self.code, self.item)

    @property
    def unit(self) -> str:
        """The unit that it is charged by."""
        return SOLD[self.code].unit


def _row(code: str, label: str, item: str = "") -> CardRow:
    return CardRow(code=code, label=label, item=item)


ROWS: tuple[CardRow, ...] = (
    _row("floor_area", "Laying"),
    _row("tear_out", "Tear-out"),
    _row("tear_out", "Tear-out, carpet", "carpet"),
    _row("tear_out", "Tear-out, resilient", "resilient"),
    _row("tear_out", "Tear-out, laminate", "laminate"),
    _row("tear_out", "Tear-out, wood", "wood"),
    _row("tear_out", "Tear-out, tile", "tile"),
    _row("disposal", "Disposal"),
    _row("disposal", "Disposal, tile", "tile"),
    _row("leveller", "Bag of leveler"),
    _row("casings", "Casing undercut"),
    _row("doors_off", "Door off and rehung"),
    _row("doors_trimmed", "Door trimmed"),
    _row("transitions", "Transition set"),
    _row("treads", "Step: tread, riser, nosing"),
    _row("base_on", "Base, off and on"),
    _row("shoe_on", "Shoe or quarter round"),
    _row("paint_area", "Painting"),
    _row("toilets", "Toilet lifted and reset"),
    _row("appliances", "Appliance moved"),
    _row("furniture", "Room of furniture moved"),
    _row("trips", "Trip"),
    _row(HALF_DAY, "Half-day minimum"),
)

BY_KEY: Mapping[tuple[str, str], CardRow] = {row.key: row for row in ROWS}


def row_for(code: str, item: str) -> CardRow:
    """Return the row in which a quantity is charged: that of its item, else that of any."""
    return BY_KEY.get((code, item)) or BY_KEY[code, ""]
