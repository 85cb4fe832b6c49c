"""The receipt before old paint is disturbed: 40 CFR 745.83, 745.84 and 745.89."""

from decimal import Decimal

import pytest

from estimates.domain.law.lead import PAMPHLET, lead_advice, lead_receipt
from estimates.domain.quotes.content import LeadReceipt
from jobs.domain.site.facts import VisitFacts


def receipt(year: int | None, area: str, certificate: str = "NAT-0000-1") -> LeadReceipt | None:
    """Return the receipt of a house of this year, with so much paint disturbed in a room."""
    facts = VisitFacts(year_built=year, painted_ft2_per_room=Decimal(area))
    return lead_receipt(facts, firm="Example Floors", certificate=certificate)


@pytest.mark.parametrize(
    ("year", "area", "expected"),
    [
        # 40 CFR 745.83: built before 1978; minor work is 6 ft2 or less in a room.
        (1977, "6.01", True),
        (1977, "6.00", False),
        (1977, "0", False),
        (1978, "20", False),
        (None, "20", True),
    ],
)
def test_a_receipt_is_for_old_houses_and_more_than_minor_work(
    year: int | None, area: str, expected: bool
) -> None:
    assert (receipt(year, area) is not None) == expected


def test_a_receipt_names_firm_certificate_pamphlet_and_rule() -> None:
    made = receipt(1950, "20")
    assert made is not None
    assert (made.firm, made.certificate) == ("Example Floors", "NAT-0000-1")
    assert made.pamphlet == PAMPHLET
    assert "before the work began" in made.text
    assert made.source == "40 CFR 745.84 and 745.89"


def test_a_pamphlet_that_the_company_names_is_named() -> None:
    facts = VisitFacts(year_built=1950, painted_ft2_per_room=Decimal(20))
    made = lead_receipt(facts, firm="Example Floors", certificate="", pamphlet="The state's own")
    assert made is not None
    assert made.pamphlet == "The state's own"


def test_the_company_is_advised_to_hand_over_the_pamphlet_and_to_be_certified() -> None:
    assert lead_advice(receipt(1950, "20")).endswith("(40 CFR 745.84, 745.86).")
    assert "only a certified firm" in lead_advice(receipt(1950, "20", certificate=""))
    assert lead_advice(receipt(1990, "20", certificate="")) == ""
