"""How far a wall may stand off its drawn place before a plan breaks a rule. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

COMMON_WALL_ERROR_MM: Mapping[str, Decimal] = {"imperial": Decimal("6.35"), "metric": Decimal(6)}
"""What new floors are planned for, by the job's unit system: common practice, no source."""
MOST_WALL_ERROR_MM = Decimal("152.4")
"""The most that a company or a floor may set."""


def wall_error_of_new(of_company: Decimal | None, units: str) -> Decimal:
    """Return what a new floor is planned for: the company's figure, else common practice."""
    return COMMON_WALL_ERROR_MM[units] if of_company is None else of_company
