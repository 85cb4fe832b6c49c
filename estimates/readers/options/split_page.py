"""The work split of a job as its page shows it: every share priced, and what is ticked together."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from estimates.domain.options.work_split import (
    Share,
    SplitPrice,
    split_price,
    unsplit,
    work_shares,
)
from estimates.domain.priced import unpriced
from estimates.domain.pricing import price_scope
from estimates.readers.prices import book_and_terms
from jobs.domain.scope.split import leaving
from jobs.models import Job
from jobs.readers.site import left_to_homeowner, open_questions
from jobs.services.scope import work_out


@dataclass(frozen=True, kw_only=True, slots=True)
class SplitShown:
    """What could be taken on, what is ticked together, and what stands in the way.

    `open_now` are the codes of open asbestos and lead questions; `barred` says what is ticked and
    may not be; `faults` what has no price, and is left out of every sum.
    """

    shares: tuple[Share, ...]
    together: SplitPrice
    open_now: tuple[str, ...]
    barred: tuple[str, ...]
    faults: tuple[str, ...]


def work_split_of(job: Job, today: date) -> SplitShown:
    """Return what the homeowner of a job could take on, priced, and what is ticked together.

    Raises BadValueError where there is no planned floor, or a rate is missing.
    """
    scope = work_out(job)
    book, terms = book_and_terms(job, today)
    whole, questions = unsplit(terms), open_questions(job)
    return SplitShown(
        shares=work_shares(scope, book, whole, questions=questions),
        together=split_price(scope, book, whole, left_to_homeowner(job)),
        open_now=tuple(dict.fromkeys(each for holds in questions.values() for each in holds)),
        barred=terms.barred,
        faults=unpriced(price_scope(leaving(scope, ()), book, whole)),
    )
