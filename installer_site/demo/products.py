"""The two invented products of the demo, with what their makers' sheets say."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.models.base import Values

# Rules that the sheets of the demo products don't name: common practice.
COMMON_PRACTICE = ("saw_kerf_mm", "rip_kerf_mm", "min_row_mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoProduct:
    """A product: lengths as typed, a bare number in the unit system of the product.

    `sheet` is what the maker's sheet says, by the fields of the product.
    """

    name: str
    units: str
    core: str
    length: str
    width: str
    thickness: str
    per_carton: int
    carton_weight_kg: str
    attached_pad: bool
    gap: str
    saw_kerf: str
    rip_kerf: str
    min_end: str
    min_offset: str
    min_row: str
    max_run: str
    max_run_width: str
    price: str
    sheet: Values
    acclimate_hours: int = 0


PRODUCTS = (
    DemoProduct(
        name="Demo plank 7 x 48",
        units="imperial",
        core="rigid",
        length="48",
        width="7",
        thickness="1/4",
        per_carton=10,
        carton_weight_kg="14.50",
        attached_pad=True,
        gap="1/4",
        saw_kerf="0",
        rip_kerf="0.125",
        min_end="8",
        min_offset="8",
        min_row="2",
        max_run="40'",
        max_run_width="40'",
        price="61.00",
        sheet={
            "laid_over": ["slab", "wood subfloor", "resilient", "tile"],
            "wettest": "damp",
            "heated_floor": "yes",
            "separate_pad": "no",
            "tilt_deg": Decimal(25),
            "tapping": "block",
            "both_ways": True,
            "most_rh_pct": Decimal(85),
            "most_mver": Decimal(6),
            "most_wood_mc_pct": Decimal(12),
            "sheet_edition": "sheet 7, March 2026",
        },
    ),
    DemoProduct(
        name="Demo board 192 x 1285",
        units="metric",
        core="laminate",
        length="1285",
        width="192",
        thickness="10",
        per_carton=8,
        carton_weight_kg="15.20",
        attached_pad=False,
        gap="8",
        saw_kerf="3",
        rip_kerf="3",
        min_end="300",
        min_offset="300",
        min_row="60",
        max_run="10 m",
        max_run_width="8 m",
        acclimate_hours=48,
        price="58.40",
        sheet={
            "laid_over": ["slab", "wood subfloor", "resilient", "tile", "wood floor"],
            "wettest": "dry",
            "heated_floor": "no",
            "separate_pad": "yes",
            "tilt_deg": Decimal(20),
            "tapping": "no",
            "most_rh_pct": Decimal(75),
            "most_wood_mc_pct": Decimal(12),
            "variants": {"A": 3, "B": 3, "C": 2},
            "sheet_edition": "edition 4, 2025",
        },
    ),
)
