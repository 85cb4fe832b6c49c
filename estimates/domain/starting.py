"""Prices a new company starts from, so that the first job can be priced and then corrected.

Every figure is an invented starting value for the owner to overwrite; no source.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

STARTING_BURDENED_RATE = Decimal(48)

STARTING_TERMS = (
    "Prices hold until the date above. Work starts after the deposit has arrived and the start "
    "date is agreed in writing. What could not be seen at the visit is priced in writing first; "
    "we go on once you have signed for it."
)
STARTING_EXCLUSIONS = (
    "Testing and removal of asbestos or lead paint\n"
    "Plumbing, electrical work and gas appliances\n"
    "New wood under the floor\n"
    "Painting of walls, baseboard and doors"
)


class StartingPrice(NamedTuple):
    """What one unit of a quantity costs to buy."""

    code: str
    label: str
    unit: str
    amount: str


STARTING_PRICES = (
    StartingPrice("pad", "Pad", "roll", "32.00"),
    StartingPrice("vapour_barrier", "Vapor barrier", "roll", "28.00"),
    StartingPrice("seam_tape", "Seam tape", "roll", "9.00"),
    StartingPrice("transition_profile", "Transition profile", "stick", "24.00"),
    StartingPrice("transition_track", "Transition track", "stick", "6.00"),
    StartingPrice("transition_screws", "Transition screws", "each", "0.10"),
    StartingPrice("adhesive", "Adhesive", "tube", "7.50"),
    StartingPrice("nosing_stock", "Stair nosing", "stick", "46.00"),
    StartingPrice("base_stock", "Base", "stick", "14.00"),
    StartingPrice("shoe_stock", "Shoe or quarter round", "stick", "7.00"),
    StartingPrice("base_nails", "Base nails", "each", "0.01"),
    StartingPrice("shoe_nails", "Shoe nails", "each", "0.01"),
    StartingPrice("caulk", "Caulk", "tube", "4.00"),
    StartingPrice("spacers", "Spacers", "each", "0.15"),
    StartingPrice("leveller", "Leveler", "bag", "38.00"),
    StartingPrice("primer", "Primer", "ft2", "0.20"),
    StartingPrice("subfloor_screws", "Subfloor screws", "each", "0.05"),
    StartingPrice("disposal", "Disposal of the old floor", "ft2", "0.35"),
)
