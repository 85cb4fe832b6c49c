"""A price by the pack or by what the pack covers: one made into the other by the coverage."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args

from estimates.domain.book.groups import GROUP_OF, MEASURES, Measure, is_loose
from estimates.domain.money import price_of_measure, price_of_pack, tidy
from jobs.domain.checks import ZERO, BadValueError, require_choice, require_number
from jobs.domain.quantities import CATALOG

Per = Literal["pack", "measure"]

LARGEST_AMOUNT = Decimal(99_999)
LARGEST_COVER = Decimal(99_999)
LONGEST_PACK = 20


@dataclass(frozen=True, kw_only=True, slots=True)
class PackPrice:
    """What is paid for a material: `amount` for a pack, or for one unit of what packs cover.

    Where a floor takes it by the pack, the pack is the catalog's (carton, roll, stick); what is
    taken loose (nails, primer) may come in any pack, or in none.
    """

    code: str
    amount: Decimal
    per: Per
    pack: str = ""
    covers: Decimal | None = None

    def __post_init__(self) -> None:
        """Refuse another pack than the catalog's, and a price whose coverage is not known."""
        require_choice("code", self.code, GROUP_OF)
        require_choice("per", self.per, get_args(Per))
        require_number("amount", self.amount, least=0, most=LARGEST_AMOUNT)
        if self.covers is not None:
            require_number("covers", self.covers, above=0, most=LARGEST_COVER)
        self._refuse_pack()
        self.refuse_unknown_cost()

    def refuse_unknown_cost(self) -> None:
        """Refuse a price by the one where a floor takes the other and the coverage is missing."""
        needed = "pack" if is_loose(self.code) else "measure"
        if self.per == needed and self.covers is None:
            pack = self.pack or "pack"
            accepted = f"how much a {pack} covers or holds, in {self.measure}, for a price by the "
            accepted += pack if needed == "pack" else self.measure
            raise BadValueError(field="covers", value=None, accepted=accepted)

    def _refuse_pack(self) -> None:
        unit = CATALOG[self.code].unit
        if not is_loose(self.code):
            require_choice("pack", self.pack, [unit])
        elif self.per == "pack" and not self.pack:
            raise BadValueError(
                field="pack", value="", accepted=f"a word such as box, or a price for one {unit}"
            )
        elif self.pack in get_args(Measure) or len(self.pack) > LONGEST_PACK:
            accepted = f"the word of a pack, such as box, of up to {LONGEST_PACK} letters, or none"
            raise BadValueError(field="pack", value=self.pack, accepted=accepted)

    @property
    def measure(self) -> Measure:
        """What a pack is counted in."""
        return MEASURES[self.code]

    @property
    def per_word(self) -> str:
        """What the price is for: carton, ft2, box."""
        return self.pack if self.per == "pack" else self.measure

    @property
    def by_pack(self) -> Decimal | None:
        """What a pack costs; None where nobody said what it covers."""
        if self.per == "pack":
            return tidy(self.amount)
        return None if self.covers is None else price_of_pack(self.amount, self.covers)

    @property
    def by_measure(self) -> Decimal | None:
        """What one unit of the measure costs; None where nobody said what a pack covers."""
        if self.per == "measure":
            return tidy(self.amount)
        return None if self.covers is None else price_of_measure(self.amount, self.covers)

    @property
    def unit_cost(self) -> Decimal:
        """What the unit costs in which a floor takes the material."""
        # One of the two is None only where the price was refused when it was made.
        cost = self.by_measure if is_loose(self.code) else self.by_pack
        return ZERO if cost is None else cost
