"""What a company is told before it sends a quote: what the law says beside what it prints."""

from __future__ import annotations

from datetime import date

from estimates.domain.law.cancel import starts_before
from estimates.domain.law.deposit import Deposit
from estimates.domain.law.lead import lead_advice
from estimates.domain.quotes.content import CancelRight, LeadReceipt

NO_ADDRESS = (
    "The notice of the right to cancel bears the seller's name and address of business (16 CFR "
    "429.1); the set-up has no address."
)


def advice_before_sending(
    *,
    deposit: Deposit,
    cancel: CancelRight | None,
    lead: LeadReceipt | None,
    first_day: date | None = None,
) -> tuple[str, ...]:
    """Return what to look at, sentence by sentence; none of it keeps a quote from being sent.

    `first_day` is the day on which work begins, where one is known.
    """
    said = [deposit.advice, lead_advice(lead)]
    if cancel and not cancel.address:
        said.append(NO_ADDRESS)
    if cancel and first_day:
        said.append(starts_before(cancel.cancel_by, first_day))
    return tuple(sentence for sentence in said if sentence)
