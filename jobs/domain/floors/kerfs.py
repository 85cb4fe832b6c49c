"""What a cut takes from a board, by its core and the way it is made. Pure.

A rigid vinyl core is scored and snapped across, which takes nothing, and ripped along a guide,
which takes nothing either, or on a table saw. Laminate and wood are sawn both ways. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

BLADE_MM: Mapping[str, Decimal] = {"imperial": Decimal("3.175"), "metric": Decimal(3)}
"""What a saw takes, by the unit system of the product's sheet."""
_SNAPPED = "rigid"


def common_saw_kerf_mm(core: str, units: str) -> Decimal:
    """Return what a cut across a board of this core commonly takes."""
    return Decimal(0) if core == _SNAPPED else BLADE_MM[units]


def common_rip_kerf_mm(saw_kerf_mm: Decimal, units: str) -> Decimal:
    """Return what a rip commonly takes: a table saw's blade, and no less than a cut across."""
    return max(BLADE_MM[units], saw_kerf_mm)
