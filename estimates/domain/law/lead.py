"""What is signed before old paint is disturbed in a house built before 1978.

Sources: 40 CFR 745.83 (which houses and how much paint), 745.84 (the pamphlet and the receipt for
it), 745.89 (the firm's certificate). States with a program of their own may ask for more.
"""

from __future__ import annotations

from estimates.domain.quotes.content import LeadReceipt
from jobs.domain.site.facts import MINOR_PAINT_FT2, VisitFacts, lead_rule_applies, most_painted

SOURCE = "40 CFR 745.84 and 745.89"
PAMPHLET = (
    "Renovate Right: Important Lead Hazard Information for Families, Child Care Providers and "
    "Schools (EPA-740-K-10-001)"
)
"""The pamphlet of the rule; its number from memory. A company may name another edition."""

RECEIPT = (
    "I have received a copy of the lead hazard information pamphlet, which tells me of the "
    "possible risk of lead hazard exposure from the work to be done in my home. I received it "
    "before the work began."
)
"""Our sentence for what 40 CFR 745.84(d) wants written: name, receipt, address, signature, date."""

NO_CERTIFICATE = (
    "The set-up has no certificate number of the firm: only a certified firm may disturb old paint "
    "(40 CFR 745.89), unless a test shows that there is no lead."
)


def lead_receipt(
    facts: VisitFacts, *, firm: str, certificate: str, pamphlet: str = ""
) -> LeadReceipt | None:
    """Return the receipt, where the house asks for one: old, and more than minor work on paint.

    A house of unknown year is taken for an old one; up to 6 ft2 of paint in a room is minor work.
    """
    if not lead_rule_applies(facts) or most_painted(facts)[0] <= MINOR_PAINT_FT2:
        return None
    return LeadReceipt(
        firm=firm,
        certificate=certificate,
        pamphlet=pamphlet or PAMPHLET,
        text=RECEIPT,
        source=SOURCE,
    )


def lead_advice(receipt: LeadReceipt | None) -> str:
    """Return what the company is to do beside the receipt; nothing where there is none."""
    if receipt is None:
        return ""
    # 40 CFR 745.84(a) and 745.86(a), from memory.
    hand_over = (
        "Hand over the pamphlet before the work, at most 60 days before it, and keep the signed "
        "receipt for three years (40 CFR 745.84, 745.86)."
    )
    return hand_over if receipt.certificate else f"{hand_over} {NO_CERTIFICATE}"
