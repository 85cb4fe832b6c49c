"""When the price is paid: parts that sum to it, to the cent."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from estimates.domain.money import cents
from estimates.domain.quotes.content import QuoteStage
from jobs.domain.checks import ZERO, require_choice, require_number

StagePlan = Literal["deposit_rest", "deposit_progress_rest"]

ON_ACCEPTANCE = "when you accept"
AT_THE_START = "when work starts"
AT_THE_END = "when you have looked it over"
HELD = "held back until all is found in order"


def payment_stages(
    *,
    total: Decimal,
    deposit: Decimal,
    plan: StagePlan = "deposit_rest",
    progress_percent: Decimal = ZERO,
    retainage: Decimal = ZERO,
) -> tuple[QuoteStage, ...]:
    """Return deposit, progress, final payment and what is held back; parts of nothing left out.

    `retainage` is a part of one, `progress_percent` of the total. Where deposit and retainage leave
    less than the progress, the progress is what they leave; the final payment takes the rest.
    """
    require_choice("payment stages", plan, ("deposit_rest", "deposit_progress_rest"))
    require_number("deposit", deposit, least=0, most=total)
    require_number("progress, percent of the total", progress_percent, least=0, most=100)
    require_number("retainage", retainage, least=0, below=1)
    held = min(cents(total * retainage), total - deposit)
    left = total - deposit - held
    progress = ZERO
    if plan == "deposit_progress_rest":
        progress = min(cents(total * progress_percent / 100), left)
    parts = (
        ("Deposit", ON_ACCEPTANCE, cents(deposit)),
        ("Progress payment", AT_THE_START, progress),
        ("Final payment", AT_THE_END, cents(left - progress)),
        ("Retainage", HELD, held),
    )
    return tuple(
        QuoteStage(name=name, when=when, amount=amount) for name, when, amount in parts if amount
    )
