"""Who pays for a job and on what terms, as values that a price keeps."""

from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO, require_number, require_text
from jobs.domain.documents import stored


@stored("name order_number terms payment_days retainage unit_prices")
@dataclass(frozen=True, kw_only=True, slots=True)
class PayerTerms:
    """A payer who isn't the client: name, order number, terms, and whose unit prices count.

    `retainage` is the part of the price that is held back; `unit_prices`: the payer's count.
    """

    name: str
    order_number: str = ""
    terms: str = ""
    payment_days: int | None = None
    retainage: Decimal = ZERO
    unit_prices: bool = False

    def __post_init__(self) -> None:
        """Refuse a payer without a name, and retainage that is no part of a price."""
        require_text("payer.name", self.name)
        require_number("payer.retainage", self.retainage, least=0, below=1)
