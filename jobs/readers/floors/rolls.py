"""What a roll of pad or barrier covers, as the company buys it.

What is bought is known where the prices are, and is registered from there, so that imports keep
pointing down.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal

from jobs.clock import today_of
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.scope.underlay import rolls_counted
from jobs.models import Company, Job

Sizes = Callable[[Company, date], Mapping[str, Decimal]]
"""What says how many square feet a roll covers that a company buys on a day, by its code."""

_SIZES: list[Sizes] = []


def register(sizes: Sizes) -> None:
    """Let this say what rolls cover."""
    _SIZES.append(sizes)


def rolls_bought(job: Job, agreed: FrozenScope | None) -> Mapping[str, Decimal]:
    """Return the square feet that a roll covers, by its code, for those that anybody named.

    What is in the agreed scope goes on in the rolls that it was counted in: another roll bought
    later is no change of the work.
    """
    today = today_of(job.company)
    covers = {code: area for sizes in _SIZES for code, area in sizes(job.company, today).items()}
    if agreed is not None:
        counted = rolls_counted(agreed.quantities)
        covers = {code: area for code, area in covers.items() if code not in counted}
        covers |= {code: area for code, area in counted.items() if area is not None}
    return covers
