"""What a job takes that its rate card has no rate for."""

from estimates.domain.card.rows import CardRow, row_for
from estimates.domain.price_book import USUAL_COVERS, PriceBook, PricingTerms
from jobs.domain.scope.scope import FrozenScope


def rate_needs(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> tuple[CardRow, ...]:
    """Return the rows of the card that this scope wants a rate in, each once, in its order.

    A quantity wants one where it has work of ours, and no rate that says so pays for that work.
    """
    ours = {task.code for task in scope.tasks if task.hours and task.code not in terms.not_ours}
    ours -= _said_to_be_paid(scope, book, terms)
    needs = {}
    for entry in scope.quantities:
        if not entry.amount or entry.code not in USUAL_COVERS:
            continue
        if book.find("adder", entry.code, entry.item, terms.as_of) is None:
            work = ours.intersection(USUAL_COVERS[entry.code].tasks)
            if work:
                row = row_for(entry.code, entry.item)
                needs[row.key] = row
    return tuple(needs.values())


def _said_to_be_paid(scope: FrozenScope, book: PriceBook, terms: PricingTerms) -> set[str]:
    """The tasks that rates of this scope name themselves, beside what is usual."""
    paid: set[str] = set()
    for entry in scope.quantities:
        price = book.find("adder", entry.code, entry.item, terms.as_of)
        if price is not None and entry.amount and price.covers_tasks is not None:
            paid.update(price.covers_tasks)
    return paid
