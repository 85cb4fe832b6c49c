"""The prices that a draft still lacks, of the job as it is priced and of every choice."""

from __future__ import annotations

from estimates.readers.draft.preview import WorkedDraft
from estimates.readers.price_needs import NeededPrice, needed_prices


def missing_prices(worked: WorkedDraft) -> tuple[NeededPrice, ...]:
    """Return what the choices of a draft take that has no price on their day, each thing once."""
    things = dict.fromkeys((need.code, need.item) for need in worked.needs)
    needed = needed_prices(worked.draft.job.company, list(things), worked.today)
    return tuple(each for each in needed if each.row is None)
