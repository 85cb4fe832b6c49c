"""What a payer's terms make of a price: what is held back of it, and how it is said."""

from decimal import Decimal

from estimates.domain.money import cents
from estimates.domain.terms.payer import PayerTerms
from jobs.domain.figures import money, percent


def held_back(payer: PayerTerms, total: Decimal) -> Decimal:
    """Return what the payer holds back of a price as retainage, in cents."""
    return cents(total * payer.retainage)


def payment_words(payer: PayerTerms, total: Decimal, currency: str) -> str:
    """Return order number and terms of payment as sentences, for a price that comes to this."""
    said = [f"Order number {payer.order_number}."] if payer.order_number else []
    if payer.payment_days is not None:
        days = "1 day" if payer.payment_days == 1 else f"{payer.payment_days} days"
        said.append(f"To be paid within {days}.")
    if payer.retainage:
        held = held_back(payer, total)
        part = f"{percent(payer.retainage, 2)} retainage, {money(held, currency)}"
        said.append(f"{part}, is held back; {money(total - held, currency)} is paid first.")
    said += [payer.terms] if payer.terms else []
    return " ".join(said)
