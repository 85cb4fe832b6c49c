"""Which material stands in which group of the price book, and what its packs are counted in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from jobs.domain.quantities import CATALOG

Measure = Literal["ft2", "ft", "each"]

GROUPS: Mapping[str, tuple[str, ...]] = {
    "Planks": ("cartons",),
    "Pads": ("pad",),
    "Barriers": ("vapour_barrier",),
    "Transitions": ("transition_profile", "transition_track", "transition_screws"),
    "Trim": ("base_stock", "shoe_stock", "nosing_stock"),
    "Adhesives": ("adhesive",),
    "Sundries": (
        *("seam_tape", "base_nails", "shoe_nails", "caulk", "spacers", "leveller", "primer"),
        *("subfloor_screws", "disposal"),
    ),
}
"""Codes of materials by group, in the order in which a book shows them."""

GROUP_OF: Mapping[str, str] = {code: group for group, codes in GROUPS.items() for code in codes}
ORDER: Mapping[str, int] = {code: place for place, code in enumerate(GROUP_OF)}

_BY_LENGTH = (
    *("transition_profile", "transition_track", "base_stock", "shoe_stock", "nosing_stock"),
    *("seam_tape", "caulk"),
)
_BY_COUNT = ("transition_screws", "base_nails", "shoe_nails", "spacers", "subfloor_screws")


def _measure_of(code: str) -> Measure:
    if code in _BY_LENGTH:
        return "ft"
    return "each" if code in _BY_COUNT else "ft2"


MEASURES: Mapping[str, Measure] = {code: _measure_of(code) for code in GROUP_OF}
"""What a pack of each material covers or holds: floor, running feet, pieces."""


def is_loose(code: str) -> bool:
    """Whether a floor takes the material by its measure, whatever pack it is sold in."""
    return CATALOG[code].unit == MEASURES[code]
