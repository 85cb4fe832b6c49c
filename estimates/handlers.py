"""Long work that the worker does for the estimates app."""

from __future__ import annotations

from estimates.services import price_import
from jobs.worker.claims import Effect
from jobs.worker.errands import Attempt, handler


@handler(price_import.KIND)
def import_prices(attempt: Attempt) -> Effect:
    """Read a file of prices and hold it against the book; it is written together with "done"."""
    return price_import.effect_of(attempt.errand, attempt.payload, progress=attempt.progress)
