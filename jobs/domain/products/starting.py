"""What stands in a product until its maker's sheet is read: common practice, no source. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal

from jobs.domain.floors.kerfs import common_rip_kerf_mm, common_saw_kerf_mm
from jobs.domain.lengths import MM_PER_IN

_LENGTHS: Mapping[str, Mapping[str, Decimal]] = {
    "imperial": {
        "gap_mm": MM_PER_IN / 4,
        "min_end_mm": MM_PER_IN * 8,
        "min_offset_mm": MM_PER_IN * 8,
        "min_row_mm": MM_PER_IN * 2,
    },
    "metric": {
        "gap_mm": Decimal(6),
        "min_end_mm": Decimal(200),
        "min_offset_mm": Decimal(200),
        "min_row_mm": Decimal(50),
    },
}
_WOOD_OFFSETS_IN = ((Decimal(3), Decimal(6)), (Decimal(5), Decimal(8)))
_WIDE_WOOD_OFFSET_IN = Decimal(10)
"""How far end joints of wood lie apart up to a width: strip 6 in, plank to 5 in 8 in, wider 10 in.

A rule of thumb: NWFA Installation Guidelines (2008), as its technical adviser told the trade press.
"""
_PART_OF_LENGTH, _PART_OF_WIDTH = 3, 2
"""A short board keeps a third of its length and half of its width where inches ask for more."""
_LOCKS: Mapping[str, str] = {
    "rigid": "angle-drop",
    "laminate": "angle-angle",
    "wood": "angle-angle",
}
_REST_HOURS: Mapping[str, int] = {"rigid": 0, "laminate": 48, "wood": 0}
"""Wood rests until its moisture reads in range, not by the clock; rigid cores often not at all."""
_PLACES = Decimal("0.000001")


def starting_rules(
    *, core: str, units: str, length_mm: Decimal, width_mm: Decimal
) -> dict[str, object]:
    """Return the rules of a new product by the names of its fields; ``width_mm``: the narrowest."""
    rules = _LENGTHS[units]
    end = min(rules["min_end_mm"], (length_mm / _PART_OF_LENGTH).quantize(_PLACES))
    row = min(rules["min_row_mm"], (width_mm / _PART_OF_WIDTH).quantize(_PLACES))
    saw = common_saw_kerf_mm(core, units)
    return {
        "gap_mm": rules["gap_mm"],
        "min_end_mm": end,
        "min_offset_mm": _wood_offset_mm(units, length_mm, width_mm) if core == "wood" else end,
        "min_row_mm": row,
        "saw_kerf_mm": saw,
        "rip_kerf_mm": common_rip_kerf_mm(saw, units),
        "lock": _LOCKS[core],
        "stagger": "free",
        "tongue": "low",
        "first_end": "left",
        "acclimate_hours": _REST_HOURS[core],
    }


def _wood_offset_mm(units: str, length_mm: Decimal, width_mm: Decimal) -> Decimal:
    """Return how far end joints of wood lie apart, by the width of the board."""
    width_in = width_mm / MM_PER_IN
    by_width = (apart for most, apart in _WOOD_OFFSETS_IN if width_in <= most)
    apart_mm = next(by_width, _WIDE_WOOD_OFFSET_IN) * MM_PER_IN
    if units == "metric":
        apart_mm = apart_mm.quantize(Decimal("1e1"))  # to the centimeter
    return min(apart_mm, (length_mm / _PART_OF_LENGTH).quantize(_PLACES))


def followed_rules(
    *,
    now: Mapping[str, object],
    before: Mapping[str, object],
    after: Mapping[str, object],
    is_ours: Callable[[str], bool],
) -> dict[str, object]:
    """Return the rules that go along when a carton is corrected: those that nobody changed.

    ``now`` are the product's, ``before`` and ``after`` the starting ones of its carton as it was
    and as it is; a rule with a source of its own stays.
    """
    return {
        name: value
        for name, value in after.items()
        if now[name] == before[name] != value and is_ours(name)
    }
