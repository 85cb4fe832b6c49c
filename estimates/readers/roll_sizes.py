"""What a roll of pad or barrier covers by the price book, for the takeoff."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from estimates.domain.book.groups import GROUPS
from estimates.readers.price_rows import rows_that_count
from jobs.models import Company
from jobs.readers.floors import rolls

ROLLED = (*GROUPS["Pads"], *GROUPS["Barriers"])


def register() -> None:
    """Let the takeoff count in the rolls of the price book."""
    rolls.register(roll_sizes)


def roll_sizes(company: Company, today: date) -> Mapping[str, Decimal]:
    """Return what a roll covers in square feet, by its code, where the price in force says so.

    Where a material has several rows, that of no one item counts.
    """
    rows = rows_that_count(company, today).filter(
        code__in=ROLLED, covers__isnull=False, effective_from__lte=today
    )
    by_code = {row.code: row.covers for row in rows.order_by("code", "-item")}
    return {code: covers for code, covers in by_code.items() if covers is not None}
